package predict

import (
	"fmt"

	"slipcase/weather/units"
)

// notedSplits are the splits within the racer's own note of full power.
func notedSplits(p Pass) (Splits, string) {
	spoiled := p.Effort != "" && p.Effort != FullPower
	switch {
	case p.FullFt.Known():
		full := p.Splits.upTo(p.FullFt.Value())
		if full == p.Splits {
			return full, ""
		}
		why := fmt.Sprintf("full power to %g ft", p.FullFt.Value())
		if spoiled {
			why = string(p.Effort) + ", " + why
		}
		return full, why
	case spoiled:
		return Splits{}, string(p.Effort) + ", not noted where"
	}
	return p.Splits, ""
}

// upTo drops the marks beyond the distance in ft.
func (s Splits) upTo(ft float64) Splits {
	for m := range Marks {
		if m.Ft() > ft {
			s.ETs[m], s.MPHs[m] = units.Number{}, units.Number{}
		}
	}
	return s
}

// FullEffort reports whether the racer noted nothing that speaks against full power.
func FullEffort(e Effort) bool { return e == "" || e == FullPower }
