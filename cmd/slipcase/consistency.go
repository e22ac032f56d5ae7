package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) consistencyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "consistency",
		Short: "how alike the runs are: reaction, 60 ft and ET, by lane and round",
		Long: `How alike a vehicle's runs are: reactions after the perfect light and how many were red,
60 ft times, and ETs in standard air of the latest setup's full-power runs; all together, by
lane and by round, each with its count and the interval that holds its median in 95 of 100
samples. "~" where the lanes do not differ beyond luck. And how much later to leave for a
wanted chance of red, or what a wanted reaction costs in reds.`,
		Example: "  slipcase consistency --vehicle heron\n  slipcase consistency --vehicle heron --meet \"Spring Opener\" --red 5\n  slipcase consistency --vehicle heron --reaction .020",
		Args:    cobra.NoArgs,
		RunE:    a.reads(a.consistency),
	}
	f := c.Flags()
	f.String("vehicle", "", "the vehicle")
	f.String("meet", "", "of this meet alone")
	f.String("red", "", "a wanted chance of a red light, percent; 5 when left out")
	f.String("reaction", "", "a wanted mean reaction after the perfect light, as .020")
	return c
}

// alike are the figures of a vehicle's runs, in the order they were made.
type alike struct {
	group     string // a lane or a round; all together
	reactions []float64
	sixties   []float64
	ets       []float64
	reds      int
}

func (g *alike) figures() []alikeFigure {
	return []alikeFigure{{"reaction", g.reactions}, {"60 ft", g.sixties}, {"ET std air", g.ets}}
}

type alikeFigure struct {
	name   string
	values []float64
}

func (a *app) consistency(c *cobra.Command, _ []string, lb *logbook.Logbook) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	runs, err := lb.Runs(v.ID)
	if err != nil {
		return err
	}
	meet, _ := c.Flags().GetString("meet")
	if meet != "" && !slices.ContainsFunc(runs, func(r logbook.Run) bool { return r.Slip.Meet == meet }) {
		return fmt.Errorf("no slip of %s at a meet %q: %w", v.ID, meet, logbook.ErrUnknown)
	}
	all, lanes, rounds, err := gatherAlike(runs, meet)
	if err != nil {
		return err
	}
	out := consistencyJSON{Vehicle: v.ID, Meet: meet, All: newAlikeJSON(all), Lanes: []alikeJSON{}, LanesDiffer: []differJSON{}, Rounds: []alikeJSON{}}
	t := alikeTable()
	t.Rows = append(t.Rows, alikeRows(all)...)
	for _, g := range lanes {
		out.Lanes = append(out.Lanes, newAlikeJSON(g))
		t.Rows = append(t.Rows, alikeRows(g)...)
	}
	for _, g := range rounds {
		out.Rounds = append(out.Rounds, newAlikeJSON(g))
		t.Rows = append(t.Rows, alikeRows(g)...)
	}
	said := []string{}
	if len(lanes) == 2 {
		out.LanesDiffer, said = lanesDiffer(lanes[0], lanes[1])
	}
	launch, err := a.launchText(c, all.reactions, runs, &out)
	if err != nil {
		return err
	}
	a.aside(slices.Concat(said, launch))
	return a.answer(out, t, func(w io.Writer) {
		if all.empty() {
			fmt.Fprintln(w, "none recorded yet")
			return
		}
		if n := len(all.reactions); n > 0 {
			red := predict.Share(all.reds, n)
			a.say(w, v.Name(), fmt.Sprintf("%d red of %d: %.0f %%, in truth %.0f to %.0f %% (95 in 100)", all.reds, n, 100*red.Value, 100*red.Low, 100*red.High))
			fmt.Fprintln(w)
		}
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		for _, s := range said {
			a.say(w, "lanes", s)
		}
		for _, s := range launch {
			a.say(w, "launch", s)
		}
	})
}

func (g *alike) empty() bool { return len(g.reactions)+len(g.sixties)+len(g.ets) == 0 }

