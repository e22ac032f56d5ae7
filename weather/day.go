package weather

import (
	"math"
	"slices"
	"time"

	"slipcase/weather/units"
)

// Timed is a reading with the time it was taken and the id it is known by.
type Timed struct {
	ID      string
	Time    time.Time
	Reading Reading
}

// Estimate is the air at a minute, as far as the readings around it tell.
type Estimate struct {
	Air           Air
	Known         bool // readings tell more of Air than a race day does; How says which
	Assumed       bool // not known: Air is mostly what a race day at the elevation is like
	Carried       bool // readings have a part in Air, however small
	How           How
	DoubtFt       float64      // one standard deviation of the density altitude, ft
	ReadFt        units.Number // density altitude of the one reading that it is reckoned from, ByOne
	RiseFtPerHour units.Number // trend of density altitude in the readings; absent with one, and where they turned
	Turned        Turn         // zero where the newest reading goes on as those before
	WindMPH       units.Number // of the nearest reading, fading with its age
	WindFromDeg   units.Number
	Notes         []Note // what the readings used had to assume
}

// RangeFt is how far from that of Air the density altitude may be in 8 of 10, ft.
func (e Estimate) RangeFt() float64 { return of80 * e.DoubtFt }

// of80 standard deviations hold the middle 80 % of a normal distribution on either side.
const of80 = 1.2816

const (
	bridge = 4 * time.Hour // readings so far apart are still said to lie around a moment
	named  = 4 * time.Hour // an impossible reading as near as this is named
	most   = 8             // readings looked at on either side
)

// sample is a reading made out.
type sample struct {
	*Timed
	*made
	at int // its place among the readings
	moment
}

// comparable reports that a difference between two samples is the air's: a step from an
// assumed pressure or temperature to one that was read is no trend.
func (s sample) comparable(o sample) bool {
	return s.note.Kind == o.note.Kind || s.note.doubtFt(s.air) == 0 && o.note.doubtFt(o.air) == 0
}

// At is Place.At of readings that stand in the order of time.
func At(day []Timed, t time.Time, elevationFt units.Number) Estimate {
	return NewPlace(day, elevationFt).At(t)
}

// ReadNow is the air of one reading as it is made, at an elevation that may not be known. The
// error is that of Reading.Air.
func ReadNow(r Reading, elevationFt units.Number) (Estimate, error) {
	m := makeOut(r, elevationFt)
	if m.err != nil {
		return Estimate{}, m.err
	}
	e := Estimate{
		Air: m.air, Known: true, Carried: true, How: How{Kind: Given},
		DoubtFt: math.Hypot(readingFt, m.note.doubtFt(m.air)), WindMPH: r.WindMPH, WindFromDeg: r.WindFromDeg,
	}
	e.takeNotes(sample{made: &m})
	return e, nil
}

// firstAfter is the index of the first reading later than t.
func firstAfter(day []Timed, t time.Time) int {
	i, _ := slices.BinarySearchFunc(day, t, func(r Timed, t time.Time) int {
		if r.Time.After(t) {
			return 1
		}
		return -1
	})
	return i
}

