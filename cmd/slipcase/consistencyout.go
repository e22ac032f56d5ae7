package main

import (
	"fmt"
	"math"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

// figureJSON is a statistic, null where there is none; an end of the interval that is
// not known is null.
type figureJSON struct {
	Value float64      `json:"value"`
	Low   units.Number `json:"low_95"`
	High  units.Number `json:"high_95"`
}

func newFigureJSON(f predict.Figure, decimals int) *figureJSON {
	finite := func(v float64) units.Number {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return units.Number{}
		}
		return someRounded(v, decimals)
	}
	value := finite(f.Value)
	if !value.Known() {
		return nil
	}
	return &figureJSON{value.Value(), finite(f.Low), finite(f.High)}
}

type steadyJSON struct {
	Group  string      `json:"group"`
	Runs   int         `json:"runs"`
	Median *figureJSON `json:"median_s"`
	SD     *figureJSON `json:"sd_s"`
}

type redsJSON struct {
	Group string      `json:"group"`
	Reds  int         `json:"reds"`
	Runs  int         `json:"runs"`
	Share *figureJSON `json:"share"`
}

type differJSON struct {
	Figure     string      `json:"figure"`
	Difference *figureJSON `json:"left_less_right_s"`
	Shown      bool        `json:"shown"`
}

type leftOutJSON struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

type alikeJSON struct {
	Vehicle     string        `json:"vehicle"`
	Setup       string        `json:"setup,omitzero"`
	DistanceFt  float64       `json:"distance_ft"`
	Reaction    []steadyJSON  `json:"reaction_after_perfect"`
	Reds        []redsJSON    `json:"reds"`
	ET60        []steadyJSON  `json:"et_60"`
	StandardAir []steadyJSON  `json:"et_standard_air"`
	Lanes       []differJSON  `json:"lanes"`
	LeftOut     []leftOutJSON `json:"left_out"` // of the last setup's runs, as in the forecast
	RedPct      units.Number  `json:"red_chance_pct"`
	LaterForRed units.Number  `json:"launch_later_for_red_s"`
	Later       units.Number  `json:"launch_later_for_reaction_s"`
	RedThenPct  units.Number  `json:"red_chance_then_pct"`
	Warnings    []string      `json:"warnings"`
}

func (k *alike) json(sys units.System) alikeJSON {
	out := alikeJSON{Vehicle: k.vehicle.ID, Setup: k.setup, DistanceFt: k.mark.Ft(), Warnings: append([]string{}, k.notes...), Reds: []redsJSON{}, Lanes: []differJSON{}, LeftOut: []leftOutJSON{}}
	for i, list := range []*[]steadyJSON{&out.Reaction, &out.ET60, &out.StandardAir} {
		kind := k.kinds()[i]
		*list = []steadyJSON{}
		for _, g := range k.groups {
			if s, err := predict.NewSteady(kind.of(g)); err == nil {
				*list = append(*list, steadyJSON{g.name, s.N, newFigureJSON(s.Median, page.ToMeanS), newFigureJSON(s.SD, page.ToMeanS)})
			}
		}
		d, shown := predict.Differ(kind.of(k.left), kind.of(k.right))
		out.Lanes = append(out.Lanes, differJSON{kind.key, newFigureJSON(d, page.ToMeanS), shown})
	}
	for _, g := range k.groups {
		if n := len(g.reactions); n > 0 {
			reds := predict.Reds(g.reactions)
			out.Reds = append(out.Reds, redsJSON{g.name, reds, n, newFigureJSON(predict.Share(reds, n), page.ToShare)})
		}
	}
	for _, l := range k.leftOut {
		out.LeftOut = append(out.LeftOut, leftOutJSON{l.ID, page.LeftOut(l, sys)})
	}
	if l := k.launch; l != nil {
		out.RedPct, out.LaterForRed = someRounded(100*l.red, page.ToPct), someRounded(l.later, page.ToS)
		if l.asked.Known() {
			out.Later, out.RedThenPct = someRounded(l.laterBy, page.ToS), someRounded(100*l.redThen, page.ToPct)
		}
	}
	return out
}

// kind is one of the figures.
type kind struct {
	head, title, key string // for people, for tables and for JSON
	of               func(s sample) []float64
}

// kinds are the figures in turn.
func (k *alike) kinds() []kind {
	ets := fmt.Sprintf("%g ft in standard air", k.mark.Ft())
	return []kind{
		{"reaction", "reaction after perfect", "reaction_s", func(s sample) []float64 { return s.reactions }},
		{"60 ft", "60 ft", "et_60_s", func(s sample) []float64 { return s.sixties }},
		{ets, ets, "et_standard_air_s", func(s sample) []float64 { return s.ets }},
	}
}

func (k *alike) table() table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "figure", Key: "figure"},
		{Head: "of", Key: "group"},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "median", Key: "median_s", Right: true},
		{Head: "low", Key: "median_low_95_s", Right: true, Drop: 2},
		{Head: "high", Key: "median_high_95_s", Right: true, Drop: 2},
		{Head: "sd", Key: "sd_s", Right: true},
		{Head: "low", Key: "sd_low_95_s", Right: true, Drop: 3},
		{Head: "high", Key: "sd_high_95_s", Right: true, Drop: 3},
		{Head: "red", Key: "reds", Right: true, Drop: 1},
	}}
	for _, kind := range k.kinds() {
		for _, g := range k.groups {
			s, err := predict.NewSteady(kind.of(g))
			if err != nil {
				continue
			}
			red := ""
			if kind.key == "reaction_s" {
				red = fmt.Sprint(predict.Reds(g.reactions))
			}
			t.Add(kind.title, g.name, fmt.Sprint(s.N), third(s.Median.Value), third(s.Median.Low), third(s.Median.High),
				third(s.SD.Value), third(s.SD.Low), third(s.SD.High), red)
		}
	}
	return t
}

// third writes thousandths, nothing where there is no telling.
func third(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return fmt.Sprintf("%.3f", v)
}
