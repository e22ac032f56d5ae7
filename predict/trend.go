package predict

import (
	"math"
	"slices"
	"time"

	"slipcase/weather"
)

// Trend is what became of a vehicle over the days that it raced, all in standard air.
type Trend struct {
	Mark   Mark // the distance that it races to
	Days   []TrendDay
	Shifts []Shift // what the luck of days does not explain, what has an era of its own first
}

// TrendDay is the vehicle as it was on a day. The figures are with the ends of 95 %.
type TrendDay struct {
	Began   time.Time
	Track   string
	Setup   string
	Runs    int    // that count, wholly or up to a mark
	Stopped bool   // with a throttle stop: the time is as without it, power and launch are NaN
	PowerHP Figure // effective at the wheels, as the speeds and the times past the launch tell
	LaunchG Figure
	RollS   Figure // from 60 ft to the mark
}

// Shift is a change that was not entered, or a drift.
type Shift struct {
	Drift   bool      // from the first day to the last, evenly
	Since   time.Time // the first run after it; of a drift the first of all
	ByS     Figure    // at the mark, slower above 0: with the ends of 95 %
	LateS   float64   // of it past half the distance
	PowerHP Figure    // added
	LaunchG Figure    // added
}

// What may have happened on some day, and how much of it, in logs of the time at the
// finish. Set by trial on the tuning seasons: of ten ordinary seasons fewer than one may
// show a shift.
const (
	shiftSD    = 0.01 // launch and engine each
	monthlySD  = 0.002
	shiftTells = 1.4 // from so many times likelier runs on it is told
	mostShifts = 4
	tiny       = 1e-8 // variance of what is as ever
)

// suspectedShift is a shift that is looked at: what share of it is in each day.
type suspectedShift struct {
	drift  bool
	launch bool // else in the engine
	day    int
	fit    *fit
	at     int // the level
}

// NewTrend tells how a vehicle changed over its runs.
func NewTrend(history []Pass) (Trend, error) {
	if len(history) == 0 {
		return Trend{}, nil
	}
	last := lastOf(history)
	next := Pass{Machine: last.Machine, Air: last.Air, AirKnown: last.AirKnown, Track: last.Track}
	f, err := gather(history, next, mostRuns)
	if err != nil {
		return Trend{}, err
	}
	f.findTracks() // a drift is looked for, not taken for granted
	t, err := newFit(f)
	if err != nil {
		return Trend{}, err
	}
	accounts, err := weighAccounts(t)
	if err != nil {
		return Trend{}, err
	}
	best := accounts[0]
	t = best.fit
	if err := t.average(); err != nil {
		return Trend{}, err
	}
	out := Trend{Mark: f.finish}
	for _, s := range best.supposed {
		if s.kind == changed {
			out.Shifts = append(out.Shifts, t.shiftOf(s))
		}
	}
	for len(out.Shifts) < mostShifts {
		c, times, err := t.likeliestShift()
		if err != nil {
			return out, err
		}
		if times < shiftTells {
			break
		}
		out.Shifts = append(out.Shifts, c.shift())
		t = c.fit
	}
	out.Days = t.trendDays()
	return out, nil
}

// likeliestShift looks at a step on each day, and at an even drift; the runs are so many
// times likelier with any of them than without.
func (t *fit) likeliestShift() (best suspectedShift, times float64, err error) {
	list := t.candidates()
	if len(list) == 0 {
		return best, 0, nil
	}
	odds, most := 0., math.Inf(-1)
	for _, c := range list {
		if err := c.try(t); err != nil {
			return best, 0, err
		}
		gain := c.fit.evidence - t.evidence
		odds += math.Exp(gain)
		if gain > most {
			best, most = c, gain
		}
	}
	return best, odds / float64(len(list)), nil
}

