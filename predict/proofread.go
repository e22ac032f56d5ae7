package predict

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"slipcase/weather/units"
)

// Question is a figure of a slip that looks mistyped.
type Question struct {
	Figure   SlipFigure // as typed
	Likely   float64    // what the forecast and the rest of the slip make it
	Alone    bool       // there is no rest: the slip has no other figure
	Readings []Reading  // what may have been meant, the likeliest first; may be empty
	Lift     bool       // the figure in question would fit a lift or the brakes too
}

// SlipFigure is a time, s, or a speed, mph, of a slip.
type SlipFigure struct {
	Mark  Mark
	Speed bool
	Value float64
}

// Reading is a slip as it may have been meant.
type Reading struct {
	Splits    Splits
	Figure    SlipFigure   // as meant
	With      SlipFigure   // the one it was exchanged with, zero where it was mistyped
	OtherUnit bool         // it is a speed that was taken in the wrong unit,
	In        units.System // and meant in this one
}

const (
	chanceTypo    = 0.03  // of a slip with one figure mistyped
	chanceOther   = 0.002 // of one that is wrong in a way not thought of
	doubtAt       = 0.15  // chance of a mistyped slip from which on it is questioned
	wonderAt      = 0.02  // the same for one that is recorded, and remarked on
	mostRead      = 3
	triedReadings = 30 // readings: where none of the likeliest mends a slip, hundreds are as likely
)

// Proofread holds a slip against its forecast and its figures against each other: is it
// likelier that one of them was mistyped than that the car ran so? ask is false when it
// looks right, or when there is nothing to tell by.
func (f *Forecast) Proofread(run Pass) (q Question, ask bool, err error) {
	return f.readAgain(run, doubtAt)
}

// Wonder is Proofread of a recorded slip, on which a remark costs less than a question
// between rounds: it finds less likely errors too, where it knows what was meant.
func (f *Forecast) Wonder(run Pass) (q Question, some bool) {
	q, some, err := f.readAgain(run, wonderAt)
	return q, some && err == nil && len(q.Readings) > 0
}

func (f *Forecast) readAgain(run Pass, at float64) (q Question, ask bool, err error) {
	y, has := run.Splits.typedLogs()
	run.letOff(&has)
	n := 0
	for _, h := range has {
		if h {
			n++
		}
	}
	if n == 0 {
		return Question{}, false, nil
	}
	if !f.proof.of(&run) {
		f.proof = &proof{slips: f.trueSlips(), run: run, y: y, has: has, fields: n}
		if !f.proof.start() {
			f.proof = nil
			return Question{}, false, errors.New("the forecast's law cannot be weighed")
		}
		f.proof.weigh(func() bool { return false })
		f.proof.rank()
	}
	p := *f.proof
	if p.at = at; !p.doubtful() {
		return Question{}, false, nil
	}
	return p.ask(&f.law), true, nil
}

// of reports that it is the proof of a run: weighed before it was recorded, it serves after.
func (p *proof) of(run *Pass) bool {
	return p != nil && p.run.Splits == run.Splits && p.run.Effort == run.Effort && p.run.FullFt == run.FullFt
}

// letOff takes the speeds behind a lift or the brakes that the racer noted off what is
// questioned: they may be any.
func (p *Pass) letOff(has *[channels]bool) {
	if p.Effort != Lifted && p.Effort != Braked && !p.FullFt.Known() {
		return
	}
	finish, _ := p.Splits.Finish()
	from := p.FullFt.Or(finish.Ft() - 1)
	for c, of := range channelOf {
		if of.speed && of.mark.Ft() > from {
			has[c] = false
		}
	}
}

// typedLogs are the logs of all figures that have one, also of those that no run can
// have: they are what is looked for.
func (s Splits) typedLogs() (y vec, has [channels]bool) {
	for c, of := range channelOf {
		n := s.ETs[of.mark]
		if of.speed {
			n = s.MPHs[of.mark]
		}
		if v := n.Value(); n.Known() && v > 0 && !math.IsInf(v, 1) {
			y[c], has[c] = math.Log(v), true
		}
	}
	return y, has
}

type proof struct {
	slips  *trueSlips
	a      *trueSlip
	run    Pass
	y      vec
	has    [channels]bool
	fields int
	at     float64 // chance of a mistyped slip from which on it is doubtful

	as         float64 // log weight of the slip as typed
	best       float64 // the highest log weight so far
	odds       float64 // of all that may be wrong, to the slip as typed
	candidates []*misreading
	other      [channels]float64 // log weight of a channel that is simply wrong
}

type misreading struct {
	splits Splits
	log    float64
	c      int          // the channel that was wrong, the first of two
	meant  SlipFigure   // of that channel
	with   SlipFigure   // of the second
	unit   bool         // a speed taken in the wrong unit
	in     units.System // and meant in this one
}

// start weighs the slip as typed, if there is a law to weigh it by.
func (p *proof) start() (ok bool) {
	if p.a, ok = p.slips.of(figuresOf{p.has, p.run.Effort}); ok {
		p.as = math.Log(1-chanceTypo-chanceOther) + p.a.logDensity(p.y)
		p.best = p.as
	}
	return ok
}

// weigh weighs all that may be wrong with the slip, or as much of it as is enough.
func (p *proof) weigh(enough func() bool) {
	for c := range channels {
		if p.has[c] {
			p.other[c] = p.without(c)
			p.count(p.other[c])
		}
	}
	p.exchanged()
	for c := range channels {
		if p.has[c] && !enough() {
			p.misread(c)
		}
	}
}

// count takes in the weight of something that may be wrong.
func (p *proof) count(log float64) {
	p.best = max(p.best, log)
	p.odds += math.Exp(log - p.as)
}