// estimate carries samples, in order of time, to t.
func (p *Place) estimate(samples []sample, t time.Time) (e Estimate) {
	elevationFt := p.elevationFt
	asked := momentOf(t, t)
	if len(samples) == 0 {
		e.How = How{Kind: NotNear, At: t}
		if elevationFt.Known() && CheckElevation(elevationFt.Value()) == nil {
			e.assume(raceDayAir(elevationFt.Value(), asked), elevationFt.Value(), departure(asked, asked))
		}
		return e
	}
	near := nearest(samples)
	s := samples[near]
	used := samples
	if other := func(o sample) bool { return !o.comparable(s) }; slices.ContainsFunc(samples, other) {
		used = slices.DeleteFunc(slices.Clone(samples), other)
	}
	share, left := p.shares(used, asked, t.Location())
	elevation := elevationFt.Or(s.air.PressureAltitudeFt())
	air := raceDayAir(elevation, asked)
	common := 0. // ft: what the readings used have wrong together
	for i, u := range used {
		usual := p.usual(u, elevation)
		air.TempF += share[i] * (u.air.TempF - usual.TempF)
		air.StationInHg += share[i] * (u.air.StationInHg - usual.StationInHg)
		air.VapourInHg += share[i] * (u.air.VapourInHg - usual.VapourInHg)
		common += share[i] * u.note.doubtFt(u.air)
	}
	air = air.possible()
	left += readingFt*readingFt + common*common
	e.Carried = true
	e.takeWind(s)
	if math.Sqrt(left) > raceDayFt()*guessed {
		e.How = How{Kind: NotNear, At: t}
		e.assume(air, elevation, left)
		return e
	}
	e.Known, e.Air, e.DoubtFt, e.How = true, air, math.Sqrt(left), howFar(s, t)
	e.RiseFtPerHour, e.Turned = trendAt(used, s)
	if e.Turned != (Turn{}) {
		e.Turned.Since = e.Turned.Since.In(t.Location())
		e.DoubtFt = math.Sqrt(left + e.Turned.variance(s.hours))
	}
	e.takeNotes(s)
	if o, ok := across(samples, near); ok {
		first, last := s, o
		if o.hours < s.hours {
			first, last = o, s
		}
		e.How = How{Kind: ByTwo, At: first.Time.In(t.Location()), To: last.Time.In(t.Location()), ReadingID: s.ID}
		e.takeNotes(o)
	} else {
		e.ReadFt = units.Some(s.daFt)
	}
	return e
}

// guessed is the share of a race day's doubt from which on the air is called assumed: some
// ten hours after the last reading, so that yesterday's is none of today.
const guessed = 1. / 3

// assume takes air that is mostly a race day's, with the variance of its density altitude, ft².
func (e *Estimate) assume(air Air, elevationFt, variance float64) {
	e.Air, e.Assumed, e.DoubtFt = air, true, math.Sqrt(variance)
	e.Notes = append(
		e.Notes,
		Note{Kind: RaceDay, TempF: air.TempF, RHPct: air.RHPct(), ElevationFt: elevationFt, DoubtFt: e.DoubtFt},
	)
}

// nearest is the index of the sample nearest in time, of two the earlier.
func nearest(samples []sample) (near int) {
	for i := range samples {
		if s := &samples[i]; math.Abs(s.hours) < math.Abs(samples[near].hours) {
			near = i
		}
	}
	return near
}

// across is the sample next to the nearest one on the other side of the time asked for, if
// the two are close enough together.
func across(samples []sample, near int) (o sample, ok bool) {
	s, i := samples[near], near+1
	if s.hours > 0 {
		i = near - 1
	}
	if s.hours == 0 || i < 0 || i >= len(samples) || samples[i].hours*s.hours >= 0 {
		return o, false
	}
	return samples[i], samples[i].Time.Sub(s.Time).Abs() <= bridge
}

// takeWind takes the wind of a sample: whole for an hour, then falling as the winds of two
// moments grow unlike (fitted as in course.go: two thirds of it after eight hours, a
// quarter after a day).
func (e *Estimate) takeWind(s sample) {
	if s.Reading.WindMPH.Known() {
		const whole, falls = 1, 16 // hours
		left := math.Exp(-max(0, math.Abs(s.hours)-whole) / falls)
		e.WindMPH, e.WindFromDeg = units.Some(left*s.Reading.WindMPH.Value()), s.Reading.WindFromDeg
	}
}

func (e *Estimate) takeNotes(s sample) {
	if s.note.Kind != "" && !slices.Contains(e.Notes, s.note) {
		e.Notes = append(e.Notes, s.note)
	}
}

// howFar says where an estimate from one reading comes from.
func howFar(s sample, t time.Time) How {
	return How{Kind: ByOne, At: s.Time.In(t.Location()), Minutes: -int(math.Round(s.hours * 60)), ReadingID: s.ID}
}
