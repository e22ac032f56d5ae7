package main

import (
	"fmt"
	"math"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// splitsJSON are times and speeds as other programs read them, always in s and mph.
type splitsJSON struct {
	ET60    units.Number `json:"et_60_s,omitzero"`
	ET330   units.Number `json:"et_330_s,omitzero"`
	ET660   units.Number `json:"et_660_s,omitzero"`
	MPH660  units.Number `json:"mph_660,omitzero"`
	ET1000  units.Number `json:"et_1000_s,omitzero"`
	MPH1000 units.Number `json:"mph_1000,omitzero"`
	ET1320  units.Number `json:"et_1320_s,omitzero"`
	MPH1320 units.Number `json:"mph_1320,omitzero"`
}

func newSplitsJSON(s predict.Splits) splitsJSON {
	et := func(m predict.Mark) units.Number { return tidy(s.ETs[m]) }
	mph := func(m predict.Mark) units.Number { return tidy(s.MPHs[m]) }
	return splitsJSON{
		et(predict.At60), et(predict.At330), et(predict.At660), mph(predict.At660),
		et(predict.At1000), mph(predict.At1000), et(predict.At1320), mph(predict.At1320),
	}
}

// tidy rounds to a tenth of what a timer prints: the digits behind are noise of
// the arithmetic.
func tidy(n units.Number) units.Number {
	if !n.Known() {
		return n
	}
	return units.Some(math.Round(n.Value()*1e4) / 1e4)
}

// expectedJSON is a forecast with where it comes from.
type expectedJSON struct {
	splitsJSON
	Basis    string        `json:"basis"`
	RunsUsed int           `json:"runs_used"`
	LeftOut  []leftOutJSON `json:"runs_left_out"`
	Warnings []string      `json:"warnings"`
}

type leftOutJSON struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

func newExpectedJSON(e expectation) expectedJSON {
	out := expectedJSON{newSplitsJSON(e.Splits), e.Basis, e.Runs, []leftOutJSON{}, append([]string{}, e.Remarks...)}
	for _, l := range e.LeftOut {
		out.LeftOut = append(out.LeftOut, leftOutJSON(l))
	}
	return out
}

// judgedJSON is a slip with its judgement; what is not known is null.
type judgedJSON struct {
	Slip        slip          `json:"slip"`
	StandardAir *splitsJSON   `json:"standard_air"`
	Forecast    *expectedJSON `json:"forecast"`
	Difference  *splitsJSON   `json:"difference"`
	DensityAlt  units.Number  `json:"density_altitude_ft"`
	AirHow      string        `json:"air_how"`
	Warnings    []string      `json:"warnings"`
}

func (j judged) json() judgedJSON {
	out := judgedJSON{Slip: j.run.Slip, DensityAlt: j.standard, AirHow: j.run.Air.How, Warnings: append([]string{}, j.run.Missing...)}
	if j.inAir {
		s := newSplitsJSON(j.corrected)
		out.StandardAir = &s
	}
	if j.basisless != "" {
		out.Warnings = append(out.Warnings, j.basisless)
		return out
	}
	e := newExpectedJSON(j.expected)
	out.Forecast = &e
	var d predict.Splits
	for _, diff := range j.expected.Against(j.pass.Splits) {
		if diff.Speed {
			d.MPHs[diff.Mark] = units.Some(diff.Diff)
		} else {
			d.ETs[diff.Mark] = units.Some(diff.Diff)
		}
	}
	ds := newSplitsJSON(d)
	out.Difference = &ds
	return out
}

func slipsJSON(js []judged) []judgedJSON {
	out := make([]judgedJSON, len(js))
	for i, j := range js {
		out[i] = j.json()
	}
	return out
}

func seconds(n units.Number) string {
	if !n.Known() {
		return ""
	}
	return fmt.Sprintf("%.3f", n.Value())
}

func (a *app) speed(n units.Number) string {
	if !n.Known() {
		return ""
	}
	return fmt.Sprintf("%.2f", units.Speed.In(a.units, n.Value()))
}

// slipTable lists runs against their forecasts, at the farthest mark of each.
func (a *app) slipTable(js []judged) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 5},
		{Head: "time", Key: "time"},
		{Head: "vehicle", Key: "vehicle", Drop: 6},
		{Head: "track", Key: "track", Drop: 7},
		{Head: "round", Key: "round", Drop: 3},
		{Head: "60 ft", Key: "et_60_s", Right: true, Drop: 2},
		{Head: "ft", Key: "distance_ft", Right: true, Drop: 4},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_" + a.suffix(units.Speed), Right: true, Drop: 1},
		{Head: "std air", Key: "et_standard_air_s", Right: true, Drop: 1},
		{Head: "forecast", Key: "et_forecast_s", Right: true},
		{Head: "diff", Key: "difference_s", Right: true},
		{Head: "full", Key: "full_power", Drop: 8},
	}}
	for _, j := range js {
		s := j.run.Slip
		row := []string{s.ID, a.stamp(s.Time.Time), s.Vehicle, s.Track, s.Round, seconds(s.ET60S), "", "", "", "", "", "", s.FullPower}
		if m, ok := j.pass.Splits.Finish(); ok {
			row[6] = fmt.Sprintf("%g", m.Ft())
			row[7], row[8] = seconds(j.pass.Splits.ETs[m]), a.speed(j.pass.Splits.MPHs[m])
			if j.inAir {
				row[9] = seconds(j.corrected.ETs[m])
			}
			if x := j.expected.Splits.ETs[m]; x.Known() {
				row[10] = seconds(x)
				row[11] = fmt.Sprintf("%+.3f", j.pass.Splits.ETs[m].Value()-x.Value())
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// historyTable shows slips as recorded, revision by revision.
func (a *app) historyTable(revs []logbook.Slip) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "rev", Key: "rev", Right: true},
		{Head: "status", Key: "status"},
		{Head: "recorded", Key: "recorded_at"},
		{Head: "60 ft", Key: "et_60_s", Right: true, Drop: 2},
		{Head: "330 ft", Key: "et_330_s", Right: true, Drop: 3},
		{Head: "660 ft", Key: "et_660_s", Right: true, Drop: 1},
		{Head: "1000 ft", Key: "et_1000_s", Right: true, Drop: 3},
		{Head: "1320 ft", Key: "et_1320_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_1320_" + a.suffix(units.Speed), Right: true},
		{Head: "full", Key: "full_power", Drop: 4},
		{Head: "notes", Key: "notes", Drop: 5},
	}}
	for _, s := range revs {
		t.Add(fmt.Sprint(s.Rev), string(s.Status), a.stamp(s.RecordedAt.Time), seconds(s.ET60S), seconds(s.ET330S), seconds(s.ET660S),
			seconds(s.ET1000S), seconds(s.ET1320S), a.speed(s.MPH1320), s.FullPower, s.Notes)
	}
	return t
}
