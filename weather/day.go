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
	Known         bool // false when no reading is near enough; How says so
	Assumed       bool // not known, but Air is what a race day at the elevation is like
	How           How
	DoubtFt       float64      // one standard deviation of the density altitude, ft
	RiseFtPerHour units.Number // trend of density altitude; absent with one reading
	WindMPH       units.Number // of the nearest reading, if within an hour
	WindFromDeg   units.Number
	Notes         []Note // what the readings used had to assume
}

// How far a reading reaches, and what its age costs. The doubts are common
// practice without a source: a hot morning climbs 300-500 ft an hour, an
// afternoon hardly at all.
const (
	reach     = 2 * time.Hour // one reading alone
	bridge    = 4 * time.Hour // two readings, one on each side
	windReach = time.Hour

	instrumentFt = 50.0  // sd of one reading: 0.7 °F and 2 % RH
	slopeFtPerH  = 250.0 // sd of the trend before any reading tells it
	wanderFtPerH = 120.0 // sd of what the air does besides its trend
)

// sample is a reading made out: hours from the time asked for, negative before it.
type sample struct {
	Timed
	hours float64
	air   Air
	note  Note
}

// comparable reports that a difference in pressure between two samples is the
// air's: a step from an assumed pressure to a measured one is no trend.
func (s sample) comparable(o sample) bool { return (s.note.DoubtInHg > 0) == (o.note.DoubtInHg > 0) }

// At is the air at t for a run already made: between the nearest readings
// before and after it when those are at most four hours apart, otherwise from
// the nearer side up to two hours. The readings need not be sorted; those of
// other hours are not looked at. An impossible one is left out, and a note
// names it.
func At(day []Timed, t time.Time, elevationFt units.Number) Estimate {
	samples, bad := samplesAround(day, t, elevationFt)
	e := estimateFrom(samples, t)
	if !e.Known && elevationFt.Known() {
		e.assume(elevationFt.Value())
	}
	e.Notes = append(e.Notes, bad...)
	return e
}

// A race day when nothing was read: warm, at the standard pressure of the
// elevation, and wide open (common practice, no source).
const raceDayTempF, raceDayRHPct, raceDayDoubtFt = 78, 50, 1500

// assume puts a race day's air where none is known. An elevation that cannot be
// leaves the estimate without air.
func (e *Estimate) assume(elevationFt float64) {
	day := Reading{TempF: units.Some(raceDayTempF), RHPct: units.Some(raceDayRHPct)}
	air, _, err := day.Air(units.Some(elevationFt))
	if err != nil {
		return
	}
	e.Air, e.Assumed, e.DoubtFt = air, true, raceDayDoubtFt
	e.Notes = append(e.Notes, Note{Kind: RaceDay, TempF: raceDayTempF, RHPct: raceDayRHPct, ElevationFt: elevationFt, DoubtFt: raceDayDoubtFt})
}

func estimateFrom(samples []sample, t time.Time) Estimate {
	after := slices.IndexFunc(samples, func(s sample) bool { return s.hours >= 0 })
	switch {
	case len(samples) == 0:
		return unknown(t)
	case after < 0:
		return carry(samples, len(samples)-1, t)
	case after == 0 || samples[after].hours == 0:
		return carry(samples, after, t)
	}
	before := after - 1
	if samples[after].Time.Sub(samples[before].Time) <= bridge {
		return between(samples[before], samples[after], t)
	}
	if -samples[before].hours <= samples[after].hours {
		return carry(samples[:after], before, t)
	}
	return carry(samples[after:], 0, t)
}

// Forecast is the air at t as it can be forecast at now: readings taken later than
// now, or than t itself, are not looked at, a trend in the earlier ones is carried
// at most an hour on and damped, and the doubt grows with the age of the last.
func Forecast(day []Timed, now, t time.Time, elevationFt units.Number) Estimate {
	known := slices.DeleteFunc(slices.Clone(day), func(r Timed) bool { return r.Time.After(now) || r.Time.After(t) })
	return At(known, t, elevationFt)
}

