package notebook

import (
	"fmt"
	"strconv"

	"slipcase/cmd/slipcase/internal/crew"
)

// How many decimals what was worked out has.
const (
	toS  = 3
	toFt = 0
)

type told = *crew.Told

// ownColumns are the racer's own, each a column beside the one that has all of them.
func ownColumns(own []crew.OwnColumn) (columns []Column[told]) {
	for _, c := range own {
		kind := Text
		if c.Kind == "number" {
			kind = Number
		}
		columns = append(columns, Column[told]{"own_" + c.ID, kind, func(t told) Cell {
			text := t.Run.Slip.OwnText(c.ID)
			if v, err := strconv.ParseFloat(text, 64); kind == Number && err == nil {
				return ofNumber(v)
			}
			return filled(text)
		}})
	}
	return columns
}

func trackParts() []Part[told] {
	offset := Column[told]{"utc_offset_h", Number, func(t told) Cell { // a workbook's times have none
		_, seconds := t.Run.Slip.Time.Zone()
		return figure(float64(seconds)/3600, 2)
	}}
	return []Part[told]{partOf(offset), of(
		recordPart[crew.Track]("track_", "id", "rev", "status", "recorded_at", "forced"),
		func(t told) *crew.Track { return &t.Run.Track }, func(t told) string { return t.Run.Track.ID },
	)}
}

// airParts are the air of a run: what was read nearest to it, and what follows for the
// minute of the run.
func airParts() []Part[told] {
	read := of(recordPart[crew.Reading]("read_", "rev", "status", "recorded_at", "forced", "track", "raw", "source"),
		func(t told) *crew.Reading { return t.Read }, func(t told) string { return t.Run.Air.How.ReadingID })
	computed := func(name string, decimals int, f func(crew.Air) float64) Column[told] {
		return Column[told]{name, Number, func(t told) Cell {
			if !t.Run.Air.Known {
				return Cell{}
			}
			return figure(f(t.Run.Air.Air), decimals)
		}}
	}
	return []Part[told]{read, partOf([]Column[told]{
		{"air_how", Text, func(t told) Cell { return filled(string(t.Run.Air.How.Kind)) }},
		computed("air_temp_f", 1, func(a crew.Air) float64 { return a.TempF }),
		computed("air_rh_pct", 1, crew.Air.RHPct),
		computed("air_station_inhg", 3, func(a crew.Air) float64 { return a.StationInHg }),
		computed("density_altitude_ft", toFt, crew.Air.DensityAltitudeFt),
		computed("sae_factor", 4, crew.Air.SAEJ1349),
		{"density_altitude_doubt_ft", Number, func(t told) Cell {
			if !t.Run.Air.Known {
				return Cell{}
			}
			return figure(t.Run.Air.RangeFt(), toFt)
		}},
		{"headwind_mph", Number, func(t told) Cell { return figureOf(t.Run.Headwind(), 1) }},
	}...)}
}

func standard(t told) crew.Splits {
	if !t.InAir {
		return crew.Splits{}
	}
	return t.Standard
}

// splitColumns are the times of a run at each mark, and the speeds where a slip has them;
// word says what they are.
func splitColumns(word string, splits func(told) crew.Splits) (columns []Column[told]) {
	for m := range crew.Mark(crew.Marks) {
		columns = append(columns, Column[told]{
			fmt.Sprintf("et_%g_%s_s", m.Ft(), word), Number, func(t told) Cell { return figureOf(splits(t).ETs[m], toS) },
		})
		if m >= crew.At660 {
			columns = append(columns, Column[told]{
				fmt.Sprintf("mph_%g_%s", m.Ft(), word), Number, func(t told) Cell { return figureOf(splits(t).MPHs[m], 2) },
			})
		}
	}
	return columns
}

// forecastColumns are what a run was expected to be, from the runs before it, at the
// distance where it is judged.
func forecastColumns() []Column[told] {
	judged := func(name string, decimals int, f func(crew.Judgement) float64) Column[told] {
		return Column[told]{name, Number, func(t told) Cell {
			if t.Unjudged != nil {
				return Cell{}
			}
			return figure(f(t.Judgement), decimals)
		}}
	}
	was := func(name string, of func(crew.WasOn) float64) Column[told] {
		return Column[told]{name, Number, func(t told) Cell {
			if t.WasOn == nil {
				return Cell{}
			}
			return figure(of(*t.WasOn), toS)
		}}
	}
	band := func(j crew.Judgement) crew.Band { return j.Forecast.ETs[j.Mark] }
	return []Column[told]{
		judged("forecast_distance_ft", toFt, func(j crew.Judgement) float64 { return j.Mark.Ft() }),
		judged("et_forecast_s", toS, func(j crew.Judgement) float64 { return band(j).Centre }),
		judged("et_forecast_low80_s", toS, func(j crew.Judgement) float64 { return band(j).Low80 }),
		judged("et_forecast_high80_s", toS, func(j crew.Judgement) float64 { return band(j).High80 }),
		judged("difference_s", toS, func(j crew.Judgement) float64 { return j.Difference }),
		judged("percentile", 1, func(j crew.Judgement) float64 { return j.Percentile }),
		was("would_have_run_ft", func(w crew.WasOn) float64 { return w.Mark.Ft() }),
		was("would_have_run_s", func(w crew.WasOn) float64 { return w.ET.Centre }),
		was("would_have_run_low80_s", func(w crew.WasOn) float64 { return w.ET.Low80 }),
		was("would_have_run_high80_s", func(w crew.WasOn) float64 { return w.ET.High80 }),
		judged("forecast_runs", 0, func(j crew.Judgement) float64 { return float64(j.Forecast.RunsUsed) }),
	}
}

// outcomeColumns are how the round ended by both lanes.
func outcomeColumns() []Column[told] {
	return []Column[told]{
		{"round_result", Text, func(t told) Cell { return filled(t.Result) }},
		{"round_result_why", Text, func(t told) Cell { return filled(string(t.ResultWhy.Kind)) }},
	}
}

// countColumns are whether the next forecast counts the run.
func countColumns() []Column[told] {
	return []Column[told]{
		{"counts", Truth, func(t told) Cell { return ofTruth(t.LeftOut.Why == "") }},
		{"left_out_why", Text, func(t told) Cell { return filled(string(t.LeftOut.Why)) }},
		{"counts_to_ft", Number, func(t told) Cell { return numberCell(t.LeftOut.CountsFt) }},
	}
}
