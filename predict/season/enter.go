package season

import (
	"math"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// reading is the newest of a day.
type reading struct {
	air  weather.Air
	hour float64
}

const (
	instrumentFt = 50.
	// A reading goes out of date by so much: a morning climbs 300 to 500 ft an hour
	// (common practice, no source), an afternoon does not.
	agesFtPerHour = 250.
)

// readAir enters the reading that the racer goes by.
func (y *year) readAir(d *day, hour float64, round int, p *predict.Pass) {
	g, at := y.s.Regime, hour+y.s.Regime.AirLateH
	if taken := d.weather.at(at).read(y.r); round == 0 || g.AirEvery == 0 || round%g.AirEvery == 0 {
		d.read = reading{taken, at}
	}
	p.Air, p.AirKnown = d.read.air, true
	p.AirDoubtFt = math.Hypot(instrumentFt, agesFtPerHour*(hour-d.read.hour))
}

// enter is what becomes of a run in the log: left out, or with a time wrongly typed.
func (y *year) enter(was timing, run *Run) {
	g, at := y.s.Regime, y.s.Finish
	if g.OnlyGood {
		run.Entered = run.CleanFt > 0 && math.Log(was.et[at]/run.Today[at]) < 0.3*y.s.NoiseSD || !run.Clean && run.CleanFt > 0
	}
	const wrong = predict.At1000
	if g.Wrong1000 > 0 && at > wrong && run.Pass.Splits.ETs[wrong].Known() && y.odd.Float64() < g.Wrong1000 {
		by := float64(1+y.odd.IntN(3)) / 10
		if y.odd.Float64() < 0.5 {
			by = -by
		}
		run.Pass.Splits.ETs[wrong] = units.Some(run.Pass.Splits.ETs[wrong].Value() + by)
	}
}
