package page

import (
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// AirLine says what the air is, and where that is known from.
func (p *Page) AirLine(air crew.Estimate) string {
	altitude := p.Show(units.Length, units.Some(air.Air.DensityAltitudeFt()))
	switch {
	case air.Assumed:
		return fmt.Sprintf("%s, taken as %s", air.How, altitude)
	case !air.Known:
		return "not known: " + strings.TrimPrefix(air.How, "no air: ")
	}
	line := fmt.Sprintf("density altitude %s, %s", altitude, air.How)
	if rise := air.RiseFtPerHour; rise.Known() && (rise.Value() > 50 || rise.Value() < -50) {
		word := "rising"
		if rise.Value() < 0 {
			word, rise = "falling", units.Some(-rise.Value())
		}
		line += fmt.Sprintf(", %s %s an hour", word, p.Show(units.Length, rise))
	}
	return line
}
