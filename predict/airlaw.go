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
	// A turbo's wastegate is taken to hold 12 psi above the ambient pressure:
	// common practice, no source.
	turboBoostInHg = 12 * units.PascalPerPsi / units.PascalPerInHg
)

// PowerRatio is the power in this air over the power in weather.Standard. A
// natural engine follows SAE J1349 in full (prior 1.0 ± 0.15 of its effect), a
// blown one by a share of it; a turbocharged one feels only the part of the
// pressure that the wastegate does not hold, and all of the temperature and the
// water. An empty aspiration counts as natural.
func PowerRatio(asp Aspiration, air weather.Air) float64 {
	switch asp {
	case Supercharged:
		return math.Pow(naturalRatio(air), blowerShare)
	case Turbocharged:
		return naturalRatio(behindTurbo(air))
	}
	return naturalRatio(air)
}

func naturalRatio(air weather.Air) float64 { return weather.Standard.SAEJ1349() / air.SAEJ1349() }

// behindTurbo is the air that would do to a natural engine what this air does to
// one with a turbo held at a gauge pressure: its dry pressure stands to standard
// as the dry pressures in the manifold do, its temperature stays.
func behindTurbo(air weather.Air) weather.Air {
	dry := air.DryInHg() / air.StationInHg
	held := (air.StationInHg + turboBoostInHg) / (weather.Standard.StationInHg + turboBoostInHg)
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
	k := math.Cbrt(PowerRatio(p.Machine.Aspiration, p.Air))
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