// candidates are the days from which on runs of some setup may differ from those before.
func (t *fit) candidates() (list []suspectedShift) {
	for day := 1; day < len(t.days); day++ {
		for e := range t.eras {
			var before, after bool
			for i := range t.samples {
				if s := &t.samples[i]; s.era == e {
					before, after = before || s.day < day, after || s.day >= day
				}
			}
			if before && after {
				list = append(list, suspectedShift{day: day}, suspectedShift{day: day, launch: true})
				break
			}
		}
	}
	if len(list) > 1 {
		list = append(list, suspectedShift{drift: true}, suspectedShift{drift: true, launch: true})
	}
	return list
}

// try fits the runs with the shift.
func (c *suspectedShift) try(t *fit) error {
	f := *t.field
	f.levels, f.dayShares = slices.Clone(f.levels), slices.Clone(f.dayShares)
	c.at = len(f.levels)
	size := shiftSD
	if c.drift {
		size = monthlySD
	}
	l := level{launch: tiny, engine: size * size}
	if c.launch {
		l = level{launch: size * size, engine: tiny}
	}
	f.levels = append(f.levels, l)
	began := f.begins()
	for day := range f.dayShares {
		by := 1.
		if c.drift {
			by = began[day].Sub(began[0]).Hours() / 24 / 30
		}
		if day >= c.day && by > 0 {
			f.dayShares[day] = append(slices.Clone(f.dayShares[day]), dayShare{c.at, by})
		}
	}
	with := *t
	with.field = &f
	var err error
	if with.biases, err = newBelievedBiases(&f); err != nil {
		return err
	}
	c.fit = &with
	return with.average()
}

// unknowns is a linear function of them for each channel: which, and times what.
type unknowns []struct {
	at int
	by vec
}

// averaged joins what each guess at the luck gives by their chances.
func (t *fit) averaged(of func(*posterior) (vec, square)) (mean vec, cov square) {
	means := make([]vec, len(t.posteriors))
	for i, p := range t.posteriors {
		var c square
		means[i], c = of(p)
		cov.add(&c, t.chance[i])
		mean = mean.minus(means[i].scaled(-t.chance[i]))
	}
	for i := range means {
		cov.outer(means[i].minus(mean), t.chance[i])
	}
	return mean, cov
}

// shift tells what a step or a drift came to.
func (c *suspectedShift) shift() Shift {
	t := c.fit
	e := t.eras[t.nextEra]
	began := t.begins()
	by, since := 1., began[c.day]
	if c.drift {
		by = began[len(began)-1].Sub(began[0]).Hours() / 24 / 30
	}
	at := biasAt(len(t.eras)) + 2*c.at
	s := t.tell(e, unknowns{{at, e.launch.scaled(by)}, {at + 1, e.engine.scaled(by)}})
	s.Drift, s.Since = c.drift, since
	return s
}

// shiftOf tells what a change came to that has an era of its own.
func (t *fit) shiftOf(s supposition) Shift {
	var u unknowns
	at := slices.IndexFunc(
		t.eras,
		func(e *era) bool { return e.change.kind == changed && t.firstDay(t.indexOf(e)) == s.day },
	)
	if at < 0 {
		return Shift{Since: t.begun(s.day)}
	}
	for c := range channels {
		var one vec
		one[c] = 1
		u = append(u, unknowns{{biasAt(at) + c, one}, {biasAt(t.eras[at].change.from) + c, one.scaled(-1)}}...)
	}
	out := t.tell(t.eras[at], u)
	out.Since = t.begun(s.day)
	return out
}

func (t *fit) indexOf(e *era) int { return slices.Index(t.eras, e) }

// tell puts a difference of logs into seconds, power and launch.
func (t *fit) tell(e *era, u unknowns) (s Shift) {
	mean, cov := t.averaged(func(p *posterior) (vec, square) { return p.moments(u) })
	car, err := e.car.run(t.usual, 0)
	if err != nil {
		return s
	}
	end, half := timeAt[t.finish], timeAt[At660]
	if t.finish == At660 {
		half = timeAt[At330]
	}
	s.ByS = about(mean[end], cov[end][end]).times(math.Exp(car[end]))
	s.LateS = s.ByS.Value - math.Exp(car[half])*mean[half]
	power, grip := t.carOf(e)
	s.PowerHP = linear(power, mean, &cov).times(e.car.model.PowerHP)
	s.LaunchG = linear(grip, mean, &cov).times(e.car.model.GripG)
	return s
}

