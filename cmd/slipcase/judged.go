package main

import (
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// judged is a run held against what was expected of it from the runs before.
type judged struct {
	run        logbook.Run
	pass       predict.Pass
	judgement  predict.Judgement
	corrected  predict.Corrected // in standard air
	inAir      bool              // corrected holds: the air was known
	unjudged   string            // why there is no judgement
	next       *predict.Forecast // of the next run here, now; nil without
	cautions   []predict.Caution // thresholds that this run crossed as the vehicle's first
	usualPulls [predict.Marks]units.Number
	leftOut    predict.LeftOut // why the next forecast leaves it out, wholly or from a mark on
}

// judge holds a run against the forecast from the runs made before it.
func judge(run logbook.Run, history []predict.Pass) judged {
	j := judged{run: run, pass: crew.PassOf(run), usualPulls: predict.UsualPulls(history)}
	var err error
	if j.judgement, err = predict.Judge(history, j.pass); err != nil {
		j.unjudged = err.Error()
	}
	if corrector, err := predict.NewCorrector(append(history[:len(history):len(history)], j.pass)); err == nil {
		j.corrected, j.inAir = corrector.Correct(j.pass)
		j.inAir = j.inAir && run.Air.Known // an assumed day corrects nothing
	}
	j.cautions = predict.NewCautions(j.pass, history)
	return j
}

// judgeSlip judges one slip among its vehicle's runs; after the latest of them it
// looks ahead to the next.
func (a *app) judgeSlip(lb *crew.Session, s slip) (judged, error) {
	joiner, err := lb.Joiner(s.Vehicle)
	if err != nil {
		return judged{}, err
	}
	slips, err := lb.Slips(s.Vehicle)
	if err != nil {
		return judged{}, err
	}
	var before, all []predict.Pass
	latest := true
	for _, other := range slips {
		p := crew.PassOf(joiner.Run(other))
		all = append(all, p)
		if other.ID != s.ID && other.Time.Before(s.Time.Time) {
			before = append(before, p)
		}
		latest = latest && !other.Time.After(s.Time.Time)
	}
	j := judge(joiner.Run(s), before)
	if latest && j.unjudged == "" {
		j.next = a.lookAhead(joiner, j.run, all)
	}
	if j.next != nil {
		j.leaveOut(j.next.LeftOut)
	} else {
		j.leaveOut(leftOutOf(all))
	}
	return j, nil
}

// lookAhead forecasts the next run at the same track now, nil where there is none
// to forecast or the slip is not of today.
func (a *app) lookAhead(joiner *logbook.Joiner, run logbook.Run, history []predict.Pass) *predict.Forecast {
	now := a.now()
	if ago := now.Sub(run.Slip.Time.Time); ago < 0 || ago > sameDay || run.Track.ID == "" {
		return nil
	}
	next := joiner.Run(slip{Vehicle: run.Slip.Vehicle, Track: run.Slip.Track, Time: logbook.Time{Time: now}})
	next.Air = joiner.AirAhead(run.Track.ID, now, now)
	f, err := predict.Expect(history, crew.PassOf(next))
	if err != nil {
		return nil
	}
	return &f
}

// sameDay is how long after a run the next one may still be its follower.
const sameDay = 12 * time.Hour

// leaveOut notes why the next forecast leaves the run out, if it does.
func (j *judged) leaveOut(all []predict.LeftOut) {
	if i := slices.IndexFunc(all, func(l predict.LeftOut) bool { return l.ID == j.run.Slip.ID }); i >= 0 {
		j.leftOut = all[i]
	}
}

// leftOutOf are the runs of a vehicle that its next forecast leaves out.
func leftOutOf(all []predict.Pass) []predict.LeftOut {
	corrector, err := predict.NewCorrector(all)
	if err != nil {
		return nil
	}
	return corrector.LeftOut()
}

// judgeLast judges the last n runs, each from those of its vehicle before it.
func judgeLast(runs []logbook.Run, n int) []judged {
	before := map[string][]predict.Pass{}
	js := []judged{}
	for i, r := range runs {
		if i >= len(runs)-n {
			js = append(js, judge(r, before[r.Slip.Vehicle]))
		}
		before[r.Slip.Vehicle] = append(before[r.Slip.Vehicle], crew.PassOf(r))
	}
	leftOut := map[string][]predict.LeftOut{}
	for i := range js {
		v := js[i].run.Slip.Vehicle
		if _, known := leftOut[v]; !known {
			leftOut[v] = leftOutOf(before[v])
		}
		js[i].leaveOut(leftOut[v])
	}
	return js
}

// densityAltitude is that of the run's air, absent where it is not known.
func densityAltitude(r logbook.Run) units.Number {
	if !r.Air.Known {
		return units.Number{}
	}
	return units.Some(r.Air.Air.DensityAltitudeFt())
}

func (j judged) headline() string {
	s := j.run.Slip
	name := s.Vehicle
	if j.run.Vehicle.ID != "" {
		name = j.run.Vehicle.Name()
	}
	switch {
	case j.run.Track.ID != "":
		name += " at " + j.run.Track.Name()
	case s.Track != "":
		name += " at " + s.Track
	}
	parts := []string{name}
	for _, p := range []string{s.Round, s.Lane} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	head := strings.Join(append(parts, when(s.Time.Time)), ", ")
	if s.Status == logbook.Void {
		head += " (void)"
	}
	return table.Clean(head)
}

// corrected is what a run made in standard air, as a slip would have it.
func inStandardAir(c predict.Corrected) predict.Splits {
	var s predict.Splits
	for m := range predict.Marks {
		if b := c.ETs[m]; b.Centre > 0 {
			s.ETs[m] = units.Some(b.Centre)
		}
		if b := c.MPHs[m]; b.Centre > 0 {
			s.MPHs[m] = units.Some(b.Centre)
		}
	}
	return s
}
