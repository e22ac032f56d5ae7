package predict

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Comparison is what the runs say of two setups of one vehicle, in the same air.
type Comparison struct {
	A, B       SetupRuns
	Mark       Mark // the distance compared at
	Difference Band // s, B less A: below 0 B is quicker
	// Quicker is the probability that B is quicker at all, by which all else is said;
	// QuickerBy that it is by the stated amount.
	Quicker, QuickerBy, By float64
	Verdict                string // Quicker or Slower where it tells, else NotTold: noise explains it
	Leans                  string // the same where it leans
	// What would tell: MoreDays of taking turns, two runs each, or MoreDaysWithB of two
	// runs each where the change is not taken off again. 0 when it is told, -1 when over 20.
	MoreDays, MoreDaysWithB int
	TookTurns               bool // a day has runs of both
	Notes                   []Note
}

// How probable it must be that one of two setups is the quicker, for that to be told and
// for it to be likely: as the 95 and the 80 % interval of the difference leave 0 out.
const tells, leans = 0.975, 0.9

// quickerWord is the word for the second setup, quicker with that probability.
func quickerWord(quicker, enough float64) string {
	switch {
	case quicker > enough:
		return Quicker
	case 1-quicker > enough:
		return Slower
	}
	return NotTold
}

// How two setups differ.
const (
	Quicker = "quicker"
	Slower  = "slower"
	NotTold = "~" // noise explains it
)

// SetupRuns is what there is of a setup.
type SetupRuns struct {
	Setup      string
	Runs, Days int
}

// Compare sets setup b against setup a by their runs alone: stated powers are not
// looked at, so that a change is not proved by its own claim. by is the amount, in
// s, that the racer wants to know of; 0 when there is none.
func Compare(history []Pass, a, b string, by float64) (Comparison, error) {
	c := Comparison{A: SetupRuns{Setup: a}, B: SetupRuns{Setup: b}, By: by}
	if a == b {
		return c, fmt.Errorf("setup %q against itself: want two setups", a)
	}
	t, err := openFit(history, a)
	if err != nil {
		return c, err
	}
	ea, eb := c.count(t)
	if ea < 0 || eb < 0 {
		missing := a
		if ea >= 0 {
			missing = b
		}
		return c, fmt.Errorf("setup %q has no full-power run: nothing to compare", missing)
	}
	c.Mark = t.finish
	mean, sd, df, err := t.contrast(ea, eb)
	if err != nil {
		return c, err
	}
	c.TookTurns = t.shareDay(a, b)
	c.conclude(t, mean, sd, df, ea)
	c.Notes = t.confounded(a, b)
	return c, nil
}

// openFit fits all setups with the same stated power and a wide doubt about what
// a change does.
func openFit(history []Pass, a string) (*fit, error) {
	var next Pass
	passes := make([]Pass, len(history))
	for i, p := range history {
		p.Machine.PowerHP = history[0].Machine.PowerHP
		p.Machine.PowerAt, p.Machine.Standard = history[0].Machine.PowerAt, history[0].Machine.Standard
		passes[i] = p
		if p.Machine.Setup == a {
			next = Pass{Machine: p.Machine, Air: p.Air, AirKnown: p.AirKnown}
		}
	}
	f, err := gather(passes, next, mostRuns)
	if err != nil {
		return nil, err
	}
	for _, e := range f.eras {
		if !e.change.sameSetup {
			e.change.open, e.change.shift = true, vec{}
		}
	}
	t, err := newFit(f)
	if err != nil {
		return nil, err
	}
	return t, t.average()
}

// count finds the era of each setup with the most runs, -1 where there is none.
func (c *Comparison) count(t *fit) (ea, eb int) {
	best := [2]int{-1, -1}
	most := [2]int{}
	for e, of := range t.eras {
		n := 0
		for i := range t.samples {
			if _, sound := t.samples[i].soundFt(); sound && t.samples[i].era == e {
				n++
			}
		}
		for k, s := range []*SetupRuns{&c.A, &c.B} {
			if of.machine.Setup == s.Setup {
				s.Runs += n
				if n > most[k] {
					best[k], most[k] = e, n
				}
			}
		}
	}
	for _, s := range []*SetupRuns{&c.A, &c.B} {
		s.Days = len(t.daysOf(s.Setup))
	}
	return best[0], best[1]
}

// daysOf are the days with sound runs of a setup, and the range of their air.
func (t *fit) daysOf(setup string) map[int]bool {
	days := map[int]bool{}
	for i := range t.samples {
		s := &t.samples[i]
		if _, sound := s.soundFt(); sound && t.eras[s.era].machine.Setup == setup {
			days[s.day] = true
		}
	}
	return days
}

