package page

import (
	"fmt"
	"io"
	"slices"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// bestJSON is the best of a figure; its value is in s or mph, a reaction's after the
// perfect light.
type bestJSON struct {
	Vehicle     string       `json:"vehicle"`
	Track       string       `json:"track"` // "" with class "" too: of all
	Class       string       `json:"class"`
	Figure      string       `json:"figure"`
	DistanceFt  units.Number `json:"distance_ft,omitzero"`
	AsRun       *topmostJSON `json:"as_run"`
	StandardAir *topmostJSON `json:"standard_air"`
}

type topmostJSON struct {
	S    units.Number `json:"s,omitzero"`
	MPH  units.Number `json:"mph,omitzero"`
	Slip string       `json:"slip"`
	Time crew.Time    `json:"time"`
}

func newTopmostJSON(of crew.BestOf, t crew.Topmost) *topmostJSON {
	if !t.Known() {
		return nil
	}
	out := &topmostJSON{Slip: t.Run.Slip.ID, Time: t.Run.Slip.Time}
	if of == crew.BestSpeed {
		out.MPH = someRounded(t.Value, ToMPH)
	} else {
		out.S = someRounded(t.Value, ToS)
	}
	return out
}

// Bests lists the bests.
func (p *Page) Bests(list []crew.Best) error {
	out := []bestJSON{}
	for _, b := range list {
		one := bestJSON{
			Vehicle: b.Vehicle, Track: b.Track, Class: b.Class, Figure: string(b.Of),
			AsRun: newTopmostJSON(b.Of, b.AsRun), StandardAir: newTopmostJSON(b.Of, b.Standard),
		}
		if b.Of != crew.BestReaction {
			one.DistanceFt = units.Some(b.Mark.Ft())
		}
		out = append(out, one)
	}
	t := p.bestTable(list)
	if p.Format == table.Markdown {
		t.DropEmpty()
	}
	return p.Answer(out, t, func(w io.Writer) { p.bestText(w, list) })
}

// bestText tells the bests of each group under its name.
func (p *Page) bestText(w io.Writer, list []crew.Best) {
	if len(list) == 0 {
		fmt.Fprintln(w, "none recorded yet")
		return
	}
	for from := 0; from < len(list); {
		to := from
		for to < len(list) && bestGroup(list, to) == bestGroup(list, from) {
			to++
		}
		if from > 0 {
			fmt.Fprintln(w)
		}
		p.Wrap(w, table.Clean(bestGroup(list, from)))
		p.bestsOf(list[from:to]).Render(w, table.Text, p.Width())
		from = to
	}
}

// bestsOf are the bests of one group.
func (p *Page) bestsOf(list []crew.Best) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "figure"},
		{Head: "as run", Key: "as_run", Right: true},
		{Head: "on", Key: "as_run_day"},
		{Head: "std air", Key: "standard", Right: true},
		{Head: "on", Key: "standard_day", Drop: 1},
	}}
	for _, b := range list {
		t.AddCells(table.Cells{
			"figure": p.bestName(b), "as_run": p.topmost(b.Of, b.AsRun), "as_run_day": p.topmostDay(b.AsRun),
			"standard": p.topmost(b.Of, b.Standard), "standard_day": p.topmostDay(b.Standard),
		})
	}
	return t
}

// bestGroup names a group; one without a class where others at its track have one says so.
func bestGroup(list []crew.Best, i int) string {
	b := list[i]
	classed := func(o crew.Best) bool { return o.Vehicle == b.Vehicle && o.Track == b.Track && o.Class != "" }
	where := b.Track
	switch {
	case b.Track == "" && b.Class == "":
		where = "anywhere"
	case b.Class == "" && slices.ContainsFunc(list, classed):
		where = b.Track + ", no class"
	case b.Class != "":
		where = OrDash(b.Track) + ", " + b.Class
	}
	return b.Vehicle + ", " + where
}

func (p *Page) bestName(b crew.Best) string {
	switch b.Of {
	case crew.BestReaction:
		return "reaction"
	case crew.BestSpeed:
		return fmt.Sprintf("%g ft %s", b.Mark.Ft(), units.Speed.Symbol(p.Units))
	}
	return fmt.Sprintf("%g ft", b.Mark.Ft())
}

func (p *Page) topmost(of crew.BestOf, t crew.Topmost) string {
	switch {
	case !t.Known():
		return ""
	case of == crew.BestSpeed:
		return p.Speed(units.Some(t.Value))
	case of == crew.BestReaction:
		return short(t.Value, 3)
	}
	return Seconds(units.Some(t.Value))
}

func (p *Page) topmostDay(t crew.Topmost) string {
	if !t.Known() {
		return ""
	}
	return t.Run.Slip.Time.Format(time.DateOnly)
}

// bestTable is all of them, as other programs read them.
func (p *Page) bestTable(list []crew.Best) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "vehicle", Key: "vehicle"},
		{Head: "track", Key: "track"},
		{Head: "class", Key: "class", Drop: 1},
		{Head: "figure", Key: "figure"},
		{Head: "ft", Key: "distance_ft", Right: true},
		{Head: "unit", Key: "unit"},
		{Head: "as run", Key: "as_run", Right: true},
		{Head: "time", Key: "as_run_time"},
		{Head: "slip", Key: "as_run_slip"},
		{Head: "std air", Key: "standard_air", Right: true},
		{Head: "time", Key: "standard_air_time"},
		{Head: "slip", Key: "standard_air_slip"},
	}}
	for _, b := range list {
		row := table.Cells{
			"vehicle": b.Vehicle, "track": b.Track, "class": b.Class, "figure": string(b.Of), "unit": "s",
			"as_run": p.topmost(b.Of, b.AsRun), "as_run_time": p.Stamp(b.AsRun.Run.Slip.Time.Time),
			"as_run_slip": b.AsRun.Run.Slip.ID, "standard_air": p.topmost(b.Of, b.Standard),
			"standard_air_time": p.Stamp(b.Standard.Run.Slip.Time.Time), "standard_air_slip": b.Standard.Run.Slip.ID,
		}
		switch b.Of {
		case crew.BestSpeed:
			row["unit"] = units.Speed.Symbol(p.Units)
			fallthrough
		case crew.BestET:
			row["distance_ft"] = fmt.Sprintf("%g", b.Mark.Ft())
		}
		t.AddCells(row)
	}
	return t
}
