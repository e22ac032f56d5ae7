package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// raced is a round as it is to be judged.
type raced struct {
	rules    roundRules
	lanes    [2]predict.LaneRun
	bye      bool
	recorded string // the result that the log has
	remarks  []string
}

// round is the round of a slip of the log, or of both lanes as typed.
func (a *app) round(c *cobra.Command, args []string) (r raced, err error) {
	r.bye, _ = c.Flags().GetBool("bye")
	name, _ := c.Flags().GetString("track")
	if slices.Contains(args, "/") || len(args) > 1 || r.bye && len(args) == 1 && isReaction(args[0]) {
		err = a.typedRound(c, &r, name, args)
		return r, err
	}
	ref := "last"
	if len(args) == 1 {
		ref = args[0]
	}
	lb, err := a.open()
	if err != nil {
		return r, err
	}
	s, err := lb.Slip(ref)
	if err != nil {
		return r, err
	}
	var track logbook.Track
	if name = cmp.Or(name, s.Track); name != "" {
		if track, err = lb.Track(name); err != nil {
			return r, err
		}
	}
	if r.rules, err = readRules(c, track); err != nil {
		return r, err
	}
	err = r.take(c, s, track)
	return r, err
}

// isReaction tells a typed reaction from the id of a slip.
func isReaction(word string) bool {
	n, err := typed.Reaction(word)
	return err == nil && n.Known()
}

// take sets both lanes by a slip.
func (r *raced) take(c *cobra.Command, s slip, track logbook.Track) error {
	other := otherLaneOf(s)
	if !other.ReactionS.Known() && !other.ETS.Known() && !r.bye {
		return usagef("slip %s has no other lane: --bye when there was none, or slipcase slip amend %s --opponent-reaction .051 --opponent-et 12.43 --opponent-dial 12.40", s.ID, s.ID)
	}
	s.DialS, s.OpponentDialS = r.rules.dialOf(s.DialS), r.rules.dialOf(s.OpponentDialS)
	r.lanes, r.recorded = lanesOf(s, track), s.Result
	if last, timed := s.Finish(); timed && !r.lanes[0].ETS.Known() {
		r.remarks = append(r.remarks, fmt.Sprintf("judged at %g ft: %s's last time is at %g ft", racedTo(s, track).Ft(), page.LaneNames[0], last.Ft))
	}
	crossed, _ := c.Flags().GetString("boundary")
	if !slices.Contains([]string{"", "own", "other", "both"}, crossed) {
		return usagef("--boundary %q: want own, other or both", crossed)
	}
	for i, who := range []string{"own", "other"} {
		if crossed == who || crossed == "both" {
			r.lanes[i].Fault = predict.Boundary
		}
	}
	return nil
}

// typedRound sets both lanes as typed, a / between them.
func (a *app) typedRound(c *cobra.Command, r *raced, name string, args []string) error {
	if c.Flags().Changed("boundary") {
		return usagef("--boundary is for a slip of the log: write boundary behind the lane that crossed it")
	}
	var track logbook.Track
	if name != "" {
		lb, err := a.open()
		if err != nil {
			return err
		}
		if track, err = lb.Track(name); err != nil {
			return err
		}
	}
	var err error
	if r.rules, err = readRules(c, track); err != nil {
		return err
	}
	if r.lanes, err = typedLanesOf(args, r.bye); err != nil {
		return err
	}
	for i := range r.lanes {
		r.lanes[i].DialS = r.rules.dialOf(r.lanes[i].DialS)
	}
	return nil
}

// typedLanesOf reads both lanes as typed, a / between them.
func typedLanesOf(args []string, bye bool) (lanes [2]predict.LaneRun, err error) {
	words := strings.Fields(strings.Join(args, " "))
	at := slices.Index(words, "/")
	if at < 0 && !bye {
		return lanes, usagef("one lane alone: want both with a / between them, as .042 13.272 13.25 / .051 12.430 12.40, or --bye")
	}
	sides := [][]string{words, nil}
	if at >= 0 {
		sides = [][]string{words[:at], words[at+1:]}
	}
	for i, side := range sides {
		if i == 1 && bye {
			break
		}
		if lanes[i], err = typedLane(page.LaneNames[i], side); err != nil {
			return lanes, usage(err)
		}
	}
	return lanes, nil
}

func typedLane(name string, words []string) (predict.LaneRun, error) {
	var l predict.LaneRun
	broke := false
	rest := slices.DeleteFunc(slices.Clone(words), func(w string) bool {
		switch {
		case strings.EqualFold(w, "boundary"):
			l.Fault = predict.Boundary
		case strings.EqualFold(w, "broke"):
			broke = true
		default:
			return false
		}
		return true
	})
	if len(words) == 0 {
		return l, fmt.Errorf("%s says nothing: want reaction, ET and dial, broke or boundary", name)
	}
	var s slip
	if err := typed.Lane(name, &s, rest); err != nil {
		return l, err
	}
	l.ReactionS, l.ETS, l.DialS, l.MPH = s.OpponentReactionS, s.OpponentETS, s.OpponentDialS, s.OpponentMPH
	if broke && len(rest) == 0 && l.Fault == predict.NoFault {
		l.Fault = predict.NoStart
	}
	if broke && l.DialS == (units.Number{}) {
		l.DialS, l.ETS = l.ETS, units.Number{} // what is said of a run that ended early is its dial
	}
	return l, nil
}