// samplesAround makes out the readings near t, in order of time, and names the
// impossible ones.
func samplesAround(day []Timed, t time.Time, elevationFt units.Number) (samples []sample, bad []Note) {
	for _, r := range day {
		age := r.Time.Sub(t)
		if age < -bridge || age > bridge {
			continue
		}
		air, note, err := r.Reading.resolve(elevationFt)
		if err != nil {
			bad = append(bad, Note{Kind: Impossible, ReadingID: r.ID, Err: err})
			continue
		}
		samples = append(samples, sample{r, age.Hours(), air, note})
	}
	slices.SortStableFunc(samples, func(a, b sample) int { return a.Time.Compare(b.Time) })
	return samples, bad
}

func unknown(t time.Time) Estimate {
	return Estimate{How: How{Kind: NotNear, At: t}}
}

// between draws a straight line from the reading before to the one after.
func between(b, a sample, t time.Time) Estimate {
	gap := a.hours - b.hours
	share := -b.hours / gap
	e := Estimate{
		Known: true,
		How:   How{Kind: ByTwo, At: b.Time.In(t.Location()), To: a.Time.In(t.Location())},
		Air: Air{
			TempF:       b.air.TempF + share*(a.air.TempF-b.air.TempF),
			StationInHg: b.air.StationInHg + share*(a.air.StationInHg-b.air.StationInHg),
			VapourInHg:  b.air.VapourInHg + share*(a.air.VapourInHg-b.air.VapourInHg),
		}.possible(),
	}
	// Away from both readings the air wanders from the line, most in the middle.
	wander := slopeFtPerH * share * (1 - share) * gap
	pressure := math.Max(b.note.DoubtInHg, a.note.DoubtInHg) * e.Air.ftPerInHg()
	e.DoubtFt = norm(instrumentFt, wander, pressure)
	if b.comparable(a) {
		e.RiseFtPerHour, _ = trend([]sample{b, a}, Air.DensityAltitudeFt)
	}
	nearest := b
	if a.hours < -b.hours {
		nearest = a
	}
	e.takeWind(nearest)
	e.takeNotes(b, a)
	return e
}

// carry takes the reading at index near to t, along the trend of the readings
// within two hours of it. A reading of the very minute is taken as it is.
func carry(samples []sample, near int, t time.Time) Estimate {
	s := samples[near]
	if math.Abs(s.hours) > reach.Hours() {
		return unknown(t)
	}
	around := slices.DeleteFunc(slices.Clone(samples), func(o sample) bool {
		return o.Time.Sub(s.Time).Abs() > reach || !o.comparable(s)
	})
	e := Estimate{Known: true, Air: s.air, How: howFar(s, t)}
	var trust float64
	e.RiseFtPerHour, trust = trend(around, Air.DensityAltitudeFt)
	if s.hours != 0 {
		e.Air = drifted(around, s)
	}
	slope := slopeFtPerH * math.Sqrt(1-trust)
	e.DoubtFt = norm(instrumentFt, s.hours*slope, s.hours*wanderFtPerH, s.note.DoubtInHg*s.air.ftPerInHg())
	e.takeWind(s)
	e.takeNotes(s)
	return e
}

func (e *Estimate) takeWind(s sample) {
	if math.Abs(s.hours) <= windReach.Hours() {
		e.WindMPH, e.WindFromDeg = s.Reading.WindMPH, s.Reading.WindFromDeg
	}
}

func (e *Estimate) takeNotes(used ...sample) {
	for _, s := range used {
		if s.note.Kind != "" && !slices.Contains(e.Notes, s.note) {
			e.Notes = append(e.Notes, s.note)
		}
	}
}

// howFar says where an estimate from one reading comes from.
func howFar(s sample, t time.Time) How {
	return How{Kind: ByOne, At: s.Time.In(t.Location()), Minutes: -int(math.Round(s.hours * 60))}
}

func norm(parts ...float64) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p * p
	}
	return math.Sqrt(sum)
}
