package typed

import (
	"slipcase/logbook"
	"slipcase/weather/units"
)

// threeNumbers are the low, likely and high of a figure of a part.
type threeNumbers func(*logbook.Planned) (low, likely, high *units.Number)

// three makes a field of a figure that is one, or low/likely/high.
func three(flag, help string, kind units.Kind, sign float64, at threeNumbers) Field[logbook.Planned] {
	return Field[logbook.Planned]{
		Flag: flag,
		Help: help,
		Set: func(p *logbook.Planned, bare units.System, text string) error {
			if text == Absent {
				at.clear(p)
				return nil
			}
			f, err := ParseFigure(bare, text, kind)
			if err != nil {
				return err
			}
			at.set(p, f, sign)
			return nil
		},
	}
}

func (at threeNumbers) set(p *logbook.Planned, f Figure, sign float64) {
	at.clear(p)
	low, likely, high := at(p)
	if sign < 0 {
		f.Low, f.Likely, f.High = -f.High, -f.Likely, -f.Low
	}
	if *likely = units.Some(f.Likely); !f.Alone {
		*low, *high = units.Some(f.Low), units.Some(f.High)
	}
}

func (at threeNumbers) clear(p *logbook.Planned) {
	low, likely, high := at(p)
	*low, *likely, *high = units.Number{}, units.Number{}, units.Number{}
}

var (
	gainHP threeNumbers = func(p *logbook.Planned) (_, _, _ *units.Number) {
		return &p.GainLowHP, &p.GainHP, &p.GainHighHP
	}
	gainPct threeNumbers = func(p *logbook.Planned) (_, _, _ *units.Number) {
		return &p.GainLowPct, &p.GainPct, &p.GainHighPct
	}
)

// setGain reads a gain, in hp or in percent.
func setGain(p *logbook.Planned, bare units.System, text string) error {
	gainHP.clear(p)
	gainPct.clear(p)
	if text == Absent {
		return nil
	}
	f, err := ParseFigure(bare, text, units.Power, units.Percent)
	switch {
	case err != nil:
		return err
	case f.Percent:
		gainPct.set(p, f, 1)
	default:
		gainHP.set(p, f, 1)
	}
	return nil
}

// PlanFields are the columns of a candidate change of the plan.
var PlanFields = []Field[logbook.Planned]{
	{Flag: "gain", Help: "power added, as {25hp|19kW}, 8% or low/likely/high as {15/25/30hp|11/19/22kW}", Set: setGain},
	ChoiceField(
		"power-at",
		"where that power counts: wheels or clutch",
		func(p *logbook.Planned) *string { return &p.PowerAt },
		"wheels",
		"clutch",
	),
	three("lose", "weight taken off, as {40lb|18kg}; {-15lb|-7kg} puts it on", units.Weight, -1,
		func(p *logbook.Planned) (_, _, _ *units.Number) {
			return &p.WeightLowLb, &p.WeightLb, &p.WeightHighLb
		}),
	three("grip", "launch grip added, as 5% or 2/5/8%", units.Percent, 1, func(p *logbook.Planned) (_, _, _ *units.Number) {
		return &p.GripLowPct, &p.GripPct, &p.GripHighPct
	}),
	three("cost", "what it costs, as 450 or 400/450/600; 0 when it is free", units.Money, 1,
		func(p *logbook.Planned) (_, _, _ *units.Number) {
			return &p.CostLow, &p.Cost, &p.CostHigh
		}),
	three("hours", "hours of work, as 8 or 6/8/12", units.Hours, 1, func(p *logbook.Planned) (_, _, _ *units.Number) {
		return &p.HoursLow, &p.Hours, &p.HoursHigh
	}),
	WordsField("replaces", "changes of the plan that do not go together with it, as radials,stock-headers",
		func(p *logbook.Planned) *string { return &p.Replaces }),
	WordsField(
		"needs",
		"changes of the plan that must be in with it",
		func(p *logbook.Planned) *string { return &p.Needs },
	),
	ChoiceField("safety", "the safety equipment that it is, as roll-bar: bought where the times call for it",
		func(p *logbook.Planned) *string { return &p.Safety }),
	WordsField("notes", "anything else", func(p *logbook.Planned) *string { return &p.Notes }),
}
