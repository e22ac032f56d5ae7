package main

import (
	"fmt"
	"io"
	"math"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

// figureJSON is a statistic; an end of the interval that is not known is left out.
type figureJSON struct {
	Value units.Number `json:"value,omitzero"`
	Low   units.Number `json:"low_95,omitzero"`
	High  units.Number `json:"high_95,omitzero"`
}

func newFigureJSON(f predict.Figure, base float64) figureJSON {
	finite := func(v float64) units.Number {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return units.Number{}
		}
		return tidy(units.Some(v + base))
	}
	return figureJSON{finite(f.Value), finite(f.Low), finite(f.High)}
}

type steadyJSON struct {
	Group  string     `json:"group"`
	Runs   int        `json:"runs"`
	Median figureJSON `json:"median_s"`
	SD     figureJSON `json:"sd_s"`
}

type redsJSON struct {
	Group string     `json:"group"`
	Reds  int        `json:"reds"`
	Runs  int        `json:"runs"`
	Share figureJSON `json:"share"`
}

type differJSON struct {
	Figure     string     `json:"figure"`
	Difference figureJSON `json:"left_less_right_s"`
	Shown      bool       `json:"shown"`
}

type alikeJSON struct {
	Vehicle     string       `json:"vehicle"`
	Setup       string       `json:"setup,omitzero"`
	DistanceFt  float64      `json:"distance_ft"`
	Reaction    []steadyJSON `json:"reaction"`
	Reds        []redsJSON   `json:"reds"`
	ET60        []steadyJSON `json:"et_60"`
	StandardAir []steadyJSON `json:"et_standard_air"`
	Lanes       []differJSON `json:"lanes"`
	RedPct      units.Number `json:"red_chance_pct,omitzero"`
	LaterForRed units.Number `json:"launch_later_for_red_s,omitzero"`
	Later       units.Number `json:"launch_later_for_reaction_s,omitzero"`
	RedThenPct  units.Number `json:"red_chance_then_pct,omitzero"`
	Warnings    []string     `json:"warnings"`
}

func (k *alike) json() alikeJSON {
	out := alikeJSON{Vehicle: k.vehicle.ID, Setup: k.setup, DistanceFt: k.mark.Ft(), Warnings: append([]string{}, k.notes...), Reds: []redsJSON{}, Lanes: []differJSON{}}
	for i, list := range []*[]steadyJSON{&out.Reaction, &out.ET60, &out.StandardAir} {
		kind := k.kinds()[i]
		*list = []steadyJSON{}
		for _, g := range k.groups {
			if s, err := predict.NewSteady(kind.of(g)); err == nil {
				*list = append(*list, steadyJSON{g.name, s.N, newFigureJSON(s.Median, kind.base), newFigureJSON(s.SD, 0)})
			}
		}
		d, shown := predict.Differ(kind.of(k.left), kind.of(k.right))
		out.Lanes = append(out.Lanes, differJSON{kind.key, newFigureJSON(d, 0), shown})
	}
	for _, g := range k.groups {
		if n := len(g.reactions); n > 0 {
			out.Reds = append(out.Reds, redsJSON{g.name, reds(g.reactions), n, newFigureJSON(predict.Share(reds(g.reactions), n), 0)})
		}
	}
	if l := k.launch; l != nil {
		out.RedPct, out.LaterForRed = units.Some(round1(100*l.red)), units.Some(round3(l.shift))
		if l.reaction.Known() {
			out.Later, out.RedThenPct = units.Some(round3(l.byTime)), units.Some(round1(100*l.redThen))
		}
	}
	return out
}

func (a *app) alikeText(w io.Writer, k *alike) {
	fmt.Fprintf(w, "%s, %s; in brackets what holds it in 95 of 100 samples\n", k.vehicle.Name(), counted(k.groups[0]))
	for _, kind := range k.kinds() {
		t := table.Table{Columns: []table.Column{
			{Head: kind.title},
			{Head: "runs", Right: true},
			{Head: "median", Right: true},
			{Head: "", Drop: 2},
			{Head: "sd", Right: true},
			{Head: "", Drop: 3},
			{Head: ""},
		}}
		for _, g := range k.groups {
			s, err := predict.NewSteady(kind.of(g))
			if err != nil {
				continue
			}
			red := ""
			if kind.key == "reaction_s" {
				red = redsText(g.reactions)
			}
			t.Add(g.name, fmt.Sprint(s.N), third(s.Median.Value+kind.base), bracket(s.Median, kind.base), third(s.SD.Value), bracket(s.SD, 0), red)
		}
		if len(t.Rows) == 0 {
			continue
		}
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
	}
	fmt.Fprintln(w)
	for _, kind := range k.kinds() {
		if len(kind.of(k.left)) > 0 && len(kind.of(k.right)) > 0 {
			a.say(w, "left or right", kind.title+": "+differText(predict.Differ(kind.of(k.left), kind.of(k.right))))
		}
	}
	k.launchText(a, w)
	for _, n := range k.notes {
		a.say(w, "note", n)
	}
}

func counted(s sample) string {
	n := max(len(s.reactions), len(s.sixties), len(s.ets))
	return fmt.Sprintf("%d %s", n, plural(n, "run", "runs"))
}

func bracket(f predict.Figure, base float64) string {
	if math.IsInf(f.High, 0) || math.IsNaN(f.High) {
		return ""
	}
	return fmt.Sprintf("(%.3f to %.3f)", f.Low+base, f.High+base)
}

func redsText(reactions []float64) string {
	n := reds(reactions)
	share := predict.Share(n, len(reactions))
	return fmt.Sprintf("red %d of %d (%.0f to %.0f %%)", n, len(reactions), 100*share.Low, 100*share.High)
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

func (k *alike) launchText(a *app, w io.Writer) {
	l := k.launch
	if l == nil {
		return
	}
	a.say(w, "launch", fmt.Sprintf("red %.0f times in 100 as it is; %s makes it %.0f (reaction then %.3f)",
		100*l.red, laterText(l.shift), 100*l.wanted, l.mean+l.shift+k.perfect))
	if l.reaction.Known() {
		a.say(w, "for "+third(l.reaction.Value()), fmt.Sprintf("%s; red %.0f times in 100 then", laterText(l.byTime), 100*l.redThen))
	}
	if k.rpm != "" {
		a.say(w, "launch rpm", k.rpm)
	}
}

func laterText(s float64) string {
	if s < 0 {
		return fmt.Sprintf("%.3f s less delay", -s)
	}
	return fmt.Sprintf("%.3f s more delay", s)
}
