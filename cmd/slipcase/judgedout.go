package main

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/page"
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
	et := func(m predict.Mark) units.Number { return roundedNumber(s.ETs[m], page.ToS) }
	mph := func(m predict.Mark) units.Number { return roundedNumber(s.MPHs[m], page.ToMPH) }
	return splitsJSON{
		et(predict.At60), et(predict.At330), et(predict.At660), mph(predict.At660),
		et(predict.At1000), mph(predict.At1000), et(predict.At1320), mph(predict.At1320),
	}
}

// judgedJSON is a slip with its judgement; what is not known is null.
type judgedJSON struct {
	Slip        slip           `json:"slip"`
	StandardAir *splitsJSON    `json:"standard_air"`
	Forecast    map[string]any `json:"forecast"`
	Difference  *splitsJSON    `json:"difference"`
	Judgement   *verdictJSON   `json:"judgement"`
	RunModel    *modelJSON     `json:"run_model"` // fitted to this slip alone
	DensityAlt  units.Number   `json:"density_altitude_ft"`
	AirHow      string         `json:"air_how"`
	Warnings    []string       `json:"warnings"`
}

// modelJSON is what one slip says of the car: the effective power of the run and
// the launch that grip allowed, with their standard deviations, and slip less model.
type modelJSON struct {
	PowerHP      float64    `json:"effective_power_wheels_hp"`
	PowerDoubtHP float64    `json:"effective_power_sd_hp"`
	LaunchG      float64    `json:"launch_g"`
	LaunchSDG    float64    `json:"launch_sd_g"`
	Leftover     splitsJSON `json:"left_over"`
}

func newModelJSON(p predict.Pass) *modelJSON {
	c, ok := p.Calibrate()
	if !ok || !p.Machine.WeightLb.Known() {
		return nil
	}
	m := c.Model
	return &modelJSON{rounded(m.PowerHP, page.ToHP), rounded(m.PowerHP*c.PowerDoubt, page.ToHP), rounded(m.GripG, page.ToG), rounded(m.GripG*c.GripDoubt, page.ToG), newSplitsJSON(c.Leftover)}
}

type verdictJSON struct {
	DistanceFt  float64     `json:"distance_ft"`
	DifferenceS float64     `json:"difference_s"`
	Percentile  float64     `json:"percentile"` // of a hundred such runs, how many are as quick or quicker
	Says        string      `json:"says"`
	Pieces      []pieceJSON `json:"pieces"`
}

type pieceJSON struct {
	Name     string  `json:"name"`
	FromFt   float64 `json:"from_ft"`
	ToFt     float64 `json:"to_ft"`
	Seconds  float64 `json:"difference_s"`
	Word     string  `json:"word"`
	MoreRuns int     `json:"more_runs_to_tell"` // 0: told; -1: over 99
}

func (a *app) judgedJSON(j judged) judgedJSON {
	out := judgedJSON{Slip: j.run.Slip, DensityAlt: roundedNumber(densityAltitude(j.run), page.ToFt), AirHow: page.AirHow(j.run.Air.How), Warnings: append([]string{}, a.warnings(j)...), RunModel: newModelJSON(j.pass)}
	if j.inAir {
		s := newSplitsJSON(inStandardAir(j.corrected))
		out.StandardAir = &s
	}
	if j.unjudged != "" {
		return out
	}
	f := j.judgement.Forecast
	far := farthest(j.run.Track, f)
	if ran, ok := j.pass.Splits.Finish(); ok {
		far = max(far, ran)
	}
	out.Forecast = a.forecastJSON(f, far)
	var d predict.Splits
	for m, x := 0, f.Centre(); m < len(d.ETs); m++ {
		d.ETs[m] = minus(j.pass.Splits.ETs[m], x.ETs[m])
		d.MPHs[m] = minus(j.pass.Splits.MPHs[m], x.MPHs[m])
	}
	ds := newSplitsJSON(d)
	out.Difference = &ds
	v := &verdictJSON{j.judgement.Mark.Ft(), rounded(j.judgement.Difference, page.ToS), rounded(j.judgement.Percentile, page.ToPct), page.Judgement(j.judgement), []pieceJSON{}}
	for _, p := range j.judgement.Pieces {
		v.Pieces = append(v.Pieces, pieceJSON{page.PieceName(p), p.From, p.To, rounded(p.Seconds, page.ToS), p.Word, p.MoreRuns})
	}
	out.Judgement = v
	return out
}

func (a *app) slipsJSON(js []judged) []judgedJSON {
	out := make([]judgedJSON, len(js))
	for i, j := range js {
		out[i] = a.judgedJSON(j)
	}
	return out
}

// full is the racer's own word on full power, or that the forecast doubts it.
func (j judged) full() string {
	if j.doubted() {
		return "doubted"
	}
	return j.run.Slip.FullPower
}

// doubted reports a run of which the racer noted nothing, and the forecast leaves out.
func (j judged) doubted() bool {
	_, timed := j.pass.Splits.Finish()
	return timed && j.run.Slip.FullPower == "" && j.leftOut.Why != ""
}

// doubtedWhy counts the doubted runs for each reason.
func (a *app) doubtedWhy(js []judged) []string {
	var list []predict.LeftOut
	for _, j := range js {
		if j.doubted() {
			list = append(list, j.leftOut)
		}
	}
	return page.Reasons(list, a.units)
}

// slipTable lists runs against their forecasts, at the farthest mark of each.
func (a *app) slipTable(js []judged) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id"},
		{Head: "time", Key: "time", Drop: 1},
		{Head: "vehicle", Key: "vehicle", Drop: 6},
		{Head: "track", Key: "track", Drop: 7},
		{Head: "round", Key: "round", Drop: 3},
		{Head: "60 ft", Key: "et_60_s", Right: true, Drop: 2},
		{Head: "ft", Key: "distance_ft", Right: true, Drop: 4},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_" + a.suffix(units.Speed), Right: true, Drop: 1},
		{Head: "std air", Key: "et_standard_air_s", Right: true, Drop: 1},
		{Head: "forecast", Key: "et_forecast_s", Right: true, Drop: 1},
		{Head: "diff", Key: "difference_s", Right: true},
		{Head: "full", Key: "full_power", Drop: 2},
	}}
	for _, j := range js {
		s := j.run.Slip
		row := []string{s.ID, a.stamp(s.Time.Time), s.Vehicle, s.Track, s.Round, seconds(s.ET60S), "", "", "", "", "", "", j.full()}
		if m, ok := j.pass.Splits.Finish(); ok {
			row[6] = fmt.Sprintf("%g", m.Ft())
			row[7], row[8] = seconds(j.pass.Splits.ETs[m]), a.speed(j.pass.Splits.MPHs[m])
			if j.inAir {
				row[9] = seconds(inStandardAir(j.corrected).ETs[m])
			}
			if j.unjudged == "" {
				x := j.judgement.Forecast.Centre().ETs[m]
				row[10] = seconds(x)
				row[11] = signed(j.pass.Splits.ETs[m].Value() - x.Value())
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
