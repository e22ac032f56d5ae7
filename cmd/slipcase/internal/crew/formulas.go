package crew

import (
	"cmp"
	"slices"

	"slipcase/predict"
	"slipcase/weather/units"
)

// FormulaAsk is a machine of which nothing but its weight and power is known.
type FormulaAsk struct {
	Machine        predict.Machine
	LossPct        units.Number // of the driveline, of the power at the clutch; as usual when absent
	Air            *Estimate    // nil: the power is taken as stated
	AspirationSaid bool
}

// ByFormulas is what the published formulas make of a weight and a power.
type ByFormulas struct {
	Ask      FormulaAsk
	Loss     float64 // that was taken, as a share of the power at the clutch
	ClutchHP float64 // in the air given
	HP       float64 // what the formulas take for it
	Formulas []ByFormula
	Notes    []Note    // of what was assumed about the power
	Unusual  []Unusual // what of weight and power is hard to believe
	Cautions []Caution // of the quick end of Fox's
}

// ByFormula is what one formula says, s and mph.
type ByFormula struct {
	Name                           string
	ET1320, MPH1320, ET660, MPH660 float64
}

// Formulas forecasts by the published formulas.
func Formulas(ask FormulaAsk) (out ByFormulas, err error) {
	m := ask.Machine
	if out.Loss, err = lossOf(m, ask.LossPct); err != nil {
		return out, err
	}
	stated := predict.StatedPower{HP: m.PowerHP.Value(), At: m.PowerAt, Standard: m.Standard, Loss: out.Loss}
	out.Ask, out.Notes = ask, stated.Assumed(ask.Air != nil)
	if ask.Air == nil {
		out.ClutchHP, err = stated.Clutch()
	} else {
		out.ClutchHP, err = stated.ClutchIn(m.Breathing(), ask.Air.Air)
	}
	out.HP = predict.ForFormulas(m.Kind, out.ClutchHP, out.Loss)
	for _, f := range predict.Formulas {
		if err == nil {
			var one ByFormula
			one, err = formulaSays(f, m.WeightLb.Value(), out.HP)
			out.Formulas = append(out.Formulas, one)
		}
	}
	if err != nil {
		return out, markImpossible("", err)
	}
	var quick Splits
	fox := out.Fox()
	quick.ETs[At1320] = units.Some(fox.ET1320 * (1 - 2*predict.Doubt))
	quick.ETs[At660] = units.Some(fox.ET660 * (1 - 2*predict.Doubt))
	quick.MPHs[At1320] = units.Some(fox.MPH1320 * (1 + 2*predict.Doubt))
	out.Cautions, out.Unusual = predict.Cautions(m, quick), UnusualBuild(m.WeightLb, m.PowerHP)
	return out, nil
}

// mostLossPct is more than any driveline loses (common practice, no source).
const mostLossPct = 60

// lossOf is the loss of a machine's driveline, as a share: as said in percent, else the usual
// one. It refuses a machine or a loss that cannot be.
func lossOf(m predict.Machine, pct units.Number) (float64, error) {
	if v := pct.Value(); !(v >= 0 && v < mostLossPct) {
		return 0, outside("loss", "want 0 to under %d percent", mostLossPct)
	}
	if _, err := predict.CheckWeight(m.WeightLb.Value()); err != nil {
		return 0, markImpossible("", err)
	}
	if pct.Known() {
		return pct.Value() / 100, nil
	}
	return predict.DefaultLoss(m.Kind, m.Drive), nil
}

// Fox is what Fox's formula says.
func (f *ByFormulas) Fox() ByFormula {
	return f.Formulas[slices.IndexFunc(f.Formulas, func(f ByFormula) bool { return f.Name == predict.Fox.Name })]
}

func formulaSays(f predict.Formula, weightLb, hp float64) (out ByFormula, err error) {
	out.Name = f.Name
	for _, want := range []struct {
		at *float64
		of func(m Mark, weightLb, hp float64) (float64, error)
		m  Mark
	}{{&out.ET1320, f.ET, At1320}, {&out.MPH1320, f.MPH, At1320}, {&out.ET660, f.ET, At660}, {&out.MPH660, f.MPH, At660}} {
		if *want.at, err = want.of(want.m, weightLb, hp); err != nil {
			return out, err
		}
	}
	return out, nil
}

// ImpliedAsk is a run of which the power is asked.
type ImpliedAsk struct {
	Machine predict.Machine // its weight, and the standard to correct the power to
	ET, MPH units.Number    // at the quarter mile
	LossPct units.Number
	Air     *Estimate // nil: the power is that of the run's air
}

// ImpliedPower is the power that moved a run.
type ImpliedPower struct {
	Ask      ImpliedAsk
	Loss     float64 // that was taken, as a share of the power at the clutch
	Formulas []Implied
	Standard predict.Standard // that the power is corrected to, "" where it is that of the run's air
	Times    float64          // by which it was
	Gap      *predict.Gap     // between time and speed, by Fox's; nil without both
}

// Implied is the power that one formula gives, by the time and by the speed, hp.
type Implied struct {
	Name                                             string
	ClutchByET, WheelsByET, ClutchByMPH, WheelsByMPH units.Number
}

// Implies goes from a time or a speed back to power, by each formula.
func Implies(ask ImpliedAsk) (out ImpliedPower, err error) {
	out.Ask, out.Times = ask, 1
	if out.Loss, err = lossOf(ask.Machine, ask.LossPct); err != nil {
		return out, err
	}
	if ask.Air != nil {
		out.Standard = cmp.Or(ask.Machine.Standard, predict.SAE)
		if out.Times, err = out.Standard.Stating(ask.Machine.Breathing(), ask.Air.Air); err != nil {
			return out, markImpossible("", err)
		}
	}
	for _, f := range predict.Formulas {
		one, err := ask.by(f, out.Times, out.Loss)
		if err != nil {
			return out, markImpossible("", err)
		}
		out.Formulas = append(out.Formulas, one)
	}
	if ask.ET.Known() && ask.MPH.Known() {
		i, err := predict.ImpliedPower(predict.Fox, At1320, ask.Machine.WeightLb.Value(), ask.ET.Value(), ask.MPH.Value())
		if err != nil {
			return out, markImpossible("", err)
		}
		gap := i.Gap(units.Number{})
		out.Gap = &gap
	}
	return out, nil
}

func (ask ImpliedAsk) by(f predict.Formula, times, loss float64) (Implied, error) {
	out := Implied{Name: f.Name}
	for _, from := range []struct {
		figure         units.Number
		power          func(m Mark, weightLb, figure float64) (float64, error)
		clutch, wheels *units.Number
	}{
		{ask.ET, f.PowerFromET, &out.ClutchByET, &out.WheelsByET},
		{ask.MPH, f.PowerFromMPH, &out.ClutchByMPH, &out.WheelsByMPH},
	} {
		if !from.figure.Known() {
			continue
		}
		hp, err := from.power(At1320, ask.Machine.WeightLb.Value(), from.figure.Value())
		if err != nil {
			return out, err
		}
		wheels, clutch := predict.FromFormulas(ask.Machine.Kind, times*hp, loss)
		*from.clutch, *from.wheels = units.Some(clutch), units.Some(wheels)
	}
	return out, nil
}
