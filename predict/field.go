package predict

import (
	"math"
	"slices"
	"time"

	"slipcase/weather"
)

const (
	tellingRuns = 10  // from so many on their medians' shape is the vehicle's
	mostRuns    = 400 // older ones say little more and cost time
	// Of the next run older ones than these say nothing more (TestLatestRunsAreEnough), but for
	// those of its own setup, or at its track, where so few of the latest are.
	nextByRuns, ownRuns = 200, 40
	medianRuns          = 100  // the latest, enough for medians
	airlessDoubtFt      = 1000 // density altitude of a day nobody measured, among others measured
	// Where nobody ever measures, the days' air is part of their luck (luckgrid.go), and
	// this is left for its course within a day.
	withinDayDoubtFt = 300
)

// sample is one past run, held against the run model of its era.
type sample struct {
	pass   *Pass
	era    int
	day    int
	y      vec            // ln slip - ln model
	has    [channels]bool // read from the slip, and not ruled out by the racer's note
	laws   [laws]vec      // what one more of each law would do
	doubt  vec            // standard deviation by the doubt about the air
	sound  [6]float64     // log prior of being sound up to: nothing, then each mark
	weight vec            // how surely each channel is sound
	upTo   [6]float64     // how surely it was sound up to each mark, and no further
	rest   float64        // of the run's log density, what the weighted squares leave out
}

// field is all that the fit sees.
type field struct {
	eras    []*era
	samples []sample
	untimed []Pass         // slips without a figure to read: they tell nothing of the vehicle
	days    map[string]int // by track and day
	finish  Mark
	belief  prior2
	prior   vec         // mean of the first era's bias, against its fitted model
	usual   weather.Air // mean of the air that is known
	airless bool        // none is
	next    *Pass
	nextEra int

	levels     []level // that days share, the tracks' and from firstDrift on the drift's
	firstDrift int
	dayShares  [][]dayShare // by day, places counted among the levels
	ahead      []dayShare   // of the next day, if it has no run yet
}

// gather reads the latest of the history, oldest first, and fits the run model roughly.
func gather(history []Pass, next Pass, most int) (*field, error) {
	made, untimed := madeBefore(history, next.Time)
	made = telling(made, &next, most)
	passes := latestEras(append(made, next))
	f := &field{days: map[string]int{}, untimed: untimed, next: &passes[len(passes)-1], finish: UsualFinish(passes)}
	f.samples = make([]sample, 0, len(passes))
	f.usual, f.airless = usualAir(passes[:len(passes)-1], next)
	var of []int
	f.eras, of = eras(passes)
	f.nextEra = of[len(of)-1]
	if len(passes) == 1 {
		f.eras = unraced(f.next)
		f.nextEra = len(f.eras) - 1
	}
	for _, e := range of[:len(of)-1] {
		f.eras[e].raced = true
	}
	var err error
	if f.belief, err = suppose(f.eras); err != nil {
		return nil, err
	}
	for i := range passes[:len(passes)-1] {
		f.addSample(&passes[i], of[i])
	}
	if err := f.settle(); err != nil {
		return nil, err
	}
	f.findLevels()
	return f, nil
}

// madeBefore returns the latest timed runs made before the time, oldest first, and the untimed
// ones; all of them when the time is not known.
func madeBefore(history []Pass, t time.Time) (runs, untimed []Pass) {
	runs = make([]Pass, 0, len(history)+1) // and room for the next
	for i := range history {
		p := &history[i]
		switch _, has := p.Splits.logs(); {
		case !t.IsZero() && !p.Time.Before(t):
		case slices.Contains(has[:], true):
			runs = append(runs, *p)
		default:
			untimed = append(untimed, *p)
		}
	}
	slices.SortStableFunc(runs, func(a, b Pass) int { return a.Time.Compare(b.Time) })
	return runs[max(0, len(runs)-mostRuns):], untimed
}

// telling are those of the runs, oldest first, that tell most of the next one; the others are
// written over.
func telling(made []Pass, next *Pass, most int) []Pass {
	older, first, setup, track := len(made)-most, len(made), 0, 0
	for i := len(made) - 1; i >= 0; i-- {
		p := &made[i]
		own, here := p.Machine.Setup == next.Machine.Setup, p.Track == next.Track
		if i < older && !(own && setup < ownRuns) && !(here && track < ownRuns) {
			continue
		}
		if own {
			setup++
		}
		if here {
			track++
		}
		if first--; first != i {
			made[first] = *p
		}
	}
	return made[first:]
}

