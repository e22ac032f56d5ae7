package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

func (a *app) airCommand() *cobra.Command {
	c := &cobra.Command{Use: "air", Short: "the weather at the track: density altitude, correction factors, readings", Example: "  slipcase air calc --temp 90F --rh 50 --station 29.92inHg"}
	c.AddCommand(a.airCalc(), a.airAdd(), a.airList(), a.airAmend(), a.airVoid())
	return c
}

func (a *app) airCalc() *cobra.Command {
	c := &cobra.Command{
		Use:   "calc",
		Short: "density, density altitude and correction factors of one reading; nothing is stored",
		Long: `Works out density, density altitude, water and correction factors of one reading.
Give a temperature; one of --rh, --dew-point, --wet-bulb; and one of --station,
--altimeter or --sea-level, the last two with --elevation. Without any pressure the
standard pressure at --elevation is taken. Humidity is over liquid water, also in frost.`,
		Example: "  slipcase air calc --temp 90F --rh 50 --station 29.92inHg\n  slipcase air calc --temp 31C --dew-point 18C --altimeter 1013hPa --elevation 247m\n  slipcase air calc --elevation 812ft --metar \"KXXX 021853Z 24006KT 10SM CLR 31/18 A2995\"",
		Args:    cobra.NoArgs,
		RunE:    do(a.calcAir),
	}
	registerReading(c)
	c.Flags().String("elevation", "", "of the track, as 812ft or 247m")
	c.Flags().Bool("force", false, "work out what looks wrong all the same")
	return c
}

