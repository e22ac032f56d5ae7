// Package season invents seasons of racing whose truth is known, to try the
// forecast on. Its physics is its own, twice: a vehicle of parts (torque curve, gears,
// converter or clutch, tires under weight transfer) stepped through time, and another
// that shares no equation with it (package powertrain); so that a forecast is never
// tried on the equations it was made from.
//
// What is set by trial is set on the seeds below 10,000, and judged on those from
// 100,001 on.
package season

import (
	"slipcase/predict"
	"slipcase/weather"
)

// Simulator says whose physics a vehicle obeys.
type Simulator int

// The simulators: machine.go and drive.go here; package powertrain.
const (
	First Simulator = iota
	Second
)

// Run is one pass as the racer logged it, and the truth behind it.
type Run struct {
	Pass    predict.Pass
	Clean   bool                   // at full power to the finish, nothing gone wrong
	CleanFt float64                // how far it was clean
	Mean    [predict.Marks]float64 // ET of the car's ordinary run in that air, s, with all that lasts: wear, lane, driver
	Today   [predict.Marks]float64 // the same with the day's own luck: what the run was but for its own
	Air     weather.Air            // as it was; the pass has what was read of it
	Setup   int                    // 0 before the upgrade, 1 after
	// Nth counts the runs of the setup in force, from 0; Round those of the day.
	Nth, Round int
	NewTrack   bool // first day at a track not raced before

	SlowDay bool   // out of the ordinary: Regime.SlowDays
	Hidden  bool   // after the change that nobody entered
	Driver  string // "first", or "other"
	// Stop is how the throttle stop was set, StopOffForIndex the off time that would
	// have made the index but for the day's luck and the run's, s.
	Stop            Stop
	StopOffForIndex float64
	Entered         bool // false: the racer never logged it
}

// Season is a year of one vehicle.
type Season struct {
	Simulator Simulator
	Seed      uint64
	Regime    Regime
	Kind      predict.Kind
	Limit     Limit        // of the launch
	Finish    predict.Mark // the longest distance it races
	Index     float64      // s; 0 without
	Runs      []Run
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

// New invents the season of a seed, by the first simulator.
func New(seed uint64) Season { return Make(First, seed, Regime{}) }

// Make invents the season of a seed under a regime.
func Make(by Simulator, seed uint64, g Regime) Season {
	y := begin(by, seed, 0x5ea50, AnyLimit, g)
	y.hold()
	return *y.s
}

// Entered are the runs that the racer logged.
func (s Season) Entered() []Run {
	var some []Run
	for _, r := range s.Runs {
		if r.Entered {
			some = append(some, r)
		}
	}
	return some
}
