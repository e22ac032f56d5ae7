package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
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

// registerRules gives a command the flags that say how lanes are set against each
// other.
func registerRules(c *cobra.Command) {
	c.Flags().String("class", "dial", "dial, index or heads-up")
	c.Flags().String("index", "", "the class's index, with --class index")
	c.Flags().String("track", "", "the track, for its perfect light and its rule")
	c.Flags().String("perfect-reaction", "", "what the slip prints for a perfect light: 0, 0.4 or 0.5")
	c.Flags().String("both-red", "", "who loses when both are red: first or worst")
}

func (a *app) judgeRound(c *cobra.Command, args []string) error {
	lanes, track, recorded, err := a.roundLanes(c, args)
	if err != nil {
		return err
	}
	rules, err := roundRules(c, track)
	if err != nil {
		return err
	}
	if rules.Format == predict.Index {
		index, err := flagTyped(c, "index", typed.Dial)
		if err != nil {
			return err
		}
		for i := range lanes {
			if index.Known() {
				lanes[i].DialS = index
			}
		}
	}
	bye, _ := c.Flags().GetBool("bye")
	lanes[0].Name, lanes[1].Name = laneNames[0], laneNames[1]
	res := predict.Adjudicate(rules, lanes, bye)
	var remarks []string
	if text, _ := c.Flags().GetString("both-red"); text == "" && track.BothRed == "" && strings.HasPrefix(res.Why, "both red") {
		remarks = append(remarks, "the rule for two reds is assumed: --both-red worst, or slipcase track amend --both-red")
	}
	if says := resultWord(res.Winner); recorded != "" && says != "" && says != recorded {
		remarks = append(remarks, fmt.Sprintf("the log says %s", recorded))
	}
	res.Remarks = append(append(res.Remarks, remarks...), predict.RoundCaution)
	return a.answer(newRoundJSON(res), roundTable(lanes, res, bye), func(w io.Writer) { a.roundText(w, lanes, res, bye) })
}

// isReaction tells a typed reaction from the id of a slip.
func isReaction(word string) bool {
	n, err := typed.Reaction(word)
	return err == nil && n.Known()
}

// roundLanes are this lane and the other one: of a slip of the log, or as typed.
func (a *app) roundLanes(c *cobra.Command, args []string) (lanes [2]predict.LaneRun, track logbook.Track, recorded string, err error) {
	bye, _ := c.Flags().GetBool("bye")
	typedLanes := slices.Contains(args, "/") || len(args) > 1 || bye && len(args) == 1 && isReaction(args[0])
	name, _ := c.Flags().GetString("track")
	if typedLanes {
		if name != "" {
			lb, err := a.open()
			if err != nil {
				return lanes, track, "", err
			}
			if track, err = lb.Track(name); err != nil {
				return lanes, track, "", err
			}
		}
		lanes, err = typedLanesOf(args, bye)
		return lanes, track, "", err
	}
	ref := "last"
	if len(args) == 1 {
		ref = args[0]
	}
	lb, err := a.open()
	if err != nil {
		return lanes, track, "", err
	}
	s, err := lb.Slip(ref)
	if err != nil {
		return lanes, track, "", err
	}
	if name == "" {
		name = s.Track
	}
	if name != "" {
		if track, err = lb.Track(name); err != nil {
			return lanes, track, "", err
		}
	}
	lanes = lanesOf(s)
	crossed, _ := c.Flags().GetString("boundary")
	switch crossed {
	case "", "own", "other", "both":
	default:
		return lanes, track, "", usagef("--boundary %q: want own, other or both", crossed)
	}
	for i, who := range []string{"own", "other"} {
		if crossed == who || crossed == "both" {
			lanes[i].Fault = predict.Boundary
		}
	}
	if lanes[1].ReactionS == (units.Number{}) && lanes[1].ETS == (units.Number{}) && !bye {
		return lanes, track, "", usagef("slip %s has no other lane: --bye when there was none, or slipcase slip amend %s --opponent-reaction .051 --opponent-et 12.43 --opponent-dial 12.40", s.ID, s.ID)
	}
	return lanes, track, s.Result, nil
}

// lanesOf are both lanes of a slip at the distance that was raced.
func lanesOf(s slip) [2]predict.LaneRun {
	p, _ := s.Finish()
	return [2]predict.LaneRun{
		{Name: laneNames[0], ReactionS: s.ReactionS, ETS: p.ETS, DialS: s.DialS, MPH: p.MPH},
		{Name: laneNames[1], ReactionS: s.OpponentReactionS, ETS: s.OpponentETS, DialS: s.OpponentDialS, MPH: s.OpponentMPH},
	}
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
		if lanes[i], err = typedLane(side); err != nil {
			return lanes, usage(err)
		}
	}
	return lanes, nil
}

