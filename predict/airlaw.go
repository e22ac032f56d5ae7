package predict

import (
	"math"

	"slipcase/weather"
	"slipcase/weather/units"
)

const (
	// A blower of fixed drive keeps its pressure ratio: it feels the air nearly
	// as a natural engine does (prior 0.95 ± 0.15 of SAE J1349's effect).
	blowerShare = 0.95
	// UsualTurboPsi is what a turbo of which nothing is said is taken to hold 12 psi above the ambient pressure:
	// common practice, no source.
	UsualTurboPsi = 12
)

// Breathing is how an engine takes its air.
type Breathing struct {
	Aspiration Aspiration
	BoostPsi   units.Number // of a turbo, above the ambient pressure of standard air
	Held       Hold         // what its wastegate holds: HoldsGauge where it is empty
}

// Breathing is that of the machine.
func (m Machine) Breathing() Breathing { return Breathing{m.Aspiration, m.BoostPsi, m.BoostHeld} }

// PowerRatio is the power in this air over the power in weather.Standard. A
// natural engine follows SAE J1349 in full (prior 1.0 ± 0.15 of its effect), a
// blown one by a share of it. A turbocharged one feels all of the temperature and the
// water, and of the pressure the part that its wastegate does not hold: one that holds
// boost above ambient (ambient + boost)/(standard + boost) of it, one that holds the
// absolute pressure nothing. An empty aspiration counts as natural.
func (b Breathing) PowerRatio(air weather.Air) float64 {
	switch b.Aspiration {
	case Supercharged:
		return math.Pow(naturalRatio(air), blowerShare)
	case Turbocharged:
		return naturalRatio(b.behindTurbo(air))
	}
	return naturalRatio(air)
}

// PowerRatio is that of an engine of which no more than its aspiration is known.
func PowerRatio(asp Aspiration, air weather.Air) float64 {
	return Breathing{Aspiration: asp}.PowerRatio(air)
}

func naturalRatio(air weather.Air) float64 { return weather.Standard.SAEJ1349() / air.SAEJ1349() }

// behindTurbo is the air that would do to a natural engine what this air does to
// one with a turbo: its dry pressure stands to standard as the dry pressures in the
// manifold do, its temperature stays.
func (b Breathing) behindTurbo(air weather.Air) weather.Air {
	boost := b.BoostPsi.Or(UsualTurboPsi) * units.PascalPerPsi / units.PascalPerInHg
	dry := air.DryInHg() / air.StationInHg
	held := (air.StationInHg + boost) / (weather.Standard.StationInHg + boost)
	switch b.Held {
	case HoldsAbsolute:
		held = 1
	case HoldsRatio:
		held = air.StationInHg / weather.Standard.StationInHg
	}
	return weather.Air{TempF: air.TempF, StationInHg: weather.Standard.StationInHg * held * dry}
}

// airShare is how much of the air's effect on the time at 660 ft and beyond
// counts at each mark. The first 60 ft are grip's, so none there; the seconds
// gained from 60 to 660 ft are then shared out by time, which at constant power
// (t as distance^⅔) gives 330 ft (1 - (60/330)^⅔)/(1 - (60/660)^⅔) = 0.85. The
// shares are fixed, so that a split left off the slip does not move the others.
var airShare = [Marks]float64{0, 0.85, 1, 1, 1}

// Correct gives the run as it would have been in weather.Standard, false when
// its air is not known: by the cube-root law ET x ratio^⅓ and MPH x ratio^-⅓
// with PowerRatio, early splits less (60 ft not at all).
func Correct(p Pass) (Splits, bool) {
	if !p.AirKnown {
		return p.Splits, false
	}
	k := math.Cbrt(p.Machine.Breathing().PowerRatio(p.Air))
	var s Splits
	for m := range Marks {
		if et := p.Splits.ETs[m]; et.Known() {
			s.ETs[m] = units.Some(et.Value() * math.Pow(k, airShare[m]))
		}
		if mph := p.Splits.MPHs[m]; mph.Known() {
			s.MPHs[m] = units.Some(mph.Value() / k)
		}
	}
	return s, true
}
