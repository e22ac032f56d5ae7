package page

import (
	"fmt"
	"io"
	"math"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
)

// Consistency tells how alike a vehicle's runs are, and how to move its launch.
func (p *Page) Consistency(k crew.Alike) error {
	return p.Answer(p.newAlikeJSON(k), alikeTable(k), func(w io.Writer) { p.alikeText(w, k) })
}

func (p *Page) alikeText(w io.Writer, k crew.Alike) {
	most := 0
	for _, f := range k.Figures {
		for _, g := range f.Groups[:min(1, len(f.Groups))] {
			most = max(most, g.N)
		}
	}
	head := fmt.Sprintf("%s, %s; reactions count from the perfect light; "+
		"in brackets the 95 %% range", k.Vehicle.Name(), runsText(most))
	for _, line := range Lines(table.Clean(head), p.Room()) {
		fmt.Fprintln(w, line)
	}
	for kind, f := range k.Figures {
		if len(f.Groups) > 0 {
			fmt.Fprintln(w)
			steadyTable(k, crew.AlikeKind(kind)).Render(w, table.Text, p.Width())
		}
	}
	fmt.Fprintln(w)
	for kind, f := range k.Figures {
		if f.BothLanes {
			p.Say(w, "left or right", alikeName(k, crew.AlikeKind(kind))+": "+differText(f))
		}
	}
	p.launchText(w, k.Launch, k.RPM)
	for _, why := range Reasons(k.LeftOut, p.Units) {
		p.Say(w, "left out", why)
	}
	for _, n := range alikeNotes(k) {
		p.Say(w, "note", n)
	}
}

func alikeName(k crew.Alike, kind crew.AlikeKind) string {
	switch kind {
	case crew.AlikeReaction:
		return "reaction"
	case crew.Alike60:
		return "60 ft"
	}
	return fmt.Sprintf("%g ft in standard air", k.Mark.Ft())
}

func groupName(g crew.AlikeGroup) string {
	if g.Name == "" {
		return "all"
	}
	return g.Name
}

func runsText(n int) string { return fmt.Sprintf("%d %s", n, Plural(n, "run", "runs")) }

// alikeNotes say what is not among the figures.
func alikeNotes(k crew.Alike) (notes []string) {
	if n := k.OtherSetups; n > 0 {
		notes = append(notes, fmt.Sprintf("times of %s on other setups left out", runsText(n)))
	}
	if n := k.Airless; n > 0 {
		notes = append(notes, fmt.Sprintf("%s without air: no time in standard air", runsText(n)))
	}
	if k.Stops.Differ() {
		const words = "throttle stops of %.2f to %.2f in it: what they cost is not taken out"
		notes = append(notes, fmt.Sprintf(words, k.Stops.ShortS, k.Stops.LongS))
	}
	if k.NoLaunch != nil {
		notes = append(notes, k.NoLaunch.Error())
	}
	return notes
}

// steadyTable is one figure for a person, with the reds beside the reactions.
func steadyTable(k crew.Alike, kind crew.AlikeKind) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: alikeName(k, kind), Key: "group"},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "median", Key: "median", Right: true},
		{Head: "", Key: "median_held", Drop: 2},
		{Head: "sd", Key: "sd", Right: true},
		{Head: "", Key: "sd_held", Drop: 3},
	}}
	if kind == crew.AlikeReaction {
		t.Columns = append(t.Columns, table.Column{Key: "reds"}, table.Column{Key: "reds_held", Drop: 4})
	}
	for _, g := range k.Figures[kind].Groups {
		row := table.Cells{
			"group": groupName(g), "runs": fmt.Sprint(g.N), "median": thousandth(g.Median.Value), "median_held": bracket(g.Median),
			"sd": thousandth(g.SD.Value), "sd_held": bracket(g.SD),
		}
		if kind == crew.AlikeReaction {
			row["reds"] = fmt.Sprintf("red %d of %d", g.Reds, g.N)
			row["reds_held"] = fmt.Sprintf("(%.0f to %.0f %%)", 100*g.RedShare.Low, 100*g.RedShare.High)
		}
		t.AddCells(row)
	}
	return t
}

// alikeTable is all figures, as other programs read them.
func alikeTable(k crew.Alike) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "figure", Key: "figure"},
		{Head: "of", Key: "group"},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "median", Key: "median_s", Right: true},
		{Head: "low", Key: "median_low95_s", Right: true, Drop: 2},
		{Head: "high", Key: "median_high95_s", Right: true, Drop: 2},
		{Head: "sd", Key: "sd_s", Right: true},
		{Head: "low", Key: "sd_low95_s", Right: true, Drop: 3},
		{Head: "high", Key: "sd_high95_s", Right: true, Drop: 3},
		{Head: "red", Key: "reds", Right: true, Drop: 1},
	}}
	for i, f := range k.Figures {
		kind := crew.AlikeKind(i)
		name := alikeName(k, kind)
		if kind == crew.AlikeReaction {
			name = "reaction after perfect"
		}
		for _, g := range f.Groups {
			row := table.Cells{
				"figure": name, "group": groupName(g), "runs": fmt.Sprint(g.N),
				"median_s": thousandth(g.Median.Value), "median_low95_s": thousandth(g.Median.Low), "median_high95_s": thousandth(g.Median.High),
				"sd_s": thousandth(g.SD.Value), "sd_low95_s": thousandth(g.SD.Low), "sd_high95_s": thousandth(g.SD.High),
			}
			if kind == crew.AlikeReaction {
				row["reds"] = fmt.Sprint(g.Reds)
			}
			t.AddCells(row)
		}
	}
	return t
}

// thousandth writes thousandths, nothing where there is no telling.
func thousandth(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return fmt.Sprintf("%.3f", v)
}

func bracket(f crew.Figure) string {
	if math.IsInf(f.High, 0) || math.IsNaN(f.High) {
		return ""
	}
	return fmt.Sprintf("(%.3f to %.3f)", f.Low, f.High)
}

func differText(f crew.AlikeFigure) string {
	d := f.LeftLessRight
	if math.IsInf(d.High, 0) {
		return "~ too few runs to tell"
	}
	half := (d.High - d.Low) / 2
	if !f.Shown {
		return fmt.Sprintf("~ the same: %+.3f, give or take %.3f", d.Value, half)
	}
	side := "left"
	if d.Value > 0 {
		side = "right"
	}
	return fmt.Sprintf("%s is quicker by %.3f, give or take %.3f", side, math.Abs(d.Value), half)
}