func typedLane(words []string) (predict.LaneRun, error) {
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
		return l, fmt.Errorf("a lane says nothing: want reaction, ET and dial, broke or boundary")
	}
	var s slip
	if err := typed.Lane("the other lane", &s, rest); err != nil {
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

func roundRules(c *cobra.Command, track logbook.Track) (rules predict.RoundRules, err error) {
	class, _ := c.Flags().GetString("class")
	rules.Format = predict.Format(class)
	if !slices.Contains([]predict.Format{predict.Dialled, predict.Index, predict.HeadsUp}, rules.Format) {
		return rules, usagef("--class %q: want dial, index or heads-up", class)
	}
	perfect, err := flagTyped(c, "perfect-reaction", typed.Reaction)
	if err != nil {
		return rules, err
	}
	if p := perfect; p.Known() && p.Value() != 0 && p.Value() != 0.4 && p.Value() != 0.5 {
		return rules, usagef("--perfect-reaction %v: want 0, 0.4 or 0.5", p)
	}
	rules.PerfectS = perfect.Or(track.PerfectReactionS.Or(0))
	both, _ := c.Flags().GetString("both-red")
	if both == "" {
		both = track.BothRed
	}
	switch both {
	case "", "first":
	case "worst":
		rules.WorstRed = true
	default:
		return rules, usagef("--both-red %q: want first or worst", both)
	}
	return rules, nil
}

// flagTyped reads a flag as a slip's figures are typed.
func flagTyped(c *cobra.Command, flag string, parse func(string) (units.Number, error)) (units.Number, error) {
	text, _ := c.Flags().GetString(flag)
	n, err := parse(text)
	if err != nil {
		return n, usagef("--%s: %v", flag, err)
	}
	return n, nil
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

var laneNames = [2]string{"this lane", "the other lane"}

type roundJSON struct {
	Result        string       `json:"result,omitzero"`
	Why           string       `json:"why"`
	PackageS      units.Number `json:"package_s,omitzero"`
	OtherPackageS units.Number `json:"other_package_s,omitzero"`
	MarginS       units.Number `json:"margin_s,omitzero"`
	MarginFt      units.Number `json:"margin_ft,omitzero"`
	Warnings      []string     `json:"warnings"`
}

func newRoundJSON(r predict.RoundResult) roundJSON {
	return roundJSON{resultWord(r.Winner), r.Why, r.Packages[0], r.Packages[1], r.MarginS, tidy(r.MarginFt), append([]string{}, r.Remarks...)}
}

func roundTable(lanes [2]predict.LaneRun, r predict.RoundResult, bye bool) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "lane"},
		{Head: "reaction", Key: "reaction_s", Right: true},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "dial", Key: "dial_s", Right: true},
		{Head: "package", Key: "package_s", Right: true},
	}}
	for i, name := range laneNames {
		if i == 1 && bye {
			break
		}
		l := lanes[i]
		t.Add(name, seconds(l.ReactionS), seconds(l.ETS), hundredths(l.DialS), seconds(r.Packages[i]))
	}
	return t
}

func (a *app) roundText(w io.Writer, lanes [2]predict.LaneRun, r predict.RoundResult, bye bool) {
	head := resultWord(r.Winner)
	if head == "" {
		head = "not decided"
	}
	a.say(w, head, r.Why)
	if r.First != predict.Nobody {
		margin := fmt.Sprintf("%s ahead by %.3f s", lanes[r.First].Name, r.MarginS.Value())
		if r.MarginFt.Known() {
			margin += ", " + a.feet(r.MarginFt.Value())
		}
		a.say(w, "at the finish", margin)
	}
	fmt.Fprintln(w)
	roundTable(lanes, r, bye).Render(w, table.Text, a.width())
	fmt.Fprintln(w)
	for _, remark := range r.Remarks {
		a.say(w, "note", remark)
	}
}

// feet is a short distance with a digit behind the point where it deserves one.
func (a *app) feet(ft float64) string {
	v := units.Length.In(a.units, ft)
	if v < 10 {
		return fmt.Sprintf("%.1f %s", v, units.Length.Symbol(a.units))
	}
	return fmt.Sprintf("%.0f %s", v, units.Length.Symbol(a.units))
}