// rank puts the likeliest first.
func (p *proof) rank() {
	slices.SortFunc(p.candidates, func(a, b *misreading) int {
		return cmp.Or(cmp.Compare(b.log, a.log), cmp.Compare(a.c, b.c), cmp.Compare(a.meant.Value, b.meant.Value))
	})
}

// misread weighs what may have been meant by one figure.
func (p *proof) misread(c int) {
	of, along := channelOf[c], p.a.along(p.y, c)
	meant := func(v, chance float64, m misreading) {
		m.splits, m.c, m.meant = p.run.Splits, c, SlipFigure{of.mark, of.speed, v}
		if of.speed {
			m.splits.MPHs[of.mark] = units.Some(v)
		} else {
			m.splits.ETs[of.mark] = units.Some(v)
		}
		p.consider(m, along, math.Log(v)-p.y[c], chance/float64(p.fields))
	}
	typed, decimals := p.run.Splits.ETs[of.mark].Value(), 3
	if of.speed {
		typed, decimals = p.run.Splits.MPHs[of.mark].Value(), 2
		kmh := units.Speed.In(units.Metric, 1)
		meant(typed*kmh, otherUnit, misreading{unit: true, in: units.US})
		meant(typed/kmh, otherUnit, misreading{unit: true, in: units.Metric})
	}
	for v, chance := range undo(typed, decimals) {
		meant(v, chance, misreading{})
	}
}

// exchanged weighs two times, or two speeds, in each other's place.
func (p *proof) exchanged() {
	for c := range channels {
		for o := c + 1; o < channels; o++ {
			a, b := channelOf[c], channelOf[o]
			if !p.has[c] || !p.has[o] || a.speed != b.speed {
				continue
			}
			y, s := p.y, p.run.Splits
			y[c], y[o] = y[o], y[c]
			list := &s.ETs
			if a.speed {
				list = &s.MPHs
			}
			list[a.mark], list[b.mark] = list[b.mark], list[a.mark]
			meant := misreading{
				splits: s, c: c,
				meant: SlipFigure{a.mark, a.speed, list[a.mark].Value()},
				with:  SlipFigure{b.mark, b.speed, list[b.mark].Value()},
			}
			p.consider(meant, p.a.along(y, c), 0, misplaced/float64(p.fields))
		}
	}
}

// consider weighs a slip along one of whose figures another is meant, by the difference of
// their logs; what adds nothing to the others is left out.
func (p *proof) consider(m misreading, along *alongOne, by, chance float64) {
	prior := math.Log(chanceTypo * chance)
	if m.log = prior + along.logDensity(by, p.best-nothing-prior); math.IsInf(m.log, -1) {
		return
	}
	p.count(m.log)
	p.candidates = append(p.candidates, &m)
}

// without is the weight of a slip of which one figure says nothing: any value
// within a factor of e either way.
func (p *proof) without(c int) float64 {
	if p.fields == 1 {
		return math.Inf(-1)
	}
	rest := p.a.figuresOf
	rest.has[c] = false
	a, ok := p.slips.of(rest)
	if !ok {
		return math.Inf(-1)
	}
	return math.Log(chanceOther/float64(p.fields)/2) - p.y[c] + a.logDensity(p.y)
}

// doubtful weighs the slip as typed against all that may be wrong with it.
func (p *proof) doubtful() bool { return p.odds > p.at/(1-p.at) }

func (p *proof) ask(l *runLaw) Question {
	c := p.suspect()
	q := Question{Figure: p.typedFigure(c), Likely: p.likely(l, c), Alone: p.fields == 1}
	// A reading is offered only where it makes the slip plausible.
	for _, k := range p.candidates[:min(len(p.candidates), triedReadings)] {
		if likeliest := p.candidates[0].log; len(q.Readings) == mostRead || k.log < likeliest-5 || likeliest < p.other[c]-3 {
			break
		}
		if p.mends(k) {
			q.Readings = append(q.Readings, Reading{k.splits, k.meant, k.with, k.unit, k.in})
		}
	}
	finish, _ := p.run.Splits.Finish()
	q.Lift = channelOf[c].mark == finish && (channelOf[c].speed || p.y[c] > l.mean[c])
	return q
}

// mends reports that a slip read so looks right: its times grow, and it would not be asked
// about again.
func (p *proof) mends(k *misreading) bool {
	before := 0.
	for _, et := range k.splits.ETs {
		if et.Known() && et.Value() <= before {
			return false
		}
		before = et.Or(before)
	}
	y, has := k.splits.typedLogs()
	p.run.letOff(&has)
	again := proof{slips: p.slips, run: p.run, y: y, has: has, fields: p.fields, at: p.at}
	again.run.Splits = k.splits
	if !again.start() {
		return false
	}
	again.weigh(again.doubtful)
	return !again.doubtful()
}

// suspect is the figure that is likeliest wrong.
func (p *proof) suspect() int {
	best, c := math.Inf(-1), 0
	if len(p.candidates) > 0 {
		best, c = p.candidates[0].log, p.candidates[0].c
	}
	for k, h := range p.has {
		if h && p.other[k] > best+3 {
			best, c = p.other[k], k
		}
	}
	return c
}

func (p *proof) typedFigure(c int) SlipFigure {
	return SlipFigure{channelOf[c].mark, channelOf[c].speed, math.Exp(p.y[c])}
}

// likely is what the forecast and the rest of the slip make of a figure.
func (p *proof) likely(l *runLaw, c int) float64 {
	mean, cov := l.mean, l.cov
	for k := range channels {
		if p.has[k] && k != c {
			cov[k][k] += printSD * printSD
			condition(&mean, &cov, k, p.y[k])
		}
	}
	return math.Exp(mean[c])
}
