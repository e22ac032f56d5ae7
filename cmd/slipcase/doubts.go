package main

import (
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"

	"github.com/spf13/cobra"
)

// forced lets doubtful values pass with --force and notes why they were doubted.
func forced(c *cobra.Command, e *logbook.Entry, doubts []string) error {
	e.Forced = ""
	if len(doubts) == 0 {
		return nil
	}
	if ok, _ := c.Flags().GetBool("force"); !ok {
		return refuse(doubts)
	}
	e.Forced = strings.Join(doubts, "; ")
	return nil
}

// doubted refuses air that is hard to believe, unless forced: then the doubts are
// notes.
func (a *app) doubted(c *cobra.Command, doubts []weather.Doubt) (notes []weather.Note, err error) {
	if force, _ := c.Flags().GetBool("force"); !force && len(doubts) > 0 {
		return nil, &failure{exitImplausible, fmt.Errorf("it looks wrong: %s", strings.Join(page.AirDoubts(doubts, a.units), "; "))}
	}
	for _, d := range doubts {
		notes = append(notes, weather.Note{Kind: weather.Doubted, Doubt: d})
	}
	return notes, nil
}

// doubtsOf says what of a setup is possible but looks mistyped.
func (a *app) doubtsOf(s logbook.Setup) []string {
	return a.machineDoubts(predict.Machine{WeightLb: s.WeightLb, PowerHP: s.PowerHP})
}

// machineDoubts says which of weight and power is hard to believe.
func (a *app) machineDoubts(m predict.Machine) (doubts []string) {
	for _, q := range []struct {
		n     units.Number
		check func(float64) (*predict.Unusual, error)
	}{{m.WeightLb, predict.CheckWeight}, {m.PowerHP, predict.CheckPower}} {
		if doubt, _ := q.check(q.n.Value()); q.n.Known() && doubt != nil {
			doubts = append(doubts, page.Unusual(*doubt, a.units))
		}
	}
	return doubts
}
