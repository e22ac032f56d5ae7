package predict

import (
	"errors"
	"math"
)

// Judgement holds one run against the forecast that could be made before it.
type Judgement struct {
	Forecast   Forecast
	Mark       Mark    // where it is judged: the last time made at full power
	Actual     float64 // s
	Difference float64 // s, actual less forecast: below 0 is quicker
	// Percentile is how many of a hundred such runs would be as quick or quicker.
	Percentile float64
	Pieces     []Piece // where it came from; they sum to Difference
}

// Piece is a part of the track and what of the difference arose there.
type Piece struct {
	Parts   []Part  // what of the track it is; more than one where the slip does not tell them apart
	From    float64 // ft
	To      float64
	Seconds float64
	Usual   float64 // standard deviation of this piece from run to run, s
	Word    string  // Quick or Slow where it is more than luck, else NotTold
	// MoreRuns is how many more runs with the same loss or gain would make it more
	// than luck: 0 when this one does, -1 when over 99.
	MoreRuns int
}

// Part is a part of the track.
type Part string

// The parts: to 60 ft, to 660 ft, and beyond.
const (
	PartLaunch Part = "launch"
	PartMiddle Part = "middle"
	PartTopEnd Part = "top end"
)

// What a piece was, beyond luck.
const (
	Quick = "quick"
	Slow  = "slow"
)

var errNothingToJudge = errors.New("no time made at full power on this slip: nothing to judge")

// Judge says how the run that was forecast differs, how unusual that is, and where on
// the track it came from: each piece is what its times change in the expectation of the
// last one, given the pieces before.
func (f *Forecast) Judge(run Pass) (Judgement, error) {
	y, has := run.soundLogs()
	last := -1
	for m := range Marks {
		if has[timeAt[m]] {
			last = timeAt[m]
		}
	}
	if last < 0 {
		return Judgement{}, errNothingToJudge
	}
	m := channelOf[last].mark
	j := Judgement{Forecast: *f, Mark: m, Actual: run.Splits.ETs[m].Value()}
	j.Difference = j.Actual - f.ETs[m].Centre
	j.Percentile = 100 * f.law.marginal(last).CDF(y[last])
	j.Pieces = f.law.pieces(y, has, last)
	return j, nil
}

// soundLogs are the logs of the splits within the racer's note of full power. Of
// a run lifted nobody wrote where, the last time is not one.
func (p *Pass) soundLogs() (vec, [channels]bool) { return p.soundSplits().logs() }

// soundSplits are the splits within the racer's note of full power.
func (p *Pass) soundSplits() Splits {
	s := p.Splits
	finish, _ := s.Finish()
	switch noted := p.Effort != "" && p.Effort != FullPower; {
	case p.FullFt.Known():
		s = s.upTo(p.FullFt.Value())
	case p.Effort == Lifted || p.Effort == Braked:
		s = s.upTo(finish.Ft() - 1)
	case noted:
		return Splits{}
	}
	return s
}

// ends are where the pieces end, if the slip has a time there.
var ends = []struct {
	part Part
	mark Mark
}{{PartLaunch, At60}, {PartMiddle, At660}, {PartTopEnd, Marks}}

// pieces takes in the slip channel by channel and notes at each end how much the
// expected last time has moved.
func (l *runLaw) pieces(y vec, has [channels]bool, last int) []Piece {
	var list []Piece
	mean, cov := l.mean, l.cov
	was, before, from, parts := math.Exp(mean[last]), cov[last][last], 0., []Part(nil)
	next := 0
	for c := 0; c <= last; c++ {
		if has[c] {
			condition(&mean, &cov, c, y[c])
		}
		mark := channelOf[c].mark
		for next < len(ends)-1 && mark > ends[next].mark {
			next++
		}
		done := c == last
		if !done && (c != timeAt[mark] || mark != ends[next].mark) {
			continue
		}
		parts = append(parts, ends[next].part)
		if !has[c] {
			continue // not told apart from the next piece
		}
		now, after := math.Exp(mean[last]), cov[last][last]
		if done {
			now, after = math.Exp(y[last]), 0
		}
		p := Piece{
			Parts:   parts,
			From:    from,
			To:      mark.Ft(),
			Seconds: now - was,
			Usual:   was * math.Sqrt(math.Max(before-after, 0)),
		}
		p.weigh()
		list = append(list, p)
		was, before, from, parts = now, after, mark.Ft(), nil
	}
	return list
}

// condition updates a Gaussian by the value of one channel; for a t the mean
// moves alike.
func condition(mean *vec, cov *square, c int, y float64) {
	if cov[c][c] < 1e-14 {
		return
	}
	var gain vec
	for i := range gain {
		gain[i] = cov[i][c] / cov[c][c]
	}
	d, row := y-mean[c], cov[c]
	for i := range gain {
		mean[i] += gain[i] * d
		for k := range gain {
			cov[i][k] -= gain[i] * row[k]
		}
	}
}

// unlucky is how many standard deviations are more than luck: one run in ten is
// outside by chance.
const unlucky = 1.645

// weigh says whether the piece is more than luck.
func (p *Piece) weigh() {
	p.Word = NotTold
	size := math.Abs(p.Seconds)
	switch n := math.Ceil(math.Pow(unlucky*p.Usual/math.Max(size, 1e-9), 2)); {
	case size > unlucky*p.Usual:
		p.Word = Quick
		if p.Seconds > 0 {
			p.Word = Slow
		}
	case n > 100:
		p.MoreRuns = -1
	default:
		p.MoreRuns = int(n) - 1
	}
}
