package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

func (a *app) planRankCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "rank", Short: "rank the plan by time, cost or hours, and find the best order within a budget",
		Long: `Tries every change of the plan alone on the vehicle as its runs show it, at the track and in
the air chosen, and ranks them; ~ marks one whose 8-in-10 interval overlaps that of the one
above it: a tie. With --budget, which to buy, in which order, and what they do together.
With --target, the cheapest that make a time, and the chance of it. What costs and may be
no quicker is not bought.
Changes that the setup in force has built in are left out.`,
		Example: `  slipcase plan rank --vehicle heron --track saltgrass --temp {84F --rh 50 --station 28.90inHg|29C --rh 50 --station 979hPa}
  slipcase plan rank --vehicle heron --track saltgrass --by cost --budget 1500`,
		Args: cobra.NoArgs, RunE: a.reads(a.rankPlan),
	}
	registerSubject(c)
	keywordFlag(c, "by", "et", "et, cost or hours", "et", "cost", "hours")
	quantityFlag(c, "budget", units.Money, "what may be spent, as 1500")
	quantityFlag(c, "target", units.Seconds, "a time at the finish: the cheapest changes that make it, as 11.99")
	tyresFlag(c, "the speed that the tires are rated for, as {149mph|240km/h}")
	return c
}

func (a *app) rankPlan(c *cobra.Command, _ []string, lb *crew.Session) (err error) {
	ask := crew.RankAsk{Budget: quantityOf(c, "budget")}
	ask.By, _ = c.Flags().GetString("by")
	ask.Target = quantityOf(c, "target")
	ask.TyresMPH = quantityOf(c, "tire-rating")
	if err := crew.CheckTyres(ask.TyresMPH); err != nil {
		return err
	}
	p, err := a.prospect(c, lb)
	if err != nil {
		return err
	}
	ranked, err := lb.Rank(p, ask)
	var none *crew.NothingToRank
	switch {
	case errors.As(err, &none) && none.Notes == nil:
		return units.Errorf("nothing on the plan of %[1]s: slipcase plan add NAME --vehicle %[1]s --gain {12hp|9kW} --cost 450",
			none.Vehicle)
	case errors.As(err, &none):
		return fmt.Errorf("no change of the plan of %s can be ranked: %s", none.Vehicle,
			strings.Join(a.page.ChangeNotes(none.Notes), "; "))
	case err != nil:
		return err
	}
	return a.page.Rank(ranked)
}
