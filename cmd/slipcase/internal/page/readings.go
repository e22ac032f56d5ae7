package page

import (
	"errors"
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Readings lists recorded air.
func (p *Page) Readings(list []crew.Aired) error {
	return p.Answer(readingsOf(list), p.readingTable(list...), nil)
}

func readingsOf(list []crew.Aired) []crew.Reading {
	rs := make([]crew.Reading, len(list))
	for i, a := range list {
		rs[i] = a.Reading
	}
	return rs
}

// ReadingAdded tells of a reading that was recorded, and how the air changes by the
// hour; readBack shows how a line was understood.
func (p *Page) ReadingAdded(a crew.Aired, now crew.Estimate, readBack bool, remarks []string) error {
	return p.Answer(a.Reading, p.readingTable(a), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  air at %s, %s: density altitude %s\n",
			a.Track.Name(), When(a.Reading.Time.Time), p.showing(units.Length)(a.Air.DensityAltitudeFt()))
		if readBack && !a.Reading.DensityAltitudeFt.Known() {
			pressure := "station pressure"
			if !crew.PressureRead(a.Reading) {
				pressure = "pressure taken as"
			}
			fmt.Fprintf(w, "          %s, RH %.0f %%, %s %s\n", p.showing(units.Temperature)(a.Air.TempF), a.Air.RHPct(),
				pressure, p.showing(units.Pressure)(a.Air.StationInHg))
		}
		if turned := airTurned(now, p.Units); turned != "" {
			fmt.Fprintf(w, "          %s\n", turned)
		} else if rise := AirRise(now, p.Units); rise != "" {
			fmt.Fprintf(w, "          %s\n", rise)
		}
		remarksText(w, remarks)
	})
}

// ReadingsAdded tells of readings that were recorded together.
func (p *Page) ReadingsAdded(list []crew.Aired, remarks []string) error {
	p.Aside(remarks)
	t := p.readingTable(list...)
	return p.Answer(readingsOf(list), t, func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %d readings\n\n", len(list))
		t.Render(w, table.Text, p.Width())
		remarksText(w, remarks)
	})
}

// ReadingAmended tells of an amendment; changed says what of it differs.
func (p *Page) ReadingAmended(a crew.Aired, changed []crew.CellChange) error {
	head := fmt.Sprintf("recorded  air %s, revision %d", a.Reading.ID, a.Reading.Rev)
	return p.amended(a.Reading, p.readingTable(a), head, changed)
}

// ReadingStatus tells of a reading taken out or put back.
func (p *Page) ReadingStatus(r crew.Reading) error {
	called := fmt.Sprintf("at %s of %s", r.Track, When(r.Time.Time))
	t := p.readingTable(crew.Aired{Reading: r, At: r.Time.Time, Err: errors.New("not made out")})
	return p.status(r, t, "air", called, "air", r.Entry)
}

// ReadingRemarks says what is to be known of a reading that was checked, besides the
// notes of its report.
func (p *Page) ReadingRemarks(c crew.Checked, report []crew.AirNote) []string {
	remarks := AirNotes(c.Notes, p.Units)
	if c.TakenIn.Known() {
		remarks = append(
			remarks,
			AirNote(crew.AirNote{Kind: crew.PressureTaken, StationInHg: c.TakenIn.Value()}, p.Units),
		)
	}
	return append(remarks, AirNotes(report, p.Units)...)
}

// ReadingDoubts says what looks wrong in a reading.
func (p *Page) ReadingDoubts(c crew.Checked) []string {
	doubts := AirDoubts(c.Doubts, p.Units)
	if c.Again != "" {
		doubts = append(doubts, fmt.Sprintf("it is the reading of %s again (%s)", c.At.Format("15:04"), c.Again))
	}
	if c.Future {
		doubts = append(doubts, inFuture(c.At, c.Now))
	}
	return doubts
}

func (p *Page) readingTable(list ...crew.Aired) table.Table {
	temp, station := "temp_"+p.Suffix(units.Temperature), "station_"+p.Suffix(units.Pressure)
	da, wind := "density_altitude_"+p.Suffix(units.Length), "wind_"+p.Suffix(units.Speed)
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 2},
		{Head: "time", Key: "time"},
		{Head: "track", Key: "track"},
		{Head: "temp", Key: temp, Right: true},
		{Head: "RH %", Key: "rh_pct", Right: true, Drop: 1},
		{Head: "station", Key: station, Right: true, Drop: 1},
		{Head: "density alt", Key: da, Right: true},
		{Head: "wind", Key: wind, Right: true, Drop: 3},
		{Head: "from", Key: "wind_from_deg", Right: true, Drop: 3},
		{Head: "source", Key: "source", Drop: 4},
	}}
	for _, a := range list {
		r := a.Reading
		row := table.Cells{
			"id": r.ID, "time": p.Stamp(a.At), "track": r.Track, temp: p.Cell(units.Temperature, r.TempF),
			wind: p.Cell(units.Speed, r.WindMPH), "wind_from_deg": r.WindFromDeg.String(), "source": r.Source,
		}
		if a.Err == nil {
			if !r.DensityAltitudeFt.Known() {
				row["rh_pct"] = fmt.Sprintf("%.0f", a.Air.RHPct())
				if !a.TakenIn.Known() && crew.PressureRead(r) {
					row[station] = p.Cell(units.Pressure, units.Some(a.Air.StationInHg))
				}
			}
			row[da] = p.Cell(units.Length, units.Some(a.Air.DensityAltitudeFt()))
		}
		t.AddCells(row)
	}
	return t
}