// contrast is the law of the log of the time at the finish, era b less era a.
func (t *fit) contrast(ea, eb int) (mean, sd, df float64, err error) {
	c := timeAt[t.finish]
	second := 0.
	for i, p := range t.posteriors {
		load := mat.NewVecDense(len(p.mean), nil)
		load.SetVec(biasAt(eb)+c, 1)
		load.SetVec(biasAt(ea)+c, -1)
		solved := mat.VecDenseCopyOf(load)
		p.factor.solveVec(solved.RawVector().Data)
		m := p.mean[biasAt(eb)+c] - p.mean[biasAt(ea)+c]
		mean += t.chance[i] * m
		second += t.chance[i] * (mat.Dot(load, solved) + m*m)
	}
	sd = math.Sqrt(math.Max(second-mean*mean, 0))
	a, err := t.eras[ea].car.run(t.usual, 0)
	if err != nil {
		return 0, 0, 0, err
	}
	b, err := t.eras[eb].car.run(t.usual, 0)
	return mean + b[c] - a[c], sd, math.Max(t.noiseDF, noiseRuns), err
}

func (c *Comparison) conclude(t *fit, mean, sd, df float64, ea int) {
	base, err := t.eras[ea].car.run(t.usual, 0)
	if err != nil {
		return // it has run before
	}
	et := math.Exp(base[timeAt[t.finish]] + t.posteriors[0].mean[biasAt(ea)+timeAt[t.finish]])
	law := distuv.StudentsT{Mu: mean, Sigma: sd * math.Sqrt((df-2)/df), Nu: df}
	at := func(p float64) float64 { return et * (math.Exp(law.Quantile(p)) - 1) }
	c.Difference = Band{at(0.5), at(0.25), at(0.75), at(0.1), at(0.9), at(0.025), at(0.975)}
	c.Quicker = law.CDF(0)
	c.QuickerBy = law.CDF(math.Log(1 - c.By/et))
	c.Verdict, c.Leans = quickerWord(c.Quicker, tells), quickerWord(c.Quicker, leans)
	if c.Verdict != NotTold {
		return
	}
	size, noise := math.Max(c.By/et, math.Abs(mean)), math.Sqrt(t.noise[ea][timeAt[t.finish]][timeAt[t.finish]])
	c.MoreDays = daysToTell(size, sd, noise)
	c.MoreDaysWithB = c.daysWithB(size, sd, noise, t.dayLuck(), t.daysApart())
}

// dayLuck is the variance of a day's luck, in the log of the time at the finish.
func (t *fit) dayLuck() (v float64) {
	for i, p := range t.posteriors {
		v += t.chance[i] * (p.luck.launch + p.luck.engine)
	}
	return v
}

// mostDays is as far ahead as days are counted.
const mostDays = 20

// wholeDays rounds up, 1 at least; -1 for more than can be waited for.
func wholeDays(n float64) int {
	switch n = math.Ceil(n); {
	case n > mostDays || math.IsNaN(n):
		return -1
	case n < 1:
		return 1
	}
	return int(n)
}

// daysWithB is how many more days of two runs each, all with the second setup and as far
// apart as the days were, would bring 1.96 standard deviations of the difference under size.
// Each is worth its luck and its runs; what is not known of the first setup stays, and what
// the vehicle may come to meanwhile is added.
func (c *Comparison) daysWithB(size, sd, noise, luck, apart float64) int {
	day := luck + noise*noise/2
	ofB := math.Min(luck/float64(c.B.Days)+noise*noise/float64(c.B.Runs), sd*sd)
	for more := 1.; more <= mostDays; more++ {
		months := more * apart / 2 / 30
		drifts := months*(drift.launch+drift.engine) + months*months*(wear.launch+wear.engine)
		if sd*sd-ofB+1/(1/ofB+more/day)+drifts <= size*size/1.96/1.96 {
			return int(more)
		}
	}
	return -1
}

// daysApart is how far the days raced are apart, in days, on the mean.
func (t *fit) daysApart() float64 {
	oldest := 0.
	ages := t.ages()
	for _, age := range ages {
		oldest = math.Max(oldest, age)
	}
	return oldest / math.Max(1, float64(len(ages)-1))
}

// daysToTell is how many days of two runs each in turn would bring 1.96 standard
// deviations of the difference under size: within a day its luck cancels, and a
// day adds 1/noise² to the precision.
func daysToTell(size, sd, noise float64) int {
	return wholeDays(noise * noise * (math.Pow(1.96/math.Max(size, 1e-9), 2) - 1/(sd*sd)))
}

// shareDay reports whether a day has sound runs of both setups.
func (t *fit) shareDay(a, b string) bool {
	of := t.daysOf(b)
	for d := range t.daysOf(a) {
		if of[d] {
			return true
		}
	}
	return false
}

// confounded tells where setup and day, or setup and air, moved together.
func (t *fit) confounded(a, b string) (notes []Note) {
	if !t.shareDay(a, b) {
		notes = append(notes, Note{Kind: NoSharedDay, DaysA: len(t.daysOf(a)), DaysB: len(t.daysOf(b))})
	}
	// Air no further apart than a reading is off, ft of density altitude, is the same.
	const sameAirFt = 100
	of := func(setup string) Span {
		s, _ := t.airs(func(s *sample) bool { return t.eras[s.era].machine.Setup == setup })
		return s
	}
	if airA, airB := of(a), of(b); airA.High+sameAirFt < airB.Low || airB.High+sameAirFt < airA.Low {
		notes = append(notes, Note{Kind: AirsApart, RacedFt: airA, OtherRaced: airB})
	}
	return notes
}
