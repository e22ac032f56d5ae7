package predict

import (
	"math"

	"slipcase/weather"
)

// The laws by which the conditions work on a run. The car may follow each more or less
// than is usual, and its runs tell.
const (
	lawOfAir  = iota // as a multiple of the textbook's
	lawOfWind        // as the share of the reading that reaches the car
	lawOfLane        // right over left at this track, all of it at the launch: log of the time at the finish
	lawOfHeat        // of each run of a day after another, in the engine: the same
	laws
)

// lawSD is how far a car may be from the usual of each, before its runs. The lane's and
// the heat's were set by trial on the tuning seasons; the others stand in prior.go.
var lawSD = [laws]float64{airLawSD, windShareSD, 0.0015, 0.0007}

// Of a day's runs so many heat the engine, and the middle of them is what is usual.
const heatingRuns, usualHeat = 8, 2

// sens is what one more of each law would add to the logs of a run in that air.
func (e *era) sens(p *Pass, air weather.Air) [laws]vec {
	return [laws]vec{
		lawOfAir:  e.air.scaled(math.Log(e.machine.Breathing().PowerRatio(air))),
		lawOfWind: e.wind.scaled(headwind(p)),
	}
}

// sensOf is the same with what the field knows: the lane where the next run will be, and
// how many runs of its day were made before.
func (f *field) sensOf(e *era, p *Pass, air weather.Air, before int) [laws]vec {
	s := e.sens(p, air)
	if p.Track == f.next.Track {
		s[lawOfLane] = e.launch.scaled(sideOf(p.Lane))
	}
	s[lawOfHeat] = e.engine.scaled(math.Min(float64(before), heatingRuns) - usualHeat)
	return s
}

// sideOf is half a lane to either side.
func sideOf(lane string) float64 {
	switch lane {
	case "left":
		return -0.5
	case "right":
		return 0.5
	}
	return 0
}

// runsOf is how many runs of a day there are.
func (f *field) runsOf(day int) (n int) {
	for i := range f.samples {
		if f.samples[i].day == day {
			n++
		}
	}
	return n
}
