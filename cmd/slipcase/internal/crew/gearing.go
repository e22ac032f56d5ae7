package crew

import (
	"fmt"

	"slipcase/predict"
	"slipcase/weather/units"
)

// GearingAsk are the figures of a gearing: one of the first four is to be found, or
// with all of them the slip.
type GearingAsk struct {
	RPM, MPH, TyreIn, Rear units.Number
	Top, Slip              float64 // ratio of the gear at the stripe; share lost
}

// Missing counts which of the four are not given.
func (g GearingAsk) Missing() int { return 4 - countKnown(g.RPM, g.MPH, g.TyreIn, g.Rear) }

// Geared is a gearing, whole.
type Geared struct {
	RPM, MPH, TyreIn, Rear, Top, SlipPct float64
	Found                                GearingFigure
}

// GearingFigure is one of the figures of a gearing.
type GearingFigure string

// The figures.
const (
	EngineSpeed GearingFigure = "rpm"
	StripeSpeed GearingFigure = "speed"
	TyreSize    GearingFigure = "tire"
	RearGear    GearingFigure = "rear gear"
	Slippage    GearingFigure = "slip"
)

// Gearing finds the figure that is missing.
func Gearing(ask GearingAsk) (Geared, error) {
	rpm, mph, tyre, rear := ask.RPM.Value(), ask.MPH.Value(), ask.TyreIn.Value(), ask.Rear.Value()
	if err := predict.CheckGearing(rpm, mph, tyre, rear*ask.Top, ask.Slip); err != nil {
		return Geared{}, markImpossible("", err)
	}
	g := predict.Gearing{TyreIn: tyre, Ratio: rear * ask.Top, Slip: ask.Slip}
	out := Geared{rpm, mph, tyre, rear, ask.Top, 100 * ask.Slip, Slippage}
	switch {
	case !ask.RPM.Known():
		out.RPM, out.Found = g.RPM(mph), EngineSpeed
	case !ask.MPH.Known():
		out.MPH, out.Found = g.MPH(rpm), StripeSpeed
	case !ask.TyreIn.Known():
		out.TyreIn, out.Found = g.TyreFor(rpm, mph), TyreSize
	case !ask.Rear.Known():
		out.Rear, out.Found = g.RatioFor(rpm, mph)/ask.Top, RearGear
	default:
		slip := g.SlipFrom(rpm, mph)
		if slip > 0.5 {
			return Geared{}, impossiblef(
				"",
				"slip %.0f percent: want up to 50; one of the four is wrong, or the gear is another",
				100*slip,
			)
		}
		out.SlipPct = 100 * slip
	}
	return out, nil
}

// StripeMPH is the speed that is expected at its end, absent where none is timed.
func (n *Next) StripeMPH() (units.Number, Mark, error) {
	f, err := n.Expect()
	if err != nil {
		return units.Number{}, 0, fmt.Errorf("%s: %w", n.Run.Vehicle.ID, err)
	}
	m := Farthest(n.Run.Track, &f)
	if f.MPHs[m].Centre == 0 {
		return units.Number{}, m, nil
	}
	return units.Some(f.MPHs[m].Centre), m, nil
}
