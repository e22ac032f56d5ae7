package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) backtestCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "backtest",
		Short: "forecasts made in the past against what happened",
		Long: `Makes, for each run of a vehicle, the forecast that could be made from the runs before it,
and compares it with what happened, beside what racers do by hand: the last run, the mean
of the last three, a straight line of ET on density altitude, the last run scaled by the
correction factor. --air known uses only readings timed before the run; --air measured
grants the forecast the run's own air. Runs not at full power to the end are set aside.`,
		Example: "  slipcase backtest --vehicle heron\n  slipcase backtest --vehicle heron --air measured --format json",
		Args:    cobra.NoArgs,
		RunE:    a.reads(a.backtest),
	}
	c.Flags().String("vehicle", "", "the vehicle")
	c.Flags().String("air", "known", "known before the run, or measured at it")
	return c
}

func (a *app) backtest(c *cobra.Command, _ []string, lb *crew.Session) error {
	air, err := oneOf(c, "air", "known", "measured")
	if err != nil {
		return err
	}
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	measured, known, err := bothAirs(lb, v.ID)
	if err != nil {
		return err
	}
	if air == "measured" {
		known = measured
	}
	b, err := predict.RunBacktest(measured, known)
	if err != nil {
		return err
	}
	out, t := a.newBacktestJSON(b, air), a.tallyTable(b)
	says, aside := page.Backtest(b), page.SetAside(b.SetAside)
	a.aside([]string{says, aside})
	return a.answer(out, t, func(w io.Writer) {
		a.say(w, v.Name(), says)
		if len(b.SetAside) > 0 {
			a.say(w, "set aside", aside)
		}
		if b.N == 0 {
			return
		}
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		a.say(w, "columns", "errors in seconds, mean of their sizes; the share of runs inside each interval; the last four are ways by hand, on the runs that had one before them")
	})
}

func (a *app) newBacktestJSON(b predict.Backtest, air string) backtestJSON {
	out := backtestJSON{tallyJSON: newTallyJSON(b.Tally), Air: air, ByHistory: []bucketJSON{}, SetAside: []map[string]string{}, Says: page.Backtest(b)}
	for _, k := range b.ByHistory {
		out.ByHistory = append(out.ByHistory, bucketJSON{k.RunsBefore, newTallyJSON(k.Tally)})
	}
	for _, l := range b.SetAside {
		out.SetAside = append(out.SetAside, map[string]string{"id": l.ID, "why": page.LeftOut(l, a.units)})
	}
	return out
}

// tallyTable has a row for each length of history that there was, and one for all.
func (a *app) tallyTable(b predict.Backtest) table.Table {
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
			t.Rows = append(t.Rows, a.tallyRow(k.RunsBefore, k.Tally))
		}
	}
	if b.N > 0 {
		t.Rows = append(t.Rows, a.tallyRow("all", b.Tally))
	}
	return t
}

// bothAirs gives a vehicle's passes twice: in the air as measured around each, and
// as it could be known when each was made.
func bothAirs(lb *crew.Session, vehicle string) (measured, known []predict.Pass, err error) {
	j, err := lb.Joiner(vehicle)
	if err != nil {
		return nil, nil, err
	}
	slips, err := lb.Slips(vehicle)
	if err != nil {
		return nil, nil, err
	}
	for _, s := range slips {
		run := j.Run(s)
		measured = append(measured, crew.PassOf(run))
		if s.Track != "" && s.Air == "" {
			run.Air = j.AirAhead(s.Track, s.Time.Time, s.Time.Time)
		}
		known = append(known, crew.PassOf(run))
	}
	return measured, known, nil
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
	Air       string              `json:"air"`
	ByHistory []bucketJSON        `json:"by_history"`
	SetAside  []map[string]string `json:"set_aside"`
	Says      string              `json:"says"`
}

func newTallyJSON(t predict.Tally) tallyJSON {
	if t.N == 0 {
		return tallyJSON{}
	}
	some := func(v float64) units.Number { return someRounded(v, page.ToMeanS) }
	out := tallyJSON{t.N, some(t.MAE), some(t.Bias), some(t.Coverage50), some(t.Coverage80), some(t.Coverage95), some(t.Score80), nil}
	if h := t.ByHand; t.HandN > 0 {
		out.Baselines = &baselinesJSON{
			t.HandN, rounded(t.OursByHand, page.ToMeanS), rounded(h.LastRun, page.ToMeanS), rounded(h.MeanOf3, page.ToMeanS), rounded(h.LineOnDensityAltitude, page.ToMeanS), rounded(h.LastRunAirCorrected, page.ToMeanS),
		}
	}
	return out
}

func (a *app) tallyRow(name string, t predict.Tally) []string {
	s := func(v float64) string { return fmt.Sprintf("%.3f", v) }
	row := []string{name, fmt.Sprint(t.N), s(t.MAE), fmt.Sprintf("%+.3f", t.Bias), a.share(t.Coverage50), a.share(t.Coverage80), a.share(t.Coverage95), "", "", "", ""}
	if h := t.ByHand; t.HandN > 0 {
		row[7], row[8], row[9], row[10] = s(h.LastRun), s(h.MeanOf3), s(h.LineOnDensityAltitude), s(h.LastRunAirCorrected)
	}
	return row
}
