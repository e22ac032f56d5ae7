// Package season invents seasons of racing whose truth is known, to try the
// forecast on. Its physics is its own: a vehicle of parts (torque curve, gears,
// converter or clutch, tyres under weight transfer) stepped through time, so that
// a forecast is never tried on the equations it was made from.
package season

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Run is one pass as the racer logged it, and the truth behind it.
type Run struct {
	Pass    predict.Pass
	Clean   bool                   // at full power to the finish, nothing gone wrong
	CleanFt float64                // how far it was clean
	Mean    [predict.Marks]float64 // ET of the car's ordinary run in that air, s
	Setup   int                    // 0 before the upgrade, 1 after
	// Nth counts the runs of the setup in force, from 0.
	Nth      int
	NewTrack bool // first day at a track not raced before
}

// Season is a year of one vehicle.
type Season struct {
	Seed   uint64
	Kind   predict.Kind
	Finish predict.Mark // the longest distance it races
	Runs   []Run
	// Standard deviations of ln ET at the finish: from run to run, day to day.
	NoiseSD, DaySD float64
	// Elasticity is d ln ET/d ln P at the finish, after the upgrade.
	Elasticity float64
	// TrueChange is ln(ET after/ET before) the upgrade, in ordinary air at home.
	TrueChange [predict.Marks]float64
	// SheetError is ln(stated/true power) of the two setups; Sheet false: none.
	SheetError [2]float64
	Sheet      bool
}

const (
	meets     = 8
	sheetSD   = 0.02
	spoiled   = 0.08
	liftShare = 0.30
)

// New invents the season of a seed.
func New(seed uint64) Season {
	y := begin(seed, 0x5ea50)
	y.hold()
	return *y.s
}

// begin invents a vehicle and what its year will be like.
func begin(seed, stream uint64) *year {
	r := rand.New(rand.NewPCG(seed, stream))
	s := &Season{Seed: seed, Kind: predict.Car, Finish: predict.At1320, Sheet: r.Float64() < 0.85}
	target := pick(r, 8, 17)
	if r.Float64() < 0.3 {
		s.Kind, target = predict.Motorcycle, pick(r, 7, 12)
	}
	switch u := r.Float64(); {
	case u < 0.2:
		s.Finish = predict.At660
	case u < 0.3:
		s.Finish = predict.At1000
	}
	s.NoiseSD, s.DaySD = pick(r, 0.002, 0.006), pick(r, 0.001, 0.005)
	gain := pick(r, 1.05, 1.4)
	m := newMachine(r, s.Kind, target, gain)
	y := &year{r: r, s: s, m: m, gain: gain, upgradeAt: 3 + r.IntN(3), style: r.Float64()}
	y.noise = newSpread(m, r, s.Finish, s.NoiseSD, pick(r, 0.3, 0.8))
	y.day = newSpread(m, r, s.Finish, s.DaySD, pick(r, 0.3, 0.8))
	home := pick(r, 0, 5800)
	away := math.Abs(home + 800*r.NormFloat64())
	if r.Float64() < 0.25 {
		away = pick(r, 0, 5800)
	}
	y.elevation = [2]float64{home, math.Min(away, 5800)}
	for i := range s.SheetError {
		s.SheetError[i] = sheetSD * r.NormFloat64()
	}
	return y
}

// year is a season being made.
type year struct {
	r          *rand.Rand
	s          *Season
	m          *machine
	gain       float64
	upgradeAt  int
	style      float64 // decides which splits the track prints
	noise, day spread
	elevation  [2]float64
	setup, nth int
}

func (y *year) hold() {
	awayMeets := map[int]bool{1 + y.r.IntN(3): true, 4 + y.r.IntN(4): true}
	seen := map[int]bool{}
	for meet := range meets {
		if meet == y.upgradeAt {
			y.upgrade()
		}
		track := 0
		if awayMeets[meet] {
			track = 1
		}
		y.meet(meet, track, !seen[track] && meet > 0)
		seen[track] = true
	}
}

func (y *year) upgrade() {
	y.setup, y.nth = 1, 0
	air := sky{morningC: 22, dewC: 12, stationKPa: stationKPa(y.elevation[0])}.at(9)
	before := y.m.run(air, effects{}).et
	y.m.peak *= y.gain
	y.m.mass += pick(y.r, 0, 20) * units.KgPerLb
	for m, et := range y.m.run(air, effects{}).et {
		y.s.TrueChange[m] = math.Log(et / before[m])
	}
	const e = 0.02
	p := y.m.peak
	y.m.peak = p * math.Exp(e)
	up := y.m.run(air, effects{})
	y.m.peak = p * math.Exp(-e)
	down := y.m.run(air, effects{})
	y.m.peak = p
	y.s.Elasticity = math.Log(up.et[y.s.Finish]/down.et[y.s.Finish]) / (2 * e)
}

