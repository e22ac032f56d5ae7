package page

import (
	"fmt"
	"slices"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// Unusual say which weights and powers are hard to believe.
func (p *Page) Unusual(list []crew.Unusual) []string {
	return each(list, func(u crew.Unusual) string { return unusual(u, p.Units) })
}

func unusual(u crew.Unusual, sys units.System) string {
	of, behind := units.Weight, ", ready to run with driver or rider"
	if u.Quantity == crew.EnginePower {
		of, behind = units.Power, ""
	}
	shown := func(us float64) string {
		if sys == units.US {
			return fmt.Sprintf("%g", us)
		}
		return fmt.Sprintf("%.0f", of.In(sys, us))
	}
	return fmt.Sprintf(
		"%s %s is hard to believe: %s to %s %s%s is usual",
		u.Quantity,
		shown(u.Value),
		shown(u.Low),
		shown(u.High),
		of.Symbol(sys),
		behind,
	)
}

// SetupDoubts say what of a setup is hard to believe: of a weight or power far from those of the
// vehicle's other setups, with the unit that was likely meant.
func (p *Page) SetupDoubts(all crew.SetupDoubts) []string {
	far := each(all.Far, func(d crew.SetupDoubt) string {
		of := units.Weight
		if d.Quantity == crew.EnginePower {
			of = units.Power
		}
		says := string(d.Quantity) + " " + of.Format(p.Units, d.Value)
		if d.Usual > 0 {
			says += " where its setup has " + of.Format(p.Units, d.Usual)
		} else {
			says += " of a motorcycle with its rider"
		}
		if d.Likely != "" {
			says += "; likely " + d.Likely + " was meant"
		}
		return says
	})
	return slices.Concat(p.Unusual(all.Unusual), far, p.Outliers(all.Outliers))
}

// Outliers say which values are hard to believe.
func (p *Page) Outliers(list []crew.Outlier) []string {
	return each(list, func(o crew.Outlier) string { return outlier(o, p.Units) })
}

func outlier(o crew.Outlier, sys units.System) string {
	return fmt.Sprintf("%s %s: usual is %s", o.Name, o.Kind.Of(o.Value).In(sys), o.Kind.Between(o.Low, o.High).In(sys))
}
