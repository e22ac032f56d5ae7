// Package report writes a log as one page for a browser: one file that needs no script and
// fetches nothing.
package report

import (
	"context"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"sync"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/picture"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

//go:embed report.html
var text string

//go:embed report.css
var css string

var form = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("report").Funcs(template.FuncMap{
		"right": func(c []table.Column, i int) bool { return c[i].Right },
	}).Parse(text))
})

// pictures are those that a report has of each vehicle.
var pictures = []string{"trend", "air", "forecasts", "splits", "rounds", "reaction", "lanes", "change"}

// mostSetups are as many as are held against the one before them, the newest.
const mostSetups = 8

// Report is what a page tells.
type Report struct {
	Title    string
	CSS      template.CSS
	Made     string
	Vehicles []Vehicle
}

// Vehicle is the part of one vehicle.
type Vehicle struct {
	ID, Name, Span string
	Says           []string // the summary's sentences
	Due            string
	Tables         []page.Titled
	Setups         table.Table
	Pictures       []Picture
	Runs           []page.RunTold // the newest first
}

// Picture is a chart with its drawing.
type Picture struct {
	page.Chart
	ID      string
	SVG     template.HTML
	Figures table.Table
}

// Runs are how many runs a report has.
func (r *Report) Runs() (n int) {
	for _, v := range r.Vehicles {
		n += len(v.Runs)
	}
	return n
}

// Write writes the page.
func (r *Report) Write(w io.Writer) error { return form().Execute(w, r) }

// Make gathers what a report tells of vehicles, of the runs that a filter keeps.
func Make(
	ctx context.Context,
	log *crew.Session,
	words *page.Page,
	vehicles []crew.Vehicle,
	f crew.RunFilter,
) (*Report, error) {
	p := *words
	p.Format = table.Text
	r := &Report{Title: "Runs", CSS: template.CSS(css), Made: log.Now().Format(page.DateForm)}
	if len(vehicles) == 1 {
		r.Title = table.Clean(vehicles[0].Name())
	}
	for i, v := range vehicles {
		part, err := tell(ctx, &picture.Source{Log: log, Page: &p, Vehicle: v, Keep: f.Keeps}, f)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", v.ID, err)
		}
		part.ID = fmt.Sprint("v", i+1)
		for j := range part.Pictures {
			if err := part.Pictures[j].draw(fmt.Sprintf("%s-%s", part.ID, part.Pictures[j].Kind)); err != nil {
				return nil, err
			}
		}
		r.Vehicles = append(r.Vehicles, part)
	}
	return r, nil
}

func tell(ctx context.Context, from *picture.Source, f crew.RunFilter) (v Vehicle, err error) {
	js, _, err := from.Judge(ctx, math.MaxInt)
	if err != nil {
		return v, err
	}
	g, err := from.Gather(ctx)
	if err != nil {
		return v, err
	}
	p := from.Page
	v.Name, v.Span = table.Clean(from.Vehicle.Name()), page.Span(g.Runs)
	for i := range slices.Backward(js) {
		v.Runs = append(v.Runs, p.RunTold(&js[i]))
	}
	if err := v.summary(from, g, f); err != nil {
		return v, err
	}
	for _, name := range pictures {
		kind := picture.Kinds[slices.IndexFunc(picture.Kinds, func(k picture.Kind) bool { return k.Name == name })]
		chart, err := kind.Chart(ctx, from)
		if err != nil {
			return v, err
		}
		if len(chart.Panels) > 0 {
			v.Pictures = append(v.Pictures, Picture{Chart: chart})
		}
	}
	return v, nil
}

// draw makes the drawing and the figures of a picture; id is its own on the page.
func (p *Picture) draw(id string) error {
	svg, err := picture.Inline(&p.Chart, id)
	p.ID, p.SVG, p.Figures = id, template.HTML(svg), p.Table() // its words were escaped as it was drawn
	p.Figures.DropEmpty()
	return err
}

// summary is what comes first: bests, rounds, what the air costs, the setups, what is due.
func (v *Vehicle) summary(from *picture.Source, g crew.Gathered, f crew.RunFilter) error {
	log, p := from.Log, from.Page
	season, err := log.Season(from.Vehicle.ID, 0, f)
	if err != nil {
		return err
	}
	bests, err := log.Bests(from.Vehicle.ID, f)
	if err != nil {
		return err
	}
	says, rounds := p.Rounds(season)
	v.Tables = append(p.BestTables(bests), rounds...)
	if len(g.Runs) > 0 {
		day, err := log.SeeDay(g.On(g.LastDay()), 1)
		if err != nil {
			return err
		}
		if day.Dial != nil {
			v.Says = append(v.Says, p.NextSays(*day.Dial, day.Today))
		}
	}
	v.Says = append(v.Says, says...)
	line, err := from.AirLine(g)
	if err != nil {
		return err
	}
	if len(line.Points) > 0 {
		v.Says = append(v.Says, p.LineSays(from.Vehicle, line, g.Mark)...)
	}
	due, err := log.DueOf(from.Vehicle.ID, log.Now())
	if err != nil {
		return err
	}
	v.Due = page.Due(due)
	v.Setups = setups(log, p, g)
	return nil
}

// setups are those that gathered runs were made with, each against the one before it.
func setups(log *crew.Session, p *page.Page, g crew.Gathered) table.Table {
	var used []crew.Setup
	for _, r := range g.Runs {
		if s := r.Run.Setup; s.ID != "" && !slices.ContainsFunc(used, func(u crew.Setup) bool { return u.ID == s.ID }) {
			used = append(used, s)
		}
	}
	brought := map[string]crew.Compared{}
	for i := max(1, len(used)-mostSetups); i < len(used); i++ {
		if told, err := log.Compare([2]crew.Setup{used[i-1], used[i]}, units.Number{}); err == nil {
			brought[used[i].ID] = told
		}
	}
	return p.SetupsTold(used, brought)
}
