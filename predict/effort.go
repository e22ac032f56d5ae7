package predict

import "slipcase/weather/units"

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
