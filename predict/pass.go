package predict

import (
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// Mark is one of the timed distances of a slip.
type Mark int

// The timed distances, counted from where the car stood.
const (
	At60 Mark = iota
	At330
	At660
	At1000
	At1320
	Marks // how many there are
)

var markFt = [Marks]float64{60, 330, 660, 1000, 1320}

// Ft is the distance in feet.
func (m Mark) Ft() float64 { return markFt[m] }

// Splits are the times and speeds of one run, by Mark; any may be absent.
type Splits struct {
	ETs  [Marks]units.Number // seconds since the clock started
	MPHs [Marks]units.Number // mean speed over the last 66 ft before the mark
}

// Finish is the farthest mark with a time, false when there is none.
func (s Splits) Finish() (Mark, bool) {
	for m := At1320; m >= At60; m-- {
		if s.ETs[m].Known() {
			return m, true
		}
	}
	return 0, false
}

// Kind says what is raced.
type Kind string

// The kinds of vehicle.
const (
	Car        Kind = "car"
	Motorcycle Kind = "motorcycle"
)

// Aspiration says how the engine is fed.
type Aspiration string

// The aspirations.
const (
	Natural      Aspiration = "natural"
	Supercharged Aspiration = "supercharged"
	Turbocharged Aspiration = "turbocharged"
)

// Drive says which wheels are driven.
type Drive string

// The drives; empty counts as rear.
const (
	RearDrive  Drive = "rear"
	FrontDrive Drive = "front"
	AllDrive   Drive = "all"
)

// Effort says whether a run was made at full power, as far as the racer noted it.
type Effort string

// The efforts; empty means not noted.
const (
	FullPower Effort = "yes"
	Lifted    Effort = "lifted"
	Braked    Effort = "braked"
	Spun      Effort = "spun"
	Broke     Effort = "broke"
)

// Machine is the vehicle as one setup makes it.
type Machine struct {
	Kind       Kind
	Aspiration Aspiration
	Drive      Drive
	Body       string
	Setup      string       // names the setup: runs of one setup belong together
	WeightLb   units.Number // ready to run, with driver or rider
	PowerHP    units.Number // as stated on the sheet
	PowerAt    Place
	Standard   Standard
	PowerDay   DynoDay      // of that figure
	BoostPsi   units.Number // of a turbo, where it is known
	BoostHeld  Hold         // and what its wastegate holds
	Drivetrain Drivetrain   // as the setup has it
}

// Pass is one run as the predictor sees it: plain values, no file and no log.
type Pass struct {
	ID      string // names the run when it is left out
	Time    time.Time
	Day     string // runs of one day at one track share its luck
	Track   string
	Lengths []float64 // distances timed at the track, ft
	Lane    string
	Machine Machine
	First   Machine // its first setup, of which Machine is a stated change; zero without. Counts before it has run
	Splits  Splits
	// A throttle stop is on for StopS from StopFromS after the launch; 0 without one.
	StopFromS, StopS float64

	Effort Effort
	FullFt units.Number // how far it ran at full power, where noted

	Air         weather.Air
	AirKnown    bool    // false: there was no reading near enough; Air is then what is assumed, or zero
	AirDoubtFt  float64 // standard deviation of the air's density altitude, ft
	HeadwindMPH float64 // positive against the car; 0 when not known
	WindKnown   bool
}