// gatherAlike sorts the figures of runs by lane and by round; what was not at full
// power, or of an older setup, has no ET to compare.
func gatherAlike(runs []logbook.Run, meet string) (all *alike, lanes, rounds []*alike, err error) {
	all = &alike{group: "all"}
	correctors, usual, err := learnAir(runs)
	if err != nil {
		return all, nil, nil, err
	}
	groups := map[string]*alike{}
	in := func(list *[]*alike, name string) *alike {
		if name == "" {
			return &alike{}
		}
		if groups[name] == nil {
			groups[name] = &alike{group: name}
			*list = append(*list, groups[name])
		}
		return groups[name]
	}
	latest := ""
	if len(runs) > 0 {
		latest = runs[len(runs)-1].Setup.ID
	}
	for _, r := range runs {
		if meet != "" && r.Slip.Meet != meet {
			continue
		}
		p := passOf(r)
		et, timed := 0., false
		if full, _ := predict.FullPull(p.Splits, usual[r.Slip.Vehicle]); full && predict.FullEffort(p.Effort) && r.Air.Known && r.Setup.ID == latest {
			if m, ok := p.Splits.Finish(); ok {
				if std, ok := correctors[r.Slip.Vehicle].Correct(p); ok {
					et, timed = std.ETs[m].Centre, true
				}
			}
		}
		for _, g := range []*alike{all, in(&lanes, r.Slip.Lane), in(&rounds, r.Slip.Round)} {
			if s := r.Slip.ReactionS; s.Known() {
				g.reactions = append(g.reactions, s.Value()-r.Track.PerfectReactionS.Or(0))
				if r.Track.Red(s.Value()) {
					g.reds++
				}
			}
			if s := r.Slip.ET60S; s.Known() && predict.FullEffort(p.Effort) {
				g.sixties = append(g.sixties, s.Value())
			}
			if timed {
				g.ets = append(g.ets, et)
			}
		}
	}
	slices.SortFunc(lanes, func(a, b *alike) int { return strings.Compare(a.group, b.group) })
	slices.SortFunc(rounds, func(a, b *alike) int { return strings.Compare(a.group, b.group) })
	return all, lanes, rounds, nil
}

// lanesDiffer says of each figure whether one lane is quicker beyond luck.
func lanesDiffer(a, b *alike) (list []differJSON, said []string) {
	for i, f := range a.figures() {
		d, shown := predict.Differ(f.values, b.figures()[i].values)
		if math.IsNaN(d.Value) {
			continue
		}
		list = append(list, differJSON{f.name, round4(d.Value), finite(d.Low), finite(d.High), shown})
		switch {
		case !shown:
			said = append(said, fmt.Sprintf("%s  ~ no difference shown (%s less %s %+.3f s)", f.name, a.group, b.group, d.Value))
		default:
			said = append(said, fmt.Sprintf("%s: %s less %s %+.3f s, 95 %%: %+.3f to %+.3f", f.name, a.group, b.group, d.Value, d.Low, d.High))
		}
	}
	return list, said
}

// launchText says how to move the launch for a wanted chance of red or reaction.
func (a *app) launchText(c *cobra.Command, reactions []float64, runs []logbook.Run, out *consistencyJSON) ([]string, error) {
	red, err := numberFlag(c, "red", units.Percent)
	if err != nil {
		return nil, err
	}
	if red.Known() && !(red.Value() > 0 && red.Value() < 100) {
		return nil, usagef("--red %v: want a chance of red of more than 0 and less than 100 percent", red)
	}
	reaction, err := numberFlag(c, "reaction", units.Seconds)
	if err != nil {
		return nil, err
	}
	if math.Abs(reaction.Value()) > 1 {
		return nil, usagef("--reaction %v: want seconds after the perfect light, as .020", reaction)
	}
	l, err := predict.NewLaunch(reactions)
	if err != nil {
		return []string{err.Error()}, nil
	}
	shift, why := 0., ""
	if reaction.Known() {
		shift, why = reaction.Value()-l.Mean(), fmt.Sprintf("for a mean of %.3f", reaction.Value())
	} else {
		chance := red.Or(5)
		if shift, err = l.ShiftFor(chance / 100); err != nil {
			return nil, usage(err)
		}
		why = fmt.Sprintf("for red %g times in 100", chance)
	}
	out.Launch = &launchJSON{round4(l.Mean()), round4(l.Red(0)), round4(shift), round4(l.Mean() + shift), round4(l.Red(shift))}
	side := "later"
	if shift < 0 {
		side = "earlier"
	}
	said := []string{
		fmt.Sprintf("mean reaction %.3f after the perfect light, red %.0f times in 100 as it is", l.Mean(), 100*l.Red(0)),
		fmt.Sprintf("%s leave %.3f s %s: mean %.3f, red %.0f times in 100. A delay box moves it one to one", why, math.Abs(shift), side, l.Mean()+shift, 100*l.Red(shift)),
	}
	return append(said, rpmText(runs, shift)...), nil
}

// rpmText says what the launch rpm does to the reaction, where the slips show it.
func rpmText(runs []logbook.Run, shift float64) []string {
	var rpm, reactions []float64
	for _, r := range runs {
		if r.Slip.LaunchRPM.Known() && r.Slip.ReactionS.Known() {
			rpm = append(rpm, r.Slip.LaunchRPM.Value())
			reactions = append(reactions, r.Slip.ReactionS.Value()-r.Track.PerfectReactionS.Or(0))
		}
	}
	slope, shown := predict.Slope(rpm, reactions)
	if !shown {
		return nil
	}
	return []string{fmt.Sprintf("100 rpm more at launch moves it %+.4f s (95 %%: %+.4f to %+.4f): %+.0f rpm for that", 100*slope.Value, 100*slope.Low, 100*slope.High, shift/slope.Value)}
}
