package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

func (a *app) roundCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "round [ID|last | LANE / LANE]",
		Short: "both lanes of one slip: who won and why",
		Long: `Says who won a round and why, from a slip of the log or from both lanes typed: reaction,
ET and dial, a / between the lanes. A lane may say broke (behind its reaction: on the
way; alone: before it staged; staged broke: on the line) or boundary. The package is
(reaction - perfect light) + ET - dial. The track's perfect light and its rule for two
reds are taken from the log or the flags.`,
		Example: `  slipcase round last
  slipcase round .042 13.272@{103.1|165.9} 13.25 / .051 12.430@{109.4|176.1} 12.40
  slipcase round -.012 13.26 13.25 / r030 12.41 12.40 --both-red worst
  slipcase round .080 8.412 / .020 8.450 --class heads-up
  slipcase round .042 13.272 13.25 / .100 broke`,
		Args: cobra.ArbitraryArgs,
		RunE: do(a.round),
	}
	registerRules(c)
	const crossed = "of a logged slip: own, other or both crossed the boundary"
	boundary := keywordFlag(c, "boundary", "", crossed, "own", "other", "both")
	boundary.want = "own, other or both"
	c.Flags().Bool("bye", false, "no one in the other lane")
	return c
}

// round judges the round of a slip of the log, or of both lanes as typed.
func (a *app) round(c *cobra.Command, args []string) error {
	bye, _ := c.Flags().GetBool("bye")
	ask := a.loggedRound
	if slices.Contains(args, "/") || len(args) > 1 || bye && len(args) == 1 && isReaction(args[0]) {
		ask = a.typedRound
	}
	r, err := ask(c, args, bye)
	if err != nil {
		return err
	}
	r.Bye = r.Bye || bye
	r.Judge()
	return a.page.Round(r)
}

// isReaction tells a typed reaction from the id of a slip.
func isReaction(word string) bool {
	n, err := typed.Reaction(word)
	return err == nil && n.Known()
}

// loggedRound sets both lanes by a slip.
func (a *app) loggedRound(c *cobra.Command, args []string, bye bool) (r crew.Round, err error) {
	lb, err := a.open()
	if err != nil {
		return r, err
	}
	s, err := lb.Slip(append(args, "last")[0])
	if err != nil {
		return r, err
	}
	var track logbook.Track
	name, _ := c.Flags().GetString("track")
	if name = cmp.Or(name, s.Track); name != "" {
		if track, err = lb.Track(name); err != nil {
			return r, err
		}
	}
	rules, err := readRules(c, track)
	if err != nil {
		return r, err
	}
	rules = crew.RulesFor(s, track, rules, anyChanged(c, "class", "index"), c.Flags().Changed("perfect-reaction"))
	if !bye && s.Bye == "" && !crew.HasOther(s) {
		return r, usagef("%s has no other lane: want both, as slipcase round .042 13.272 13.25 / .051 12.430 12.40, "+
			"or --bye when there was none; slipcase slip amend %s --opponent-reaction .051 --opponent-et 12.43 "+
			"--opponent-dial 12.40 keeps it", page.Which(s), s.ID)
	}
	r = crew.RoundOf(s, track, rules)
	crossed, _ := c.Flags().GetString("boundary")
	for i, who := range []string{"own", "other"} {
		if crossed == who || crossed == "both" {
			r.Lanes[i].Fault = crew.Boundary
		}
	}
	return r, nil
}

// typedRound sets both lanes as typed, a / between them.
func (a *app) typedRound(c *cobra.Command, args []string, bye bool) (r crew.Round, err error) {
	if c.Flags().Changed("boundary") {
		return r, usagef("--boundary is for a slip of the log: write boundary behind the lane that crossed it")
	}
	track, err := a.rulingTrack(c)
	if err != nil {
		return r, err
	}
	if r.Rules, err = readRules(c, track); err != nil {
		return r, err
	}
	words := strings.Fields(strings.Join(args, " "))
	at := slices.Index(words, "/")
	if at < 0 && !bye {
		return r, usagef(
			"one lane alone: want both with a / between them, as .042 13.272 13.25 / .051 12.430 12.40, or --bye",
		)
	}
	sides := [2][]string{words}
	if at >= 0 {
		sides = [2][]string{words[:at], words[at+1:]}
	}
	for i, side := range sides {
		if i == 1 && bye {
			break
		}
		if r.Lanes[i], err = typedLane(bareIn(c), page.LanesOf[i], side); err != nil {
			return r, usage(err)
		}
		r.Lanes[i].DialS = r.Rules.LimitS(r.Lanes[i].DialS)
	}
	return r, nil
}

// rulingTrack is the track whose rules a typed round goes by; none is needed where the
// flags say them all, or where there is no logbook.
func (a *app) rulingTrack(c *cobra.Command) (logbook.Track, error) {
	if c.Flags().Changed("perfect-reaction") && c.Flags().Changed("both-red") && !c.Flags().Changed("track") {
		return logbook.Track{}, nil
	}
	lb, err := a.open()
	if errors.Is(err, logbook.ErrNoLogbook) && !c.Flags().Changed("track") {
		return logbook.Track{}, nil
	}
	if err != nil {
		return logbook.Track{}, err
	}
	return a.raceTrack(c, lb)
}

func typedLane(bare units.System, name string, words []string) (l crew.LaneRun, err error) {
	if len(words) == 0 {
		return l, fmt.Errorf("%s figures are missing: want reaction, ET and dial, broke or boundary", name)
	}
	var s slip
	crossed := false
	rest := slices.DeleteFunc(slices.Clone(words), func(w string) bool {
		switch lower := strings.ToLower(w); {
		case lower == "boundary":
			crossed = true
		case lower == "staged":
			s.OpponentBroke = lower
		case lower == "broke":
			s.OpponentBroke = cmp.Or(s.OpponentBroke, "yes")
		default:
			return false
		}
		return true
	})
	if err := typed.Lane(bare, name, &s, rest); err != nil {
		return l, err
	}
	l = crew.OtherLane(s)
	l.NotTold = false // of a lane typed here all is told
	if crossed {
		l.Fault = crew.Boundary
	}
	return l, nil
}