// mostEras bounds the states of the vehicle that are fitted at once: the cost
// goes with their cube, and what an older one says of the next run is little.
const mostEras = 8

// latestEras drops the runs of all but the latest raced states of the vehicle.
func latestEras(passes []Pass) []Pass {
	list, of := eras(passes)
	if len(list) <= mostEras {
		return passes
	}
	keep := map[int]bool{}
	for i := len(of) - 1; i >= 0 && len(keep) < mostEras; i-- {
		keep[of[i]] = true
	}
	var kept []Pass
	for i, p := range passes {
		if keep[of[i]] {
			kept = append(kept, p)
		}
	}
	return kept
}

// UsualFinish is the distance that most runs ended at.
func UsualFinish(passes []Pass) Mark {
	var n [Marks]int
	for _, p := range passes {
		if m, some := p.Splits.Finish(); some {
			n[m]++
		}
	}
	best := At1320
	for m := At1320; m >= At330; m-- {
		if n[m] > n[best] {
			best = m
		}
	}
	return best
}

// usualAir is the mean of the air that is known of the runs made, else that of the next;
// where neither is, of the air that is assumed; standard air without even that.
func usualAir(made []Pass, next Pass) (mean weather.Air, airless bool) {
	known := func(p Pass) bool { return p.AirKnown }
	if mean, some := meanAir(made, known); some {
		return mean, false
	}
	all := append(slices.Clone(made), next)
	if mean, some := meanAir(all, known); some {
		return mean, false
	}
	if mean, some := meanAir(all, Pass.airAssumed); some {
		return mean, true
	}
	return weather.Standard, true
}

func meanAir(passes []Pass, counts func(Pass) bool) (mean weather.Air, some bool) {
	n := 0.
	for _, p := range passes {
		if counts(p) {
			n++
			mean.TempF += (p.Air.TempF - mean.TempF) / n
			mean.StationInHg += (p.Air.StationInHg - mean.StationInHg) / n
			mean.VapourInHg += (p.Air.VapourInHg - mean.VapourInHg) / n
		}
	}
	return mean, n > 0
}

// airAssumed reports whether the air of the pass was assumed, not read.
func (p Pass) airAssumed() bool { return !p.AirKnown && p.Air != weather.Air{} }

func (f *field) airOf(p *Pass) (weather.Air, float64) {
	if p.AirKnown {
		return p.Air, p.AirDoubtFt
	}
	air, doubt := f.usual, float64(airlessDoubtFt)
	if p.airAssumed() {
		air = p.Air
	}
	if f.airless {
		doubt = withinDayDoubtFt // what all days share, the car's own level takes up
	}
	return air, doubt
}

func (f *field) addSample(p *Pass, era int) {
	s := sample{pass: p, era: era}
	s.y, s.has = p.Splits.logs()
	day, seen := f.days[p.dayKey()]
	if !seen {
		day = len(f.days)
		f.days[p.dayKey()] = day
	}
	s.day = day
	f.samples = append(f.samples, s)
}

// settle fits the power and grip of all eras together to the medians of their
// runs, so that what is left is small and the model can be taken as straight.
func (f *field) settle() error {
	believed := f.eras[0].car
	if len(f.samples) > 0 {
		if err := f.fitMedians(); err != nil {
			return err
		}
	} else {
		follow(f.eras, reference(f.eras), believed.launch, 0)
	}
	if err := differentiate(f.eras, f.usual, f.finish); err != nil {
		return err
	}
	if err := f.learnStop(); err != nil {
		return err
	}
	was, err := believed.run(f.usual, 0)
	if err != nil {
		return err
	}
	is, err := f.eras[0].car.run(f.usual, 0)
	if err != nil {
		return err
	}
	f.prior = was.minus(is)
	before := make([]int, len(f.days))
	known := modelled{}
	for i := range f.samples {
		s := &f.samples[i]
		if err := f.hold(s, known, before[s.day]); err != nil {
			return err
		}
		before[s.day]++
	}
	return nil
}

