package main

import (
	"io"
	"slices"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/predict"
)

func (a *app) roundCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "round [ID|last | LANE / LANE]",
		Short: "both lanes of one slip: who won and why",
		Long: `Says who won a round and why, from a slip of the log or from both lanes typed: reaction,
ET and dial, a / between the lanes. A lane may say broke (no ET: on the way; nothing else:
on the line) or boundary. The package is (reaction - perfect light) + ET - dial. The
track's perfect light and its rule for two reds are taken from the log or the flags.`,
		Example: `  slipcase round last
  slipcase round .042 13.272@103.1 13.25 / .051 12.430@109.4 12.40
  slipcase round -.012 13.26 13.25 / r030 12.41 12.40 --both-red worst
  slipcase round .080 8.412 / .020 8.450 --class heads-up
  slipcase round .042 13.272 13.25 / .100 broke`,
		Args: cobra.ArbitraryArgs,
		RunE: do(a.judgeRound),
	}
	registerRules(c)
	c.Flags().String("boundary", "", "of a logged slip: own, other or both crossed the boundary")
	c.Flags().Bool("bye", false, "no one in the other lane")
	return c
}

func (a *app) judgeRound(c *cobra.Command, args []string) error {
	r, err := a.round(c, args)
	if err != nil {
		return err
	}
	res := predict.Adjudicate(r.rules.RoundRules, r.lanes, r.bye)
	if r.rules.assumed && res.Why.BothRed() {
		r.remarks = append(r.remarks, "the rule for two reds is assumed: --both-red worst, or slipcase track amend --both-red")
	}
	if says := resultWord(res.Winner); r.recorded != "" && says != "" && says != r.recorded {
		r.remarks = append(r.remarks, "the log says "+r.recorded)
	}
	remarks := slices.Concat(page.RoundNotes(res.Notes), r.remarks, []string{page.RoundCaution})
	return a.answer(newRoundJSON(res, remarks), roundTable(r.lanes, res, r.bye), func(w io.Writer) { a.roundText(w, r.lanes, res, r.bye, remarks) })
}

// resultWord is how the log writes who won, "" when nobody did.
func resultWord(winner int) string {
	switch winner {
	case 0:
		return "won"
	case 1:
		return "lost"
	}
	return ""
}
