package crew

import (
	"context"
	"errors"
	"iter"
	"maps"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Judged is a run held against what was expected of it from the runs before.
type Judged struct {
	Run        Run
	Result     string   // how its round ended, by the racer's word or else by both lanes; "" where they do not tell
	ResultWhy  Decision // by both lanes
	Pass       predict.Pass
	Unjudged   error               // why there is no judgement; nil where there is
	Judgement  Judgement           // zero where Unjudged
	Standard   Splits              // in standard air
	InAir      bool                // Standard holds: the air was known
	Next       *Forecast           // of the next run here, now; nil without
	NextAir    Estimate            // that it goes by
	NextDial   NextDial            // for it
	NextSetup  *Setup              // that it is on, where this run was on another; nil without
	Cautions   []Caution           // thresholds that this run crossed as the vehicle's first
	UsualPulls [Marks]units.Number // of the runs before
	FullPull   bool                // it seems to have been at full power, and if not
	ShortPull  predict.ShortPull   // why not
	WasOn      *WasOn              // what it would have run, where it was let go; nil where not
	LeftOut    LeftOut             // why the next forecast leaves it out, wholly or from a mark on
	Perhaps    *Doubt              // a typing error that is not likely enough to ask about; nil without
}

// Doubted reports a run of which the racer noted nothing, and the forecast leaves out.
func (j *Judged) Doubted() bool {
	_, timed := j.Pass.Splits.Finish()
	return timed && j.Run.Slip.FullPower == "" && j.LeftOut.Why != ""
}

// Told reports that how the round ended is worked out from both lanes.
func (j *Judged) Told() bool { return j.ResultWhy.Kind != "" }

// Farthest is how far its forecast matters: as far as it was run, or is timed there.
func (j *Judged) Farthest() Mark {
	far := Farthest(j.Run.Track, &j.Judgement.Forecast)
	if ran, ok := j.Pass.Splits.Finish(); ok {
		far = max(far, ran)
	}
	return far
}

// Difference is the run less its forecast, absent where either is.
func (j *Judged) Difference() (d Splits) {
	less := func(a, b units.Number) units.Number {
		if !a.Known() || !b.Known() {
			return units.Number{}
		}
		return units.Some(a.Value() - b.Value())
	}
	x := j.Judgement.Forecast.Centre()
	for m := range Marks {
		d.ETs[m], d.MPHs[m] = less(j.Pass.Splits.ETs[m], x.ETs[m]), less(j.Pass.Splits.MPHs[m], x.MPHs[m])
	}
	return d
}

// Power is what the run implies the engine made in its air, and the mark that tells it;
// ok is false where power was not used to the end, and cannot be read from it.
func (j *Judged) Power() (power predict.Implied, at Mark, ok bool) {
	if !j.FullPull || j.Pass.StopS > 0 || !predict.FullEffort(j.Pass.Effort) || !j.Pass.Machine.WeightLb.Known() {
		return power, at, false
	}
	for at = At1320; at >= At660; at-- {
		if et, mph := j.Pass.Splits.ETs[at], j.Pass.Splits.MPHs[at]; et.Known() && mph.Known() {
			power, err := predict.ImpliedPower(predict.Fox, at, j.Pass.Machine.WeightLb.Value(), et.Value(), mph.Value())
			return power, at, err == nil
		}
	}
	return power, at, false
}

// SlipAlone is what one slip says of the car without any other, each figure with its standard
// deviation.
type SlipAlone struct {
	PowerHP, PowerSD float64 // hp at the wheels, averaged over the run
	LaunchG, GripSD  float64 // g that grip allowed
	Leftover         Splits  // slip less model
}

// Alone is what the slip says alone; ok is false where it cannot tell, or no weight is known.
func (j *Judged) Alone() (a SlipAlone, ok bool) {
	c, ok := j.Pass.Calibrate()
	if !ok || !j.Pass.Machine.WeightLb.Known() {
		return a, false
	}
	m := c.Model
	return SlipAlone{m.PowerHP, m.PowerHP * c.PowerDoubt, m.GripG, m.GripG * c.GripDoubt, c.Leftover}, true
}

// judge holds a run against the forecast from the runs made before it.
func (m *among) judge(j *Judged) {
	j.Cautions, j.UsualPulls = predict.NewCautions(m.pass, m.before), predict.UsualPulls(m.before)
	j.FullPull, j.ShortPull = predict.FullPull(j.Pass, j.UsualPulls)
	f, err := m.expect()
	if j.Unjudged = err; err == nil {
		j.Judgement, j.Unjudged = f.Judge(j.Pass)
	}
}

var errNotAsked = errors.New("no forecast is asked for")

// told is the run as far as it can be told without a forecast.
func (m *among) told(by *predict.Corrector) Judged {
	j := Judged{Run: m.run, Pass: m.pass, Unjudged: errNotAsked}
	m.tell(&j, by)
	return j
}

func (m *among) tell(j *Judged, by *predict.Corrector) {
	j.Result, j.ResultWhy = TellResult(m.run.Slip, m.run.Track)
	if c, known := by.Correct(j.Pass); known && j.Run.Air.Known { // an assumed day corrects nothing
		j.Standard, j.InAir = InStandardAir(c), true
	}
}

// Judge judges one slip among its vehicle's runs; after the latest of them it looks
// ahead to the next.
func (s *Session) Judge(slip Slip) (Judged, error) {
	m, err := s.among(slip)
	if err != nil {
		return Judged{}, err
	}
	j, passes := Judged{Run: m.run, Pass: m.pass}, slices.Clone(m.car.passes)
	ahead := m.latest && s.ofToday(m.run)
	hindsight := make(chan *predict.Hindsight, 1)
	lookBack := func() { hindsight <- lookBackOn(passes) }
	if !ahead {
		go lookBack() // a fit of its own, beside that of the run
	}
	m.judge(&j)
	j.Perhaps = m.perhaps()
	if ahead && j.Unjudged == nil {
		s.lookAhead(&j)
	}
	m.tell(&j, m.corrector(&j, passes))
	if j.Next != nil { // the forecast of it tells the same
		j.LeaveOut(j.Next.LeftOut)
		return j, nil
	}
	if ahead {
		lookBack()
	}
	j.LeaveOut((<-hindsight).LeftOut())
	return j, nil
}

// corrector is the one of all its vehicle's runs, for a run that was judged; nothing where there
// is no air to take it out of, or they do not fit together.
func (m *among) corrector(j *Judged, passes []predict.Pass) *predict.Corrector {
	switch {
	case !m.run.Air.Known:
		return &predict.Corrector{}
	case j.Unjudged == nil && m.lastOf(passes):
		return j.Judgement.Forecast.Corrector()
	}
	c, err := predict.NewCorrector(passes)
	if err != nil {
		return &predict.Corrector{}
	}
	return c
}

// lookBackOn is what all runs tell of each, nothing where they do not fit together.
func lookBackOn(passes []predict.Pass) *predict.Hindsight {
	h, err := predict.NewHindsight(passes)
	if err != nil {
		return &predict.Hindsight{}
	}
	return h
}

// sameDay is how long after a run the next one may still be its follower.
const sameDay = 12 * time.Hour

// ofToday reports a run at a track that the next one may follow.
func (s *Session) ofToday(run Run) bool {
	ago := s.Now().Sub(run.Slip.Time.Time)
	return ago >= 0 && ago <= sameDay && run.Track.ID != ""
}

// lookAhead forecasts the next run at the same track now, unless there is none to
// forecast.
func (s *Session) lookAhead(j *Judged) {
	now, run := s.Now(), j.Run
	next, err := s.Next(NextAsk{Vehicle: run.Slip.Vehicle, Track: run.Track.ID, At: now})
	if err != nil {
		return
	}
	rules := RulesOf(run.Slip, run.Track)
	next.stopIn(rules)
	f, err := next.Expect()
	if err != nil {
		return
	}
	far := Farthest(run.Track, &f)
	if run.Slip.RacedFt.Known() {
		far = RacedTo(run.Slip, run.Track)
	}
	if dial, err := dialToCome(&f, far, next.Run.Slip, rules, s.Hold(next.Run)); err == nil {
		j.NextDial = dial
	}
	j.NextDial.Mark = far
	j.Next, j.NextAir = &f, next.Run.Air
	if on := next.Run.Setup; run.Setup.ID != "" && on.ID != run.Setup.ID {
		j.NextSetup = &on
	}
}

// LeaveOut notes why the next forecast leaves the run out, if it does, and what a run that
// was let go was on.
func (j *Judged) LeaveOut(all []LeftOut) {
	if i := slices.IndexFunc(all, func(l LeftOut) bool { return l.ID == j.Run.Slip.ID }); i >= 0 {
		j.LeftOut = all[i]
	}
	j.letGo()
}

// letGo works out what the run was on. Whoever noted full power was on what he ran.
func (j *Judged) letGo() {
	said := j.Run.Slip.FullPower == string(FullPower)
	if j.Unjudged != nil || j.LeftOut.Why == OutOfLine && (said || !j.LeftOut.CountsFt.Known()) {
		return
	}
	if w, ok := j.Judgement.Forecast.WasOn(j.Pass, j.LeftOut.CountsFt, RacedTo(j.Run.Slip, j.Run.Track)); ok {
		j.WasOn = &w
	}
}

// JudgeLast judges the last n runs of a vehicle, of all when it is "", or all when n is 0,
// until the context ends. Only their vehicles' slips are read whole. all is how many runs
// there are.
func (s *Session) JudgeLast(ctx context.Context, vehicle string, n int) (js []Judged, all int, err error) {
	if vehicle == "" && n > 0 {
		return s.judgeLastOfAll(ctx, n)
	}
	runs, err := s.Runs(vehicle)
	if err != nil {
		return nil, 0, err
	}
	if n == 0 {
		n = len(runs)
	}
	js, err = JudgeThese(ctx, runs, runs[max(0, len(runs)-n):])
	return js, len(runs), err
}

// judgeLastOfAll joins the slips one at a time: of the most only what the predictor takes
// is kept.
func (s *Session) judgeLastOfAll(ctx context.Context, n int) (js []Judged, all int, err error) {
	j, err := s.Joiner("")
	if err != nil {
		return nil, 0, err
	}
	slips, all, err := s.LastSlips(n)
	if err != nil {
		return nil, 0, err
	}
	runtime.GC() // the file is done with: the forecasts are to have its memory
	runs := func(yield func(Run) bool) {
		for _, slip := range slips {
			if !yield(j.Run(slip)) {
				return
			}
		}
	}
	var chosen []Run
	for _, slip := range slips[max(0, len(slips)-n):] {
		chosen = append(chosen, j.Run(slip))
	}
	js, err = judgeAmong(ctx, runs, chosen)
	return js, all, err
}

// JudgeThese judges the chosen of all runs, in the order in which they are chosen, each
// from those of its vehicle before it, until the context ends. Each is a forecast of its
// own, so as many are made at a time as there are processors.
func JudgeThese(ctx context.Context, runs, chosen []Run) ([]Judged, error) {
	return judgeAmong(ctx, slices.Values(runs), chosen)
}

func judgeAmong(ctx context.Context, runs iter.Seq[Run], chosen []Run) ([]Judged, error) {
	at := map[string]int{}
	for i, r := range chosen {
		at[r.Slip.ID] = i
	}
	js, all := make([]Judged, len(chosen)), make([]*among, len(chosen))
	passes := map[string][]predict.Pass{} // of each vehicle
	for r := range runs {
		v, pass := r.Slip.Vehicle, PassOf(r)
		if i, is := at[r.Slip.ID]; is {
			all[i] = &among{car: &car{}, run: r, pass: pass, before: passes[v]}
		}
		passes[v] = append(passes[v], pass)
	}
	doubtful := map[string][]int{} // the chosen of each vehicle of which all its runs are to tell
	var mutex sync.Mutex
	// A fit takes megabytes: none is kept.
	err := atOnce(ctx, len(all), func(i int) {
		m, j := all[i], &js[i]
		*j = Judged{Run: m.run, Pass: m.pass}
		m.judge(j)
		f := &j.Judgement.Forecast
		settled := j.Unjudged == nil && m.lastOf(passes[m.run.Slip.Vehicle]) && f.Counts(m.pass)
		if settled {
			m.tell(j, m.corrector(j, passes[m.run.Slip.Vehicle]))
		}
		f.Forget()
		m.car.expected = nil
		if settled {
			return
		}
		mutex.Lock()
		defer mutex.Unlock()
		doubtful[m.run.Slip.Vehicle] = append(doubtful[m.run.Slip.Vehicle], i)
	})
	if err != nil {
		return nil, err
	}
	vehicles := slices.Collect(maps.Keys(doubtful))
	return js, atOnce(ctx, len(vehicles), func(v int) {
		learned, _ := learn(passes[vehicles[v]])
		leftOut := learned.LeftOut()
		for _, i := range doubtful[vehicles[v]] {
			all[i].tell(&js[i], learned.Corrector)
			js[i].LeaveOut(leftOut)
		}
	})
}

// lastOf reports that the run is the last of its vehicle's: all others were made before it.
func (m *among) lastOf(runs []predict.Pass) bool {
	n := len(m.before)
	return len(runs) == n+1 && (n == 0 || m.before[n-1].Time.Before(m.pass.Time))
}

// atOnce does n pieces of work, as many at a time as there are processors, until the
// context ends.
func atOnce(ctx context.Context, n int, work func(i int)) error {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	wait.Wait()
	return ctx.Err()
}

// DensityAltitude is that of the run's air, ft, absent where it is not known.
func DensityAltitude(r Run) units.Number {
	if !r.Air.Known {
		return units.Number{}
	}
	return units.Some(r.Air.Air.DensityAltitudeFt())
}

// InStandardAir is what a run made in standard air, as a slip would have it.
func InStandardAir(c predict.Corrected) (s Splits) {
	for m := range Marks {
		if b := c.ETs[m]; b.Centre > 0 {
			s.ETs[m] = units.Some(b.Centre)
		}
		if b := c.MPHs[m]; b.Centre > 0 {
			s.MPHs[m] = units.Some(b.Centre)
		}
	}
	return s
}
