package main

import (
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
	"slipcase/weather"

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
		return nil, &failure{
			exitImplausible,
			fmt.Errorf("it looks wrong: %s", strings.Join(page.AirDoubts(doubts, a.units), "; ")),
		}
	}
	for _, d := range doubts {
		notes = append(notes, weather.Note{Kind: weather.Doubted, Doubt: d})
	}
	return notes, nil
}

// unusualSetup lets a setup that is hard to believe pass with --force.
func (a *app) unusualSetup(c *cobra.Command, lb *crew.Session, s *logbook.Setup) error {
	doubts, err := lb.DoubtSetup(*s)
	if err != nil {
		return err
	}
	return forced(c, &s.Entry, a.page.SetupDoubts(doubts))
}
