package page

import (
	"slipcase/cmd/slipcase/internal/crew"
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
	WasOn       *wasOnJSON    `json:"was_on,omitempty"` // of a run that was let go
	RunModel    *modelJSON    `json:"run_model"`        // fitted to this slip alone
	OverS       units.Number  `json:"over_s,omitzero"`  // the dial, or the index of its class
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

func newModelJSON(j *crew.Judged) *modelJSON {
	a, ok := j.Alone()
	if !ok {
		return nil
	}
	return &modelJSON{
		rounded(a.PowerHP, ToHP), rounded(a.PowerSD, ToHP),
		rounded(a.LaunchG, ToG), rounded(a.GripSD, ToG), newSplitsJSON(a.Leftover),
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
		Slip: j.Run.Slip, OverS: roundedNumber(crew.Over(j.Run), ToS),
		DensityAlt: roundedNumber(crew.DensityAltitude(j.Run), ToFt), AirHow: AirHow(j.Run.Air.How),
		Warnings: append([]string{}, p.warnings(j)...), RunModel: newModelJSON(j),
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
	v := &verdictJSON{
		d.Mark.Ft(),
		rounded(d.Difference, ToS),
		rounded(d.Percentile, ToPct),
		Judgement(*d, finish),
		[]pieceJSON{},
	}
	for _, of := range d.Pieces {
		v.Pieces = append(v.Pieces, pieceJSON{PieceName(of), of.From, of.To, rounded(of.Seconds, ToS), of.Word, of.MoreRuns})
	}
	out.Judgement, out.WasOn = v, p.newWasOnJSON(j)
	return out
}

// fullWord is the racer's own word on full power, or that the forecast doubts it.
func fullWord(j *crew.Judged) string {
	if j.Doubted() {
		return "doubted"
	}
	return j.Run.Slip.FullPower
}