func (y *year) meet(meet, track int, first bool) {
	weather := newSky(y.r, y.elevation[track])
	today := y.day.draw(y.r)
	date := time.Date(2026, 4, 4+14*meet, 0, 0, 0, 0, time.UTC)
	rounds := 4 + y.r.IntN(6)
	hour := pick(y.r, 9, 10.5)
	for round := range rounds {
		at := date.Add(time.Duration(hour * float64(time.Hour))).Truncate(time.Minute)
		run := y.pass(weather.at(hour), today, round)
		run.NewTrack = first
		run.Pass.ID = fmt.Sprintf("r%d-%d", meet, round)
		run.Pass.Time, run.Pass.Day = at, date.Format(time.DateOnly)
		run.Pass.Track = [2]string{"home", "away"}[track]
		y.s.Runs = append(y.s.Runs, run)
		y.nth++
		hour += pick(y.r, 0.7, 1.7)
	}
}

func (y *year) pass(air state, today effects, round int) Run {
	e := y.noise.draw(y.r)
	e.launch += today.launch
	e.power += today.power
	run := Run{Setup: y.setup, Nth: y.nth, Clean: true, CleanFt: 1320}
	y.mishap(&e, &run)
	if run.Clean && round >= 2 && y.r.Float64() < liftShare {
		y.lift(&e, &run)
	}
	run.Mean = y.m.run(air, effects{}).et
	run.Pass.Machine = y.machine()
	run.Pass.Splits = y.slip(y.m.run(air, e))
	run.Pass.Air, run.Pass.AirKnown, run.Pass.AirDoubtFt = air.read(y.r), true, 50
	return run
}

// mishap spoils a run: wheelspin, a missed gear, or an engine off song.
func (y *year) mishap(e *effects, run *Run) {
	if y.r.Float64() >= spoiled {
		return
	}
	run.Clean, run.CleanFt = false, 0
	flag := predict.Broke
	switch y.r.IntN(3) {
	case 0:
		e.spin, e.spinFt, flag = pick(y.r, 0.25, 0.6), pick(y.r, 20, 90), predict.Spun
	case 1:
		e.missS = pick(y.r, 0.25, 0.8)
	default:
		e.power -= pick(y.r, 0.08, 0.3)
	}
	if y.r.Float64() < 0.25 {
		run.Pass.Effort = flag
	}
}

// lift ends a run early, a lead in hand.
func (y *year) lift(e *effects, run *Run) {
	end := y.s.Finish.Ft()
	e.liftFt, e.left = end*pick(y.r, 0.55, 0.97), pick(y.r, 0, 0.4)
	flag := predict.Lifted
	if y.r.Float64() < 0.3 {
		e.brake, flag = pick(y.r, 1, 4), predict.Braked
	}
	run.Clean, run.CleanFt = false, e.liftFt
	if y.r.Float64() < 0.5 {
		run.Pass.Effort = flag
		if y.r.Float64() < 0.6 {
			run.Pass.FullFt = units.Some(math.Round(e.liftFt/50) * 50)
		}
	}
}

func (y *year) machine() predict.Machine {
	m := predict.Machine{
		Kind: y.m.kind, Aspiration: y.m.aspiration, Drive: y.m.drive, Setup: [2]string{"first", "upgraded"}[y.setup],
		WeightLb: units.Some(math.Round(y.m.mass / units.KgPerLb)),
	}
	if y.s.Sheet {
		m.PowerHP = units.Some(math.Round(y.m.peak / units.WattPerHP * math.Exp(y.s.SheetError[y.setup])))
		m.PowerAt, m.Standard = predict.AtWheels, predict.StandardJ607
	}
	return m
}

// slip prints what the track's timer prints, rounded as it rounds.
func (y *year) slip(t timing) predict.Splits {
	var out predict.Splits
	for m := predict.At60; m <= y.s.Finish; m++ {
		printed := m == y.s.Finish || y.style < 0.7 || y.style < 0.9 && (m == predict.At60 || m == predict.At660)
		if !printed || m != y.s.Finish && y.r.Float64() < 0.03 || math.IsNaN(t.et[m]) {
			continue
		}
		out.ETs[m] = units.Some(math.Round(t.et[m]*1000) / 1000)
		if m == y.s.Finish || m == predict.At660 {
			out.MPHs[m] = units.Some(math.Round(t.mph[m]*100) / 100)
		}
	}
	return out
}
