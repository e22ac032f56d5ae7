package page

import (
	"fmt"
	"io"
	"slices"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Air answers what one reading makes, with notes on the reading.
func (p *Page) Air(air crew.Air, notes []crew.AirNote) error {
	remarks := append(AirNotes(notes, p.Units), CorrectionLimits(air.CorrectionLimits(), p.Units)...)
	p.Aside(remarks)
	return p.Answer(newAirJSON(air, remarks), p.airTable(air), func(w io.Writer) {
		p.airText(w, air, slices.ContainsFunc(notes, func(n crew.AirNote) bool { return n.Kind == crew.DensityAlone }))
		remarksText(w, remarks)
	})
}

// airJSON is the air as other programs read it.
type airJSON struct {
	TempF              float64      `json:"temp_f"`
	StationInHg        float64      `json:"station_inhg"`
	RHPct              float64      `json:"rh_pct"`
	DensityKgM3        float64      `json:"density_kg_m3"`
	DensityAltitudeFt  float64      `json:"density_altitude_ft"`
	PressureAltitudeFt float64      `json:"pressure_altitude_ft"`
	VapourInHg         float64      `json:"vapour_pressure_inhg"`
	DewPointF          units.Number `json:"dew_point_f,omitzero"`
	WetBulbF           float64      `json:"wet_bulb_f"`
	GrainsPerLb        float64      `json:"grains_per_lb"`
	DryDensityKgM3     float64      `json:"dry_density_kg_m3"`
	SAEJ1349           float64      `json:"cf_sae_j1349"`
	SAEJ607            float64      `json:"cf_sae_j607"`
	DIN70020           float64      `json:"cf_din_70020"`
	ISO1585            float64      `json:"cf_iso_1585"`
	Warnings           []string     `json:"warnings"`
}

func newAirJSON(air crew.Air, warnings []string) airJSON {
	if warnings == nil {
		warnings = []string{}
	}
	return airJSON{
		rounded(air.TempF, ToDegF), rounded(air.StationInHg, ToInHg), rounded(air.RHPct(), ToPct),
		rounded(
			air.DensityKgM3(),
			ToDensity,
		), rounded(air.DensityAltitudeFt(), ToFt), rounded(air.PressureAltitudeFt(), ToFt),
		rounded(air.VapourInHg, ToInHg), roundedNumber(air.DewPointF(), ToDegF), rounded(air.WetBulbF(), ToDegF),
		rounded(air.GrainsPerLb(), ToGrains), rounded(air.DryDensityKgM3(), ToDensity), rounded(air.SAEJ1349(), ToFactor),
		rounded(air.SAEJ607(), ToFactor), rounded(air.DIN70020(), ToFactor), rounded(air.ISO1585(), ToFactor), warnings,
	}
}

func (p *Page) airTable(air crew.Air) table.Table {
	t := table.Table{}
	var row []string
	add := func(head, key, cell string) {
		t.Columns = append(t.Columns, table.Column{Head: head, Key: key, Right: true})
		row = append(row, cell)
	}
	kg := func(v float64) string { return fmt.Sprintf("%.4f", v) }
	ft, inHg, f := p.Suffix(units.Length), p.Suffix(units.Pressure), p.Suffix(units.Temperature)
	add("density altitude", "density_altitude_"+ft, p.Cell(units.Length, units.Some(air.DensityAltitudeFt())))
	add("density kg/m3", "density_kg_m3", kg(air.DensityKgM3()))
	add("pressure altitude", "pressure_altitude_"+ft, p.Cell(units.Length, units.Some(air.PressureAltitudeFt())))
	add("vapor pressure", "vapour_pressure_"+inHg, p.Cell(units.Pressure, units.Some(air.VapourInHg)))
	add("dew point", "dew_point_"+f, p.Cell(units.Temperature, air.DewPointF()))
	add("grains/lb", "grains_per_lb", fmt.Sprintf("%.1f", air.GrainsPerLb()))
	add("dry density kg/m3", "dry_density_kg_m3", kg(air.DryDensityKgM3()))
	add("SAE J1349", "cf_sae_j1349", kg(air.SAEJ1349()))
	add("SAE J607", "cf_sae_j607", kg(air.SAEJ607()))
	add("DIN 70020", "cf_din_70020", kg(air.DIN70020()))
	add("ISO 1585", "cf_iso_1585", kg(air.ISO1585()))
	t.Rows = [][]string{row}
	return t
}

// airText tells the air; of one of which the density alone is known no water.
func (p *Page) airText(w io.Writer, air crew.Air, alone bool) {
	feet, pressure := p.showing(units.Length), p.showing(units.Pressure)
	fmt.Fprintf(w, "density altitude   %s    density %.4f kg/m3, %.1f %% of standard\n",
		feet(air.DensityAltitudeFt()), air.DensityKgM3(), 100*air.DensityKgM3()/crew.StandardAir.DensityKgM3())
	fmt.Fprintf(
		w,
		"pressure altitude  %s    station pressure %s\n",
		feet(air.PressureAltitudeFt()),
		pressure(air.StationInHg),
	)
	if !alone {
		p.waterText(w, air)
	}
	fmt.Fprintf(w, "power correction   SAE J1349 %.4f   SAE J607 %.4f\n", air.SAEJ1349(), air.SAEJ607())
	fmt.Fprintf(w, "                   DIN 70020 %.4f   ISO 1585 %.4f\n", air.DIN70020(), air.ISO1585())
}

func (p *Page) waterText(w io.Writer, air crew.Air) {
	fmt.Fprintf(w, "water              dew point %s, RH %.0f %%, wet bulb %s\n",
		p.Show(units.Temperature, air.DewPointF()), air.RHPct(), p.showing(units.Temperature)(air.WetBulbF()))
	fmt.Fprintf(
		w,
		"                   vapor pressure %s, %s of dry air\n",
		p.showing(units.Pressure)(air.VapourInHg),
		p.water(air),
	)
	fmt.Fprintf(w, "dry density        %.4f kg/m3\n", air.DryDensityKgM3())
}

// remarksText prints what had to be assumed or is to be doubted, a line each.
func remarksText(w io.Writer, remarks []string) {
	for _, r := range remarks {
		fmt.Fprintf(w, "  note: %s\n", table.Clean(r))
	}
}

// showing shows quantities of a kind that are known.
func (p *Page) showing(k units.Kind) func(us float64) string {
	return func(us float64) string { return p.Show(k, units.Some(us)) }
}

// water is that in some dry air.
func (p *Page) water(air crew.Air) string {
	if p.Units == units.US {
		return fmt.Sprintf("%.0f grains per lb", air.GrainsPerLb())
	}
	const grainsInLb = 7000
	return fmt.Sprintf("%.1f g per kg", air.GrainsPerLb()/grainsInLb*1000)
}
