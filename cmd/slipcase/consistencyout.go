package main

import (
	"fmt"
	"math"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

// consistencyJSON is how alike a vehicle's runs are, as other programs read it.
type consistencyJSON struct {
	Vehicle     string       `json:"vehicle"`
	Meet        string       `json:"meet,omitzero"`
	All         alikeJSON    `json:"all"`
	Lanes       []alikeJSON  `json:"lanes"`
	LanesDiffer []differJSON `json:"lanes_differ"`
	Rounds      []alikeJSON  `json:"rounds"`
	Launch      *launchJSON  `json:"launch"` // null with too few reactions
}

type alikeJSON struct {
	Group    string       `json:"group"`
	Reaction *steadyJSON  `json:"reaction"` // after the perfect light; null without any
	Reds     int          `json:"reds"`
	RedLow   units.Number `json:"red_share_low95"`
	RedHigh  units.Number `json:"red_share_high95"`
	ET60     *steadyJSON  `json:"et_60"`
	ETStd    *steadyJSON  `json:"et_standard_air"`
}

// steadyJSON has null where a sample is too small for a figure.
type steadyJSON struct {
	N          int          `json:"n"`
	Median     float64      `json:"median_s"`
	MedianLow  units.Number `json:"median_low95_s"`
	MedianHigh units.Number `json:"median_high95_s"`
	SD         units.Number `json:"sd_s"`
	SDLow      units.Number `json:"sd_low95_s"`
	SDHigh     units.Number `json:"sd_high95_s"`
}

type differJSON struct {
	Figure      string       `json:"figure"`
	DifferenceS float64      `json:"difference_s"`
	Low         units.Number `json:"low95_s"`
	High        units.Number `json:"high95_s"`
	Shown       bool         `json:"shown"`
}

type launchJSON struct {
	MeanS      float64 `json:"mean_reaction_s"`
	Red        float64 `json:"chance_red"`
	ShiftS     float64 `json:"shift_s"` // later is more
	MeanAfterS float64 `json:"mean_reaction_after_s"`
	RedAfter   float64 `json:"chance_red_after"`
}

// finite is absent for a bound that the sample does not give.
func finite(v float64) units.Number {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return units.Number{}
	}
	return tidy(units.Some(v))
}

func newAlikeJSON(g *alike) alikeJSON {
	out := alikeJSON{Group: g.group, Reds: g.reds, Reaction: newSteadyJSON(g.reactions), ET60: newSteadyJSON(g.sixties), ETStd: newSteadyJSON(g.ets)}
	if n := len(g.reactions); n > 0 {
		red := predict.Share(g.reds, n)
		out.RedLow, out.RedHigh = finite(red.Low), finite(red.High)
	}
	return out
}

func newSteadyJSON(values []float64) *steadyJSON {
	s, err := predict.NewSteady(values)
	if err != nil {
		return nil
	}
	return &steadyJSON{s.N, round4(s.Median.Value), finite(s.Median.Low), finite(s.Median.High), finite(s.SD.Value), finite(s.SD.Low), finite(s.SD.High)}
}

func alikeTable() table.Table {
	return table.Table{Columns: []table.Column{
		{Head: "", Key: "group"},
		{Head: "", Key: "figure"},
		{Head: "n", Key: "n", Right: true},
		{Head: "median", Key: "median_s", Right: true},
		{Head: "95 % from", Key: "median_low95_s", Right: true, Drop: 1},
		{Head: "to", Key: "median_high95_s", Right: true, Drop: 1},
		{Head: "spread", Key: "sd_s", Right: true},
		{Head: "from", Key: "sd_low95_s", Right: true, Drop: 2},
		{Head: "to", Key: "sd_high95_s", Right: true, Drop: 2},
	}}
}

// alikeRows are a group's figures, one a row.
func alikeRows(g *alike) [][]string {
	var rows [][]string
	for _, f := range g.figures() {
		s, err := predict.NewSteady(f.values)
		if err != nil {
			continue
		}
		row := []string{g.group, f.name, fmt.Sprint(s.N), seconds(units.Some(s.Median.Value))}
		for _, v := range []float64{s.Median.Low, s.Median.High, s.SD.Value, s.SD.Low, s.SD.High} {
			row = append(row, seconds(finite(v)))
		}
		rows = append(rows, row)
	}
	return rows
}
