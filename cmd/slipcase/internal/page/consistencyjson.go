package page

import (
	"math"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// figureJSON is a statistic, null where there is none; an end of the interval that is
// not known is null.
type figureJSON struct {
	Value float64      `json:"value"`
	Low   units.Number `json:"low95"`
	High  units.Number `json:"high95"`
}

func newFigureJSON(f crew.Figure, decimals int) *figureJSON {
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

func (p *Page) newAlikeJSON(k crew.Alike) alikeJSON {
	out := alikeJSON{
		Vehicle: k.Vehicle.ID, Setup: k.Setup, DistanceFt: k.Mark.Ft(),
		Reaction: newSteadyJSON(k.Figures[crew.AlikeReaction]), Reds: []redsJSON{},
		ET60: newSteadyJSON(k.Figures[crew.Alike60]), StandardAir: newSteadyJSON(k.Figures[crew.AlikeET]),
		LeftOut: []leftOutJSON{}, Warnings: append([]string{}, alikeNotes(k)...),
	}
	for _, g := range k.Figures[crew.AlikeReaction].Groups {
		out.Reds = append(out.Reds, redsJSON{groupName(g), g.Reds, g.N, newFigureJSON(g.RedShare, ToShare)})
	}
	for i, key := range []string{"reaction_s", "et_60_s", "et_standard_air_s"} {
		f := k.Figures[i]
		out.Lanes = append(out.Lanes, differJSON{key, newFigureJSON(f.LeftLessRight, ToMeanS), f.Shown})
	}
	for _, l := range k.LeftOut {
		out.LeftOut = append(out.LeftOut, leftOutJSON{l.ID, LeftOut(l, p.Units)})
	}
	if l := k.Launch; l != nil {
		out.RedPct, out.LaterForRed = someRounded(100*l.Red, ToPct), someRounded(l.Later, ToS)
		if l.Asked.Known() {
			out.Later, out.RedThenPct = someRounded(l.AskedBy, ToS), someRounded(100*l.AskedRed, ToPct)
		}
	}
	return out
}

func newSteadyJSON(f crew.AlikeFigure) []steadyJSON {
	list := []steadyJSON{}
	for _, g := range f.Groups {
		list = append(list, steadyJSON{groupName(g), g.N, newFigureJSON(g.Median, ToMeanS), newFigureJSON(g.SD, ToMeanS)})
	}
	return list
}
