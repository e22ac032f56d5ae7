package crew

import (
	"context"
	"math"
	"slices"
	"time"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// Gathered are the runs of a vehicle that are meant, for whoever draws them: by their
// time, each in standard air as all the vehicle's runs show it.
type Gathered struct {
	Vehicle Vehicle
	Mark    Mark // the distance that it usually races
	Runs    []Told
}

// Gather tells the runs of a vehicle that are meant, without their forecasts.
func (s *Session) Gather(ctx context.Context, v Vehicle, keep func(*Run) bool) (Gathered, error) {
	g := Gathered{Vehicle: v}
	runs, err := s.Runs(v.ID)
	if err != nil {
		return g, err
	}
	g.Mark = predict.UsualFinish(PassesOf(runs))
	readings, err := s.Readings("")
	if err != nil {
		return g, err
	}
	teller, err := s.NewTeller(ToldAsk{Learned: true}, readings)
	if err != nil {
		return g, err
	}
	err = teller.Tell(ctx, runs, keep, func(t *Told) error {
		g.Runs = append(g.Runs, *t)
		return nil
	})
	return g, err
}

// On are the runs of a date, as 2026-05-02.
func (g Gathered) On(date string) Gathered {
	g.Runs = slices.DeleteFunc(slices.Clone(g.Runs), func(t Told) bool {
		return t.Run.Slip.Time.Format(time.DateOnly) != date
	})
	return g
}

// LastDay is the date of the last run, of which there are some.
func (g Gathered) LastDay() string { return g.Runs[len(g.Runs)-1].Run.Slip.Time.Format(time.DateOnly) }

// Counts reports a run that the next forecast counts at a mark, and which has a time there.
func (t *Told) Counts(m Mark) bool {
	return t.Pass.Splits.ETs[m].Known() && countsTo(t.LeftOut, m) && fullTo(t.Pass, m)
}

// StandardET is the time of a run that counts at a mark in standard air, absent where its air is
// not known.
func (t *Told) StandardET(m Mark) units.Number {
	if !t.InAir || !t.Counts(m) {
		return units.Number{}
	}
	return t.Standard.ETs[m]
}

// leastApart are so many pairs of runs as tell how far they usually lie apart.
const leastApart = 3

// UsualApart is the median of how far a run lies from the one before it with the same setup on
// the same day, s, both in standard air at a mark; absent where too few pairs tell.
func UsualApart(told []Told, m Mark) units.Number {
	var apart []float64
	var was *Told
	for i := range told {
		t := &told[i]
		et := t.StandardET(m)
		if !et.Known() {
			continue
		}
		if was != nil && was.Run.Setup.ID == t.Run.Setup.ID && sameDate(was.Run.Slip.Time.Time, t.Run.Slip.Time.Time) {
			apart = append(apart, math.Abs(et.Value()-was.StandardET(m).Value()))
		}
		was = t
	}
	steady, err := predict.NewSteady(apart)
	if err != nil || len(apart) < leastApart {
		return units.Number{}
	}
	return units.Some(steady.Median.Value)
}

// countsTo reports that what was left out lies beyond a mark.
func countsTo(l LeftOut, m Mark) bool { return l.Why == "" || l.CountsFt.Or(0) >= m.Ft() }

// fullTo reports that nothing was noted against full power up to a mark.
func fullTo(p predict.Pass, m Mark) bool {
	return predict.FullEffort(p.Effort) || p.FullFt.Or(0) >= m.Ft()
}

// JudgeNewest judges the newest n of the runs that are meant, of a vehicle; all is how
// many are meant.
func (s *Session) JudgeNewest(
	ctx context.Context, vehicle string, keep func(*Run) bool, n int,
) (js []Judged, all int, err error) {
	runs, err := s.Runs(vehicle)
	if err != nil {
		return nil, 0, err
	}
	var chosen []Run
	for i := range runs {
		if keep(&runs[i]) {
			chosen = append(chosen, runs[i])
		}
	}
	js, err = JudgeThese(ctx, runs, chosen[max(0, len(chosen)-n):])
	return js, len(chosen), err
}

// AirLine is a vehicle as it is now over the airs that its runs were made in.
type AirLine struct {
	At     time.Time  // when it would run
	Points []AirPoint // none where those are not known
	Cost   ThousandFt
}

// AirLine is that of gathered runs, at so many points.
func (s *Session) AirLine(g Gathered, points int) (l AirLine, err error) {
	var thick, thin *Told
	for i := range g.Runs {
		r := &g.Runs[i]
		if !r.Run.Air.Known {
			continue
		}
		if thick == nil || r.Run.Air.Air.DensityAltitudeFt() < thick.Run.Air.Air.DensityAltitudeFt() {
			thick = r
		}
		if thin == nil || r.Run.Air.Air.DensityAltitudeFt() > thin.Run.Air.Air.DensityAltitudeFt() {
			thin = r
		}
	}
	if thick == nil {
		return l, nil
	}
	from, to := thick.Run.Air.Air, thin.Run.Air.Air
	if to.DensityAltitudeFt()-from.DensityAltitudeFt() < leastAirFt {
		from.TempF, to.TempF = from.TempF-leastAirF, to.TempF+leastAirF
	}
	last := g.Runs[len(g.Runs)-1]
	at := s.Now()
	if after := last.Run.Slip.Time.Add(time.Minute); at.Before(after) {
		at = after
	}
	l.At = at.In(last.Run.Slip.Time.Location())
	next, err := s.Next(NextAsk{Vehicle: g.Vehicle.ID, Track: last.Run.Slip.Track, At: at, Air: &thin.Run.Air})
	if err != nil {
		return l, err
	}
	f, err := next.Expect()
	if err != nil {
		return l, err
	}
	if l.Cost, err = f.ThousandFt(); err != nil {
		return l, err
	}
	l.Points, err = f.AlongAir(g.Mark, from, to, points)
	return l, err
}

// A line is drawn over no less than this of density altitude; else so much warmer and
// colder air is taken.
const (
	leastAirFt = 300
	leastAirF  = 8
)

// AirPoint is a run in one of several airs.
type AirPoint = predict.AirPoint

// AirOver are the points of a day's air at a track from one moment to another, as its
// readings tell it: each point from those before it and after it.
func (s *Session) AirOver(track string, from, to time.Time, step time.Duration) (all []AirAt, err error) {
	j, err := s.Joiner("")
	if err != nil {
		return nil, err
	}
	for at := from; !at.After(to); at = at.Add(step) {
		all = append(all, AirAt{at, j.AirAt(track, at)})
	}
	return all, nil
}

// AirAt is the air at a moment.
type AirAt struct {
	At  time.Time
	Air weather.Estimate
}
