package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// judgedJSON is a slip with its judgement; what is not known is null.
type judgedJSON struct {
	Slip        crew.Slip     `json:"slip"`
	Result      string        `json:"result,omitzero"` // of its round; the slip's own is the racer's word
	ResultWhy   string        `json:"result_why,omitzero"`
	StandardAir *splitsJSON   `json:"standard_air"`
	Forecast    *forecastJSON `json:"forecast"`
	Difference  *splitsJSON   `json:"difference"`
	Judgement   *verdictJSON  `json:"judgement"`
	RunModel    *modelJSON    `json:"run_model"` // fitted to this slip alone
	DensityAlt  units.Number  `json:"density_altitude_ft"`
	AirHow      string        `json:"air_how"`
	Warnings    []string      `json:"warnings"`
}

// modelJSON is what one slip says of the car: the effective power of the run and
// the launch that grip allowed, with their standard deviations, and slip less model.
type modelJSON struct {
	PowerHP      float64     `json:"effective_power_wheels_hp"`
	PowerDoubtHP float64     `json:"effective_power_sd_hp"`
	LaunchG      float64     `json:"launch_g"`
	LaunchSDG    float64     `json:"launch_sd_g"`
	Leftover     *splitsJSON `json:"left_over"`
}

func newModelJSON(p crew.Pass) *modelJSON {
	c, ok := p.Calibrate()
	if !ok || !p.Machine.WeightLb.Known() {
		return nil
	}
	m := c.Model
	return &modelJSON{
		rounded(m.PowerHP, ToHP), rounded(m.PowerHP*c.PowerDoubt, ToHP),
		rounded(m.GripG, ToG), rounded(m.GripG*c.GripDoubt, ToG), newSplitsJSON(c.Leftover),
	}
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

func (p *Page) newJudgedJSON(j *crew.Judged) judgedJSON {
	out := judgedJSON{
		Slip: j.Run.Slip, DensityAlt: roundedNumber(crew.DensityAltitude(j.Run), ToFt), AirHow: AirHow(j.Run.Air.How),
		Warnings: append([]string{}, p.warnings(j)...), RunModel: newModelJSON(j.Pass),
	}
	if out.Result = j.Result; j.Told() {
		out.ResultWhy = Decision(j.ResultWhy)
	}
	if j.InAir {
		out.StandardAir = newSplitsJSON(j.Standard)
	}
	if j.Unjudged != nil {
		return out
	}
	d := &j.Judgement
	finish, _ := j.Pass.Splits.Finish()
	out.Forecast = p.newForecastJSON(&d.Forecast, j.Farthest())
	out.Difference = newSplitsJSON(j.Difference())
	v := &verdictJSON{d.Mark.Ft(), rounded(d.Difference, ToS), rounded(d.Percentile, ToPct), Judgement(*d, finish), []pieceJSON{}}
	for _, of := range d.Pieces {
		v.Pieces = append(v.Pieces, pieceJSON{PieceName(of), of.From, of.To, rounded(of.Seconds, ToS), of.Word, of.MoreRuns})
	}
	out.Judgement = v
	return out
}

// fullWord is the racer's own word on full power, or that the forecast doubts it.
func fullWord(j *crew.Judged) string {
	if j.Doubted() {
		return "doubted"
	}
	return j.Run.Slip.FullPower
}

// Slips lists runs with what each was expected to be; of is how many there are.
func (p *Page) Slips(js []crew.Judged, of int) error {
	if len(js) < of {
		p.Note("the last %d of %d slips: --last 0 lists all", len(js), of)
	}
	list := make([]judgedJSON, len(js))
	var doubted []crew.LeftOut
	for i := range js {
		list[i] = p.newJudgedJSON(&js[i])
		if js[i].Doubted() {
			doubted = append(doubted, js[i].LeftOut)
		}
	}
	for _, why := range Reasons(doubted, p.Units) {
		p.Note("doubted, left out of the forecast: %s", why)
	}
	return p.Answer(list, p.slipTable(js), nil)
}

// slipTable lists runs against their forecasts, at the farthest mark of each.
func (p *Page) slipTable(js []crew.Judged) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id"},
		{Head: "time", Key: "time", Drop: 1},
		{Head: "vehicle", Key: "vehicle", Drop: 6},
		{Head: "track", Key: "track", Drop: 7},
		{Head: "round", Key: "round", Drop: 3},
		{Head: "60 ft", Key: "et_60_s", Right: true, Drop: 2},
		{Head: "ft", Key: "distance_ft", Right: true, Drop: 4},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: units.Speed.Symbol(p.Units), Key: "speed_" + p.Suffix(units.Speed), Right: true, Drop: 1},
		{Head: "std air", Key: "et_standard_air_s", Right: true, Drop: 1},
		{Head: "forecast", Key: "et_forecast_s", Right: true, Drop: 1},
		{Head: "diff", Key: "difference_s", Right: true},
		{Head: "full", Key: "full_power", Drop: 2},
	}}
	for i := range js {
		j := &js[i]
		s := j.Run.Slip
		row := table.Cells{
			"id": s.ID, "time": p.Stamp(s.Time.Time), "vehicle": s.Vehicle, "track": s.Track, "round": s.Round,
			"et_60_s": Seconds(s.ET60S), "full_power": fullWord(j),
		}
		if m, ok := j.Pass.Splits.Finish(); ok {
			row["distance_ft"] = fmt.Sprintf("%g", m.Ft())
			row["et_s"], row["speed_"+p.Suffix(units.Speed)] = Seconds(j.Pass.Splits.ETs[m]), p.Speed(j.Pass.Splits.MPHs[m])
			row["et_standard_air_s"] = Seconds(j.Standard.ETs[m])
			if j.Unjudged == nil {
				x := j.Judgement.Forecast.Centre().ETs[m]
				row["et_forecast_s"], row["difference_s"] = Seconds(x), signed(j.Pass.Splits.ETs[m].Value()-x.Value())
			}
		}
		t.AddCells(row)
	}
	return t
}
