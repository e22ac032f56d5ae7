package main

import (
	"fmt"
	"io"
	"math"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
)

func (a *app) alikeText(w io.Writer, k *alike) {
	head := fmt.Sprintf("%s, %s; reactions count from the perfect light; in brackets what holds a figure in 95 of 100 samples", k.vehicle.Name(), counted(k.groups[0]))
	for _, line := range wrapped(table.Clean(head), a.room()) {
		fmt.Fprintln(w, line)
	}
	k.steadyText(a, w)
	fmt.Fprintln(w)
	for _, kind := range k.kinds() {
		if len(kind.of(k.left)) > 0 && len(kind.of(k.right)) > 0 {
			a.say(w, "left or right", kind.head+": "+differText(predict.Differ(kind.of(k.left), kind.of(k.right))))
		}
	}
	k.launchText(a, w)
	for _, why := range page.Reasons(k.leftOut, a.units) {
		a.say(w, "left out", why)
	}
	for _, n := range k.notes {
		a.say(w, "note", n)
	}
}

// steadyText is a table for each figure, with the reds beside the reactions.
func (k *alike) steadyText(a *app, w io.Writer) {
	for _, kind := range k.kinds() {
		t := table.Table{Columns: []table.Column{
			{Head: kind.head},
			{Head: "runs", Right: true},
			{Head: "median", Right: true},
			{Head: "", Drop: 2},
			{Head: "sd", Right: true},
			{Head: "", Drop: 3},
		}}
		lights := kind.key == "reaction_s"
		if lights {
			t.Columns = append(t.Columns, table.Column{}, table.Column{Drop: 4})
		}
		for _, g := range k.groups {
			s, err := predict.NewSteady(kind.of(g))
			if err != nil {
				continue
			}
			row := []string{g.name, fmt.Sprint(s.N), third(s.Median.Value), bracket(s.Median), third(s.SD.Value), bracket(s.SD)}
			if lights {
				row = append(row, redsText(g.reactions)...)
			}
			t.Add(row...)
		}
		if len(t.Rows) == 0 {
			continue
		}
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
	}
}

func counted(s sample) string {
	n := max(len(s.reactions), len(s.sixties), len(s.ets))
	return fmt.Sprintf("%d %s", n, plural(n, "run", "runs"))
}

func bracket(f predict.Figure) string {
	if math.IsInf(f.High, 0) || math.IsNaN(f.High) {
		return ""
	}
	return fmt.Sprintf("(%.3f to %.3f)", f.Low, f.High)
}

// redsText is how many reactions were red, and which share of all may be.
func redsText(reactions []float64) []string {
	n := predict.Reds(reactions)
	f := predict.Share(n, len(reactions))
	return []string{fmt.Sprintf("red %d of %d", n, len(reactions)), fmt.Sprintf("(%.0f to %.0f %%)", 100*f.Low, 100*f.High)}
}

func differText(d predict.Figure, shown bool) string {
	if math.IsInf(d.High, 0) {
		return "~ too few runs to tell"
	}
	half := (d.High - d.Low) / 2
	if !shown {
		return fmt.Sprintf("~ no difference shown: %+.3f s, give or take %.3f", d.Value, half)
	}
	side := "left"
	if d.Value > 0 {
		side = "right"
	}
	return fmt.Sprintf("%s is quicker by %.3f s, give or take %.3f", side, math.Abs(d.Value), half)
}
