package main

import (
	"fmt"
	"strings"

	"slipcase/logbook"
	"slipcase/predict"
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
// remarks.
func doubted(c *cobra.Command, doubts []string) ([]string, error) {
	if force, _ := c.Flags().GetBool("force"); len(doubts) == 0 || force {
		return doubts, nil
	}
	return nil, &failure{exitImplausible, fmt.Errorf("it looks wrong: %s", strings.Join(doubts, "; "))}
}

// doubtsOf says what of a setup is possible but looks mistyped.
func doubtsOf(s logbook.Setup) []string {
	return machineDoubts(predict.Machine{WeightLb: s.WeightLb, PowerHP: s.PowerHP})
}

// machineDoubts says which of weight and power is hard to believe.
func machineDoubts(m predict.Machine) []string {
	var doubts []string
	for _, q := range []struct {
		n     units.Number
		check func(float64) (string, error)
	}{{m.WeightLb, predict.CheckWeight}, {m.PowerHP, predict.CheckPower}} {
		if doubt, _ := q.check(q.n.Value()); q.n.Known() && doubt != "" {
			doubts = append(doubts, doubt)
		}
	}
	return doubts
}