// hold holds a run against the run model; so many were made before it on its day.
func (f *field) hold(s *sample, known modelled, before int) error {
	e := f.eras[s.era]
	air, doubt := f.airOf(s.pass)
	model, err := known.run(s, e.car, air)
	if err != nil {
		return err
	}
	s.y, s.has = s.pass.Splits.logs()
	s.y, s.laws, s.doubt = s.y.minus(model), f.sensOf(e, s.pass, air, before), e.thin.scaled(doubt)
	return nil
}

// modelled are runs by the run model, which serve for others in the same air too.
type modelled map[modelledIn]vec

type modelledIn struct {
	era  int
	air  weather.Air
	wind float64
}

func (m modelled) run(s *sample, car vehicle, air weather.Air) (vec, error) {
	in := modelledIn{s.era, air, windShare * headwind(s.pass)}
	free, known := m[in] // but for a throttle stop
	if !known {
		var err error
		if free, err = car.run(air, in.wind); err != nil {
			return free, err
		}
		m[in] = free
	}
	return car.stop.slowed(s.pass, free), nil
}

// dayKey names the day at the track, whose luck its runs share.
func (p *Pass) dayKey() string {
	day := p.Day
	if day == "" {
		day = p.Time.Format(time.DateOnly)
	}
	return p.Track + "\x00" + day
}

func headwind(p *Pass) float64 {
	if p.WindKnown {
		return p.HeadwindMPH
	}
	return 0
}

// fitMedians moves the power and grip of every era alike until the run model
// meets the channels' medians as well as it can.
func (f *field) fitMedians() error {
	ratios := make([][channels][]float64, len(f.eras))
	latest := f.samples[max(0, len(f.samples)-medianRuns):]
	runs, free := make([]float64, len(f.eras)), anyFree(latest)
	known := modelled{}
	for i := range latest {
		s := &latest[i]
		if free && s.pass.stopped() {
			continue // it tells of the stop before it tells of the car
		}
		air, _ := f.airOf(s.pass)
		model, err := known.run(s, f.eras[s.era].car, air)
		if err != nil {
			return err
		}
		runs[s.era]++
		for c := range s.y {
			if s.has[c] {
				ratios[s.era][c] = append(ratios[s.era][c], s.y[c]-model[c])
			}
		}
	}
	var y, precision vec
	lead := 0
	for e := range f.eras {
		if runs[e] > runs[lead] {
			lead = e
		}
	}
	model, err := f.eras[lead].car.run(f.usual, 0)
	if err != nil {
		return err
	}
	for e := range f.eras {
		for c, r := range ratios[e] {
			if mid, some := median(r); some {
				w := float64(len(r)) / (slipMisfit[c] * slipMisfit[c]) / runs[e] * math.Min(runs[e], 10)
				y[c] += w * (mid + model[c])
				precision[c] += w
			}
		}
	}
	for c, w := range precision {
		if w > 0 {
			y[c] /= w
			precision[c] = w / math.Max(runs[lead], 1)
		}
	}
	from := f.eras[lead].car
	fit, _, err := fitRunModel(from.model, y, precision, func(m RunModel) (vec, error) {
		return vehicle{model: m, breathing: from.breathing}.run(f.usual, 0)
	}, f.belief)
	if err != nil {
		return nil // slips that no car can have run: the belief stands, the biases take the rest
	}
	after, err := vehicle{model: fit, breathing: from.breathing}.run(f.usual, 0)
	if err != nil {
		return err
	}
	var left vec // what the fitted model leaves of the channels' medians, 0 where none is read
	for c, w := range precision {
		if w > 0 {
			left[c] = y[c] - after[c]
		}
	}
	// How far that tells of the vehicle: few runs tell of themselves.
	told := math.Min(float64(len(f.samples))/tellingRuns, 1)
	held := func(ratio, sd float64) float64 { return math.Min(math.Max(ratio, math.Exp(-4*sd)), math.Exp(4*sd)) }
	scale(f.eras, held(fit.PowerHP/from.model.PowerHP, f.belief.power), held(fit.GripG/from.model.GripG, f.belief.grip))
	heard := f.answerOf()
	follow(f.eras, lead, f.eras[lead].car.limits(f.eras[lead].machine, left, told, heard), heard.engines())
	return nil
}