// carOf are the weights by which the logs of a run tell the log of the power and that of
// the launch: least squares over the channels that the vehicle's slips have, the speeds the
// surest.
func (t *fit) carOf(e *era) (power, grip vec) {
	var has [channels]bool
	for i := range t.samples {
		for c, known := range t.samples[i].has {
			has[c] = has[c] || known
		}
	}
	a, b, d := 1e-3, 0., 1e-3 // where a slip has one time alone
	for c, sd := range slipMisfit {
		if has[c] {
			w := 1 / (sd * sd)
			a, b, d = a+w*e.power[c]*e.power[c], b+w*e.power[c]*e.grip[c], d+w*e.grip[c]*e.grip[c]
		}
	}
	for c, sd := range slipMisfit {
		if has[c] {
			w := 1 / (sd * sd) / (a*d - b*b)
			power[c] = w * (d*e.power[c] - b*e.grip[c])
			grip[c] = w * (a*e.grip[c] - b*e.power[c])
		}
	}
	return power, grip
}

// trendDays are the days with a sound run, each as its runs and the others' tell it.
func (t *fit) trendDays() (list []TrendDay) {
	type key struct{ day, era int }
	at := map[key]int{}
	for i := range t.samples {
		s := &t.samples[i]
		if _, sound := s.soundFt(); !sound {
			continue
		}
		k := key{s.day, s.era}
		if n, seen := at[k]; seen {
			list[n].Runs++
			continue
		}
		d, ok := t.trendDay(s)
		if ok {
			at[k] = len(list)
			list = append(list, d)
		}
	}
	return list
}

func (t *fit) trendDay(s *sample) (d TrendDay, ok bool) {
	e := t.eras[s.era]
	standard := Pass{Air: weather.Standard, AirKnown: true}
	car, err := e.car.run(weather.Standard, 0)
	if err != nil {
		return d, false
	}
	sens := e.sens(&standard, weather.Standard)
	mean, cov := t.averaged(func(p *posterior) (vec, square) { return p.predict(e, s.era, sens, s.day) })
	power, grip := t.carOf(e)
	end, start := timeAt[t.finish], timeAt[At60]
	var roll vec
	roll[end], roll[start] = math.Exp(car[end]+mean[end]), -math.Exp(car[start]+mean[start])
	d = TrendDay{Began: s.pass.Time, Track: s.pass.Track, Setup: e.machine.Setup, Runs: 1, Stopped: e.stopped}
	d.PowerHP = linear(power, mean, &cov).exp().times(e.car.model.PowerHP)
	d.LaunchG = linear(grip, mean, &cov).exp().times(e.car.model.GripG)
	if d.Stopped {
		none := math.NaN()
		d.PowerHP, d.LaunchG = Figure{none, none, none}, Figure{none, none, none}
	}
	d.RollS = linear(roll, vec{}, &cov).plus(roll[end] + roll[start])
	return d, true
}

// linear is a weighted sum of the logs.
func linear(weights, mean vec, cov *square) Figure {
	sum, variance := 0., 0.
	for i, w := range weights {
		sum += w * mean[i]
		for j, v := range weights {
			variance += w * v * cov[i][j]
		}
	}
	return about(sum, variance)
}

// about is a figure of that mean and variance, with the ends of 95 %.
func about(mean, variance float64) Figure {
	reach := 1.96 * math.Sqrt(math.Max(variance, 0))
	return Figure{mean, mean - reach, mean + reach}
}

func (f Figure) times(k float64) Figure { return Figure{f.Value * k, f.Low * k, f.High * k} }
func (f Figure) plus(v float64) Figure  { return Figure{f.Value + v, f.Low + v, f.High + v} }
func (f Figure) exp() Figure            { return Figure{math.Exp(f.Value), math.Exp(f.Low), math.Exp(f.High)} }
