package page

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// forecastJSON is a forecast as other programs read it.
type forecastJSON struct {
	forecastBasis
	bands bandsJSON
}

type forecastBasis struct {
	Basis       string        `json:"basis"`
	RunsLeftOut []leftOutJSON `json:"runs_left_out"`
	RunsUsed    int           `json:"runs_used"`
	Warnings    []string      `json:"warnings"`
}

type leftOutJSON struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

func (p *Page) newForecastJSON(f *crew.Forecast, far crew.Mark) *forecastJSON {
	basis := forecastBasis{Basis(f.Basis), []leftOutJSON{}, f.RunsUsed, Notes(f.Notes, p.Units)}
	for _, l := range f.LeftOut {
		basis.RunsLeftOut = append(basis.RunsLeftOut, leftOutJSON{l.ID, LeftOut(l, p.Units)})
	}
	return &forecastJSON{basis, newBandsJSON(f, far)}
}

// MarshalJSON writes the bands beside the other keys.
func (f *forecastJSON) MarshalJSON() ([]byte, error) { return f.bands.beside(f.forecastBasis) }

// bandsJSON are the figures of a forecast, each with its 50, 80 and 95 % intervals:
// et_1320_s, et_1320_low50_s, mph_1320 and so on.
type bandsJSON map[string]float64

func newBandsJSON(f *crew.Forecast, far crew.Mark) bandsJSON {
	out := bandsJSON{}
	put := func(name, unit string, b crew.Band, decimals int) {
		if b.Centre <= 0 {
			return
		}
		for end, v := range map[string]float64{
			"": b.Centre, "_low50": b.Low50, "_high50": b.High50,
			"_low80": b.Low80, "_high80": b.High80, "_low95": b.Low95, "_high95": b.High95,
		} {
			out[name+end+unit] = rounded(v, decimals)
		}
	}
	for m := crew.At60; m <= far; m++ {
		put(fmt.Sprintf("et_%g", m.Ft()), "_s", f.ETs[m], ToS)
		put(fmt.Sprintf("mph_%g", m.Ft()), "", f.MPHs[m], ToMPH)
	}
	return out
}

// beside writes an object with the bands after its own keys.
func (b bandsJSON) beside(object any) ([]byte, error) {
	own, err := json.Marshal(object)
	if err != nil {
		return nil, err
	}
	bands, err := json.Marshal(map[string]float64(b))
	if err != nil || len(b) == 0 {
		return own, err
	}
	return slices.Concat(own[:len(own)-1], []byte(","), bands[1:]), nil
}

// nextJSON is the forecast of a vehicle's next run.
type nextJSON struct {
	nextRun
	bands bandsJSON
}

type nextRun struct {
	Vehicle    string       `json:"vehicle"`
	Setup      string       `json:"setup"`
	Track      string       `json:"track"`
	Time       crew.Time    `json:"time"`
	DensityAlt units.Number `json:"density_altitude_ft"`
	AirHow     string       `json:"air_how"`
	AirKnown   bool         `json:"air_known"`
	Per1000Ft  []costJSON   `json:"per_1000_ft"`
	Why        *whyJSON     `json:"why,omitempty"`
	forecastBasis
}

// MarshalJSON writes the bands beside the other keys.
func (n nextJSON) MarshalJSON() ([]byte, error) { return n.bands.beside(n.nextRun) }

// NextRun tells the forecast of a vehicle's next run.
func (p *Page) NextRun(x crew.Forecasted) error {
	run, f := &x.Run, &x.Forecast
	notes := p.nextNotes(run, f)
	cautions := Cautions(x.Cautions, p.Units)
	beside := slices.Concat([]string{}, notes, cautions)
	basis := p.newForecastJSON(f, x.Far)
	basis.Warnings = beside
	out := nextJSON{nextRun{
		Vehicle: run.Vehicle.ID, Setup: run.Setup.Name, Track: run.Track.ID, Time: run.Slip.Time,
		DensityAlt: roundedNumber(
			crew.DensityAltitude(*run),
			ToFt,
		), AirHow: AirHow(run.Air.How), AirKnown: NoAir(run.Air, f, p.Units) == "",
		Per1000Ft: newCostsJSON(x.Cost, asFarAs(x.Far)), Why: p.newWhyJSON(x), forecastBasis: basis.forecastBasis,
	}, basis.bands}
	t := p.bandTable(f, x.Far)
	beyond := t // for a spreadsheet: what was asked
	if x.Why != nil {
		beyond = whyTable(x)
	}
	p.Aside(beside)
	return p.Answer(out, beyond, func(w io.Writer) {
		if no := NoAir(run.Air, f, p.Units); no != "" {
			fmt.Fprintln(w, no)
			notes = notes[1:]
		}
		fmt.Fprintf(w, "%s at %s, %s\n", run.Vehicle.Name(), OrDash(run.Track.Name()), When(run.Slip.Time.Time))
		fmt.Fprintf(w, "%s at %g ft, %s\n\n", p.RunText(f.Centre(), x.Far), x.Far.Ft(), eightOf10(f.ETs[x.Far]))
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.why(w, x)
		p.Say(w, "setup", OrDash(run.Setup.Name))
		p.Say(w, "air", p.airOfNext(run.Air))
		p.Say(w, "altitude", p.HeatCost(run.Vehicle, x.Cost, x.Far))
		p.Say(w, "forecast from", Basis(f.Basis))
		for _, r := range notes {
			p.Say(w, "note", r)
		}
		const shown = 4
		for _, l := range f.LeftOut[:min(shown, len(f.LeftOut))] {
			p.Say(w, "left out", "run "+l.ID+": "+LeftOut(l, p.Units))
		}
		if more := len(f.LeftOut) - shown; more > 0 {
			p.Say(w, "left out", fmt.Sprintf("and %d more: --format json names them", more))
		}
		for _, r := range cautions {
			p.Say(w, "caution", r)
		}
	})
}

func (p *Page) bandTable(f *crew.Forecast, far crew.Mark) table.Table {
	mph := p.Suffix(units.Speed)
	t := table.Table{Columns: []table.Column{
		{Head: "ft", Key: "distance_ft", Right: true},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "8 of 10 from", Key: "et_low80_s", Right: true},
		{Head: "to", Key: "et_high80_s", Right: true},
		{Head: units.Speed.Symbol(p.Units), Key: "speed_" + mph, Right: true},
		{Head: "from", Key: "speed_low80_" + mph, Right: true, Drop: 1},
		{Head: "to", Key: "speed_high80_" + mph, Right: true, Drop: 1},
	}}
	for m := crew.At60; m <= far; m++ {
		b, s := f.ETs[m], f.MPHs[m]
		row := table.Cells{
			"distance_ft": fmt.Sprintf("%g", m.Ft()), "et_s": Seconds(units.Some(b.Centre)),
			"et_low80_s": Seconds(units.Some(b.Low80)), "et_high80_s": Seconds(units.Some(b.High80)),
		}
		if s.Centre > 0 {
			for end, v := range map[string]float64{"": s.Centre, "low80_": s.Low80, "high80_": s.High80} {
				row["speed_"+end+mph] = p.Speed(units.Some(v))
			}
		}
		t.AddCells(row)
	}
	return t
}
