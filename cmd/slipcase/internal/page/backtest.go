package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Backtest answers how good the forecasts of a vehicle's runs were; air is what of the
// air they were granted.
func (p *Page) Backtest(v crew.Vehicle, air string, b crew.Backtest) error {
	says, aside := Backtest(b), SetAside(b.SetAside)
	p.Aside([]string{says, aside})
	t := p.tallyTable(b)
	return p.Answer(p.newBacktestJSON(b, air), t, func(w io.Writer) {
		p.Say(w, v.Name(), says)
		if len(b.SetAside) > 0 {
			p.Say(w, "set aside", aside)
		}
		if b.N == 0 {
			return
		}
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.Say(w, "columns", "errors in seconds, mean of their sizes; the share of runs inside each range; "+
			"the last four are ways by hand, on the runs that had one before them; "+
			"\"and doubted\" has the runs too that are out of line but not noted: slick days, broken parts")
	})
}

func (p *Page) newBacktestJSON(b crew.Backtest, air string) backtestJSON {
	out := backtestJSON{newTallyJSON(b.Tally), air, []bucketJSON{}, newTallyJSON(b.Unnoted), []setAsideJSON{}, Backtest(b)}
	for _, k := range b.ByHistory {
		out.ByHistory = append(out.ByHistory, bucketJSON{k.RunsBefore, newTallyJSON(k.Tally)})
	}
	for _, l := range b.SetAside {
		out.SetAside = append(out.SetAside, setAsideJSON{l.ID, LeftOut(l, p.Units)})
	}
	return out
}

// tallyTable has a row for each length of history that there was, and one for all.
func (p *Page) tallyTable(b crew.Backtest) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "runs before", Key: "runs_before"},
		{Head: "n", Key: "n", Right: true},
		{Head: "error", Key: "mae_s", Right: true},
		{Head: "bias", Key: "bias_s", Right: true, Drop: 1},
		{Head: "in 50 %", Key: "coverage_50", Right: true, Drop: 2},
		{Head: "in 80 %", Key: "coverage_80", Right: true},
		{Head: "in 95 %", Key: "coverage_95", Right: true, Drop: 2},
		{Head: "last run", Key: "last_run_mae_s", Right: true, Drop: 3},
		{Head: "mean of 3", Key: "mean_of_3_mae_s", Right: true, Drop: 4},
		{Head: "line on DA", Key: "line_on_density_altitude_mae_s", Right: true, Drop: 4},
		{Head: "last + air", Key: "last_run_air_corrected_mae_s", Right: true, Drop: 3},
	}}
	for _, k := range b.ByHistory {
		if k.N > 0 {
			t.AddCells(p.tallyCells(k.RunsBefore, k.Tally))
		}
	}
	if b.N > 0 {
		t.AddCells(p.tallyCells("all", b.Tally))
		if b.Unnoted.N > b.N {
			t.AddCells(p.tallyCells("and doubted", b.Unnoted))
		}
	}
	return t
}

// tallyJSON sums up forecasts against what happened, in seconds and shares of one.
type tallyJSON struct {
	N          int            `json:"n"`
	MAE        units.Number   `json:"mae_s"` // null, like all that follow, where n is 0
	Bias       units.Number   `json:"bias_s"`
	Coverage50 units.Number   `json:"coverage_50"`
	Coverage80 units.Number   `json:"coverage_80"`
	Coverage95 units.Number   `json:"coverage_95"`
	Score80    units.Number   `json:"interval_score_80"`
	Baselines  *baselinesJSON `json:"baselines"` // null where no run had one before it
}

// baselinesJSON are mean absolute errors of the ways by hand, and ours on the same runs.
type baselinesJSON struct {
	N                     int     `json:"n"`
	Ours                  float64 `json:"ours"`
	LastRun               float64 `json:"last_run"`
	MeanOf3               float64 `json:"mean_of_3"`
	LineOnDensityAltitude float64 `json:"line_on_density_altitude"`
	LastRunAirCorrected   float64 `json:"last_run_air_corrected"`
}

type bucketJSON struct {
	RunsBefore string `json:"runs_before"`
	tallyJSON
}

type backtestJSON struct {
	tallyJSON
	Air       string         `json:"air"`
	ByHistory []bucketJSON   `json:"by_history"`
	Unnoted   tallyJSON      `json:"with_doubted"` // and the runs that only hindsight doubts
	SetAside  []setAsideJSON `json:"set_aside"`
	Says      string         `json:"says"`
}

type setAsideJSON struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

func newTallyJSON(t crew.Tally) tallyJSON {
	if t.N == 0 {
		return tallyJSON{}
	}
	some := func(v float64) units.Number { return someRounded(v, ToMeanS) }
	out := tallyJSON{
		t.N, some(t.MAE), some(t.Bias), some(t.Coverage50), some(t.Coverage80), some(t.Coverage95), some(t.Score80), nil,
	}
	if h := t.ByHand; t.HandN > 0 {
		out.Baselines = &baselinesJSON{
			t.HandN, rounded(t.OursByHand, ToMeanS), rounded(h.LastRun, ToMeanS), rounded(h.MeanOf3, ToMeanS),
			rounded(h.LineOnDensityAltitude, ToMeanS), rounded(h.LastRunAirCorrected, ToMeanS),
		}
	}
	return out
}

func (p *Page) tallyCells(name string, t crew.Tally) table.Cells {
	s := func(v float64) string { return fmt.Sprintf("%.3f", v) }
	row := table.Cells{
		"runs_before": name, "n": fmt.Sprint(t.N), "mae_s": s(t.MAE), "bias_s": fmt.Sprintf("%+.3f", t.Bias),
		"coverage_50": p.Share(t.Coverage50), "coverage_80": p.Share(t.Coverage80), "coverage_95": p.Share(t.Coverage95),
	}
	if h := t.ByHand; t.HandN > 0 {
		row["last_run_mae_s"], row["last_run_air_corrected_mae_s"] = s(h.LastRun), s(h.LastRunAirCorrected)
		row["mean_of_3_mae_s"], row["line_on_density_altitude_mae_s"] = s(h.MeanOf3), s(h.LineOnDensityAltitude)
	}
	return row
}