func (a *app) calcAir(c *cobra.Command, _ []string) error {
	r, report, _, err := reading(c)
	if err != nil {
		return err
	}
	elevation, err := numberFlag(c, "elevation", units.Length)
	if err != nil {
		return err
	}
	air, notes, err := r.Air(elevation)
	if err != nil {
		return usage(err)
	}
	doubts, err := a.doubted(c, r.Doubts(elevation))
	if err != nil {
		return err
	}
	notes = slices.Concat(notes, doubts, report.Notes())
	remarks := slices.Concat(page.AirNotes(notes, a.units), page.CorrectionLimits(air.CorrectionLimits(), a.units))
	a.aside(remarks)
	return a.answer(newAirJSON(air, remarks), a.airTable(air), func(w io.Writer) { a.airText(w, air, remarks) })
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

func newAirJSON(air weather.Air, warnings []string) airJSON {
	if warnings == nil {
		warnings = []string{}
	}
	return airJSON{
		rounded(air.TempF, page.ToDegF), rounded(air.StationInHg, page.ToInHg), rounded(air.RHPct(), page.ToPct), rounded(air.DensityKgM3(), page.ToDensity),
		rounded(air.DensityAltitudeFt(), page.ToFt), rounded(air.PressureAltitudeFt(), page.ToFt), rounded(air.VapourInHg, page.ToInHg),
		roundedNumber(air.DewPointF(), page.ToDegF), rounded(air.WetBulbF(), page.ToDegF), rounded(air.GrainsPerLb(), page.ToGrains), rounded(air.DryDensityKgM3(), page.ToDensity),
		rounded(air.SAEJ1349(), page.ToFactor), rounded(air.SAEJ607(), page.ToFactor), rounded(air.DIN70020(), page.ToFactor), rounded(air.ISO1585(), page.ToFactor), warnings,
	}
}

func (a *app) airTable(air weather.Air) table.Table {
	t := table.Table{}
	var row []string
	add := func(head, key, cell string) {
		t.Columns = append(t.Columns, table.Column{Head: head, Key: key, Right: true})
		row = append(row, cell)
	}
	kg := func(v float64) string { return fmt.Sprintf("%.4f", v) }
	ft, inHg, f := a.suffix(units.Length), a.suffix(units.Pressure), a.suffix(units.Temperature)
	add("density altitude", "density_altitude_"+ft, a.cell(units.Length, units.Some(air.DensityAltitudeFt())))
	add("density kg/m3", "density_kg_m3", kg(air.DensityKgM3()))
	add("pressure altitude", "pressure_altitude_"+ft, a.cell(units.Length, units.Some(air.PressureAltitudeFt())))
	add("vapour pressure", "vapour_pressure_"+inHg, a.cell(units.Pressure, units.Some(air.VapourInHg)))
	add("dew point", "dew_point_"+f, a.cell(units.Temperature, air.DewPointF()))
	add("grains/lb", "grains_per_lb", fmt.Sprintf("%.1f", air.GrainsPerLb()))
	add("dry density kg/m3", "dry_density_kg_m3", kg(air.DryDensityKgM3()))
	add("SAE J1349", "cf_sae_j1349", kg(air.SAEJ1349()))
	add("SAE J607", "cf_sae_j607", kg(air.SAEJ607()))
	add("DIN 70020", "cf_din_70020", kg(air.DIN70020()))
	add("ISO 1585", "cf_iso_1585", kg(air.ISO1585()))
	t.Rows = [][]string{row}
	return t
}

func (a *app) airText(w io.Writer, air weather.Air, remarks []string) {
	some := func(k units.Kind, v float64) string { return a.show(k, units.Some(v)) }
	fmt.Fprintf(w, "density altitude   %s    density %.4f kg/m3, %.1f %% of standard\n", some(units.Length, air.DensityAltitudeFt()),
		air.DensityKgM3(), 100*air.DensityKgM3()/weather.Standard.DensityKgM3())
	fmt.Fprintf(w, "pressure altitude  %s    station pressure %s\n", some(units.Length, air.PressureAltitudeFt()), some(units.Pressure, air.StationInHg))
	fmt.Fprintf(w, "water              dew point %s, RH %.0f %%, wet bulb %s\n", a.show(units.Temperature, air.DewPointF()), air.RHPct(), some(units.Temperature, air.WetBulbF()))
	fmt.Fprintf(w, "                   vapour pressure %s, %.0f grains per lb of dry air\n", some(units.Pressure, air.VapourInHg), air.GrainsPerLb())
	fmt.Fprintf(w, "dry density        %.4f kg/m3\n", air.DryDensityKgM3())
	fmt.Fprintf(w, "power correction   SAE J1349 %.4f   SAE J607 %.4f\n", air.SAEJ1349(), air.SAEJ607())
	fmt.Fprintf(w, "                   DIN 70020 %.4f   ISO 1585 %.4f\n", air.DIN70020(), air.ISO1585())
	remarksText(w, remarks)
}

// remarksText prints what had to be assumed or is to be doubted, a line each.
func remarksText(w io.Writer, remarks []string) {
	for _, r := range remarks {
		fmt.Fprintf(w, "  note: %s\n", table.Clean(r))
	}
}

func (a *app) airList() *cobra.Command {
	c := &cobra.Command{
		Use: "list", Short: "list the readings with their density altitude", Args: cobra.NoArgs,
		Example: "  slipcase air list --track saltgrass",
		RunE: a.reads(func(c *cobra.Command, _ []string, lb *crew.Session) error {
			tracks, err := lb.Tracks()
			if err != nil {
				return err
			}
			name, _ := c.Flags().GetString("track")
			if name != "" {
				t, err := lb.Track(name)
				if err != nil {
					return err
				}
				name = t.ID
			}
			rs, err := lb.Readings(name)
			if err != nil {
				return err
			}
			return a.answer(rs, a.readingTable(rs, tracks...), nil)
		}),
	}
	c.Flags().String("track", "", "at this track alone")
	return c
}

func (a *app) airAmend() *cobra.Command {
	c := &cobra.Command{
		Use: "amend ID", Short: "correct a recorded reading; the old stays as history", Args: cobra.ExactArgs(1),
		Example: "  slipcase air amend last --temp 86F",
		RunE: a.writes(func(c *cobra.Command, args []string, lb *crew.Session) error {
			if err := somethingToChange(c); err != nil {
				return err
			}
			r, err := lb.Reading(args[0])
			if err != nil {
				return err
			}
			was := r
			track, err := lb.Track(r.Track)
			if err != nil {
				return err
			}
			r, err = lb.AmendReading(r.ID, func(r *logbook.Reading) error {
				if err := apply(c, readingFields, &r.Reading); err != nil {
					return err
				}
				at, err := amendedAt(c, "at", r.Time.Time, a.zone(track))
				if err != nil {
					return err
				}
				r.Time = logbook.Time{Time: at}
				_, err = a.checkReading(c, lb, r, track)
				return err
			})
			if err != nil {
				return err
			}
			return a.answer(r, a.readingTable([]logbook.Reading{r}, track), func(w io.Writer) {
				fmt.Fprintf(w, "recorded  air %s, revision %d\n", r.ID, r.Rev)
				changes(w, &was, &r)
			})
		}),
	}
	register(c, readingFields)
	c.Flags().String("at", "", "when it was read")
	c.Flags().Bool("force", false, "record what looks wrong as it is")
	return c
}

func (a *app) airVoid() *cobra.Command {
	return &cobra.Command{
		Use: "void ID", Short: "take a reading out; its history stays", Args: cobra.ExactArgs(1),
		Example: "  slipcase air void last",
		RunE: a.writes(func(_ *cobra.Command, args []string, lb *crew.Session) error {
			r, err := lb.Reading(args[0])
			if err != nil {
				return err
			}
			if r.Status == logbook.Void {
				return fmt.Errorf("reading %s is void already", r.ID)
			}
			r, err = lb.AmendReading(r.ID, func(r *logbook.Reading) error { r.Status = logbook.Void; return nil })
			if err != nil {
				return err
			}
			return a.answer(r, a.readingTable([]logbook.Reading{r}), func(w io.Writer) { fmt.Fprintf(w, "recorded  air %s is void\n", r.ID) })
		}),
	}
}

func (a *app) readingTable(rs []logbook.Reading, tracks ...logbook.Track) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 2},
		{Head: "time", Key: "time"},
		{Head: "track", Key: "track"},
		{Head: "temp", Key: "temp_" + a.suffix(units.Temperature), Right: true},
		{Head: "RH %", Key: "rh_pct", Right: true, Drop: 1},
		{Head: "station", Key: "station_" + a.suffix(units.Pressure), Right: true, Drop: 1},
		{Head: "density alt", Key: "density_altitude_" + a.suffix(units.Length), Right: true},
		{Head: "wind", Key: "wind_" + a.suffix(units.Speed), Right: true, Drop: 3},
		{Head: "from", Key: "wind_from_deg", Right: true, Drop: 3},
		{Head: "source", Key: "source", Drop: 4},
	}}
	at := map[string]logbook.Track{}
	for _, track := range tracks {
		at[track.ID] = track
	}
	for _, r := range logbook.WithPressure(rs) {
		row := []string{
			r.ID, a.stamp(r.Time.In(a.zone(at[r.Track]))), r.Track, a.cell(units.Temperature, r.TempF), "", "", "",
			a.cell(units.Speed, r.WindMPH), r.WindFromDeg.String(), r.Source,
		}
		if air, _, err := r.Air(at[r.Track].ElevationFt); err == nil {
			row[4] = fmt.Sprintf("%.0f", air.RHPct())
			row[5] = a.cell(units.Pressure, units.Some(air.StationInHg))
			row[6] = a.cell(units.Length, units.Some(air.DensityAltitudeFt()))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
