package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) consistencyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "consistency",
		Short: "how alike the runs are: reaction, 60 ft, ET in standard air",
		Long: `How alike a vehicle's runs are: reaction and reds, 60 ft time, ET in standard air, each
with its median and standard deviation and, in brackets, the interval that holds it in 95
of 100 samples; apart by lane, round or meet. "~" where lanes do not differ. And how much
later or earlier the launch has to come for a wanted reaction or a wanted chance of red.`,
		Example: `  slipcase consistency --vehicle heron
  slipcase consistency --by round --meet spring-open
  slipcase consistency --reaction .020 --red 5`,
		Args: cobra.NoArgs,
		RunE: a.reads(a.consistency),
	}
	f := c.Flags()
	f.String("vehicle", "", "the vehicle")
	f.String("by", "lane", "lane, round or meet")
	f.String("meet", "", "at this meet alone")
	f.String("reaction", "", "the reaction that is wanted, as .020")
	f.Float64("red", 5, "how many times in 100 a red light is accepted")
	return c
}

// sample is what the runs of a group made; distinct figures, not all of each run.
type sample struct {
	name                    string
	reactions, sixties, ets []float64
}

// alike is what the command works out.
type alike struct {
	vehicle logbook.Vehicle
	setup   string
	mark    predict.Mark
	perfect float64
	groups  []sample // all runs first
	left    sample
	right   sample
	launch  *launching
	rpm     string
	notes   []string
}

func (a *app) consistency(c *cobra.Command, _ []string, lb *logbook.Logbook) error {
	by, _ := c.Flags().GetString("by")
	if !slices.Contains([]string{"lane", "round", "meet"}, by) {
		return usagef("--by %q: want lane, round or meet", by)
	}
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	runs, err := lb.Runs(v.ID)
	if err != nil {
		return err
	}
	corrector, err := predict.NewCorrector(passesOf(runs))
	if err != nil {
		return err
	}
	if meet, _ := c.Flags().GetString("meet"); meet != "" {
		runs = slices.DeleteFunc(runs, func(r logbook.Run) bool { return !strings.EqualFold(r.Slip.Meet, meet) })
	}
	if len(runs) == 0 {
		return fmt.Errorf("no runs of %s to compare", v.ID)
	}
	k := gatherAlike(v, runs, corrector, by)
	if err := k.move(c, runs); err != nil {
		return err
	}
	return a.answer(k.json(), k.table(), func(w io.Writer) { a.alikeText(w, k) })
}

func gatherAlike(v logbook.Vehicle, runs []logbook.Run, corrector *predict.Corrector, by string) *alike {
	last := runs[len(runs)-1]
	k := &alike{vehicle: v, setup: last.Setup.ID, mark: usualMark(runs), perfect: last.Track.PerfectReactionS.Or(0)}
	k.groups = []sample{{name: "all"}}
	usual := predict.UsualPulls(passesOf(runs))
	others := 0
	for _, r := range runs {
		one := figuresOf(r, k, corrector, usual)
		if r.Setup.ID != k.setup {
			others++
		}
		into := []*sample{&k.groups[0]}
		switch r.Slip.Lane {
		case "left":
			into = append(into, &k.left)
		case "right":
			into = append(into, &k.right)
		}
		for _, s := range into {
			s.add(one)
		}
		if name := groupName(r.Slip, by); name != "" {
			k.group(name).add(one)
		}
	}
	if others > 0 {
		k.notes = append(k.notes, fmt.Sprintf("times of %d %s with other setups are left out", others, plural(others, "run", "runs")))
	}
	return k
}

// figuresOf are what a run counts with: its times where it was at full power, with
// the setup of the last run.
func figuresOf(r logbook.Run, k *alike, corrector *predict.Corrector, usual [predict.Marks]units.Number) (one sample) {
	if t := r.Slip.ReactionS; t.Known() {
		one.reactions = []float64{t.Value() - r.Track.PerfectReactionS.Or(0)}
	}
	if r.Setup.ID != k.setup {
		return one
	}
	p := passOf(r)
	noted := p.Effort != "" && p.Effort != predict.FullPower
	full, _ := predict.FullPull(p.Splits, usual)
	if t := p.Splits.ETs[predict.At60]; t.Known() && p.Effort != predict.Spun && p.Effort != predict.Broke {
		one.sixties = []float64{t.Value()}
	}
	if !p.Splits.ETs[k.mark].Known() || noted || !full || !r.Air.Known {
		return one
	}
	if std, ok := corrector.Correct(p); ok && std.ETs[k.mark].Centre > 0 {
		one.ets = []float64{std.ETs[k.mark].Centre}
	}
	return one
}

func (s *sample) add(o sample) {
	s.reactions, s.sixties, s.ets = append(s.reactions, o.reactions...), append(s.sixties, o.sixties...), append(s.ets, o.ets...)
}

func (k *alike) group(name string) *sample {
	for i := range k.groups {
		if k.groups[i].name == name {
			return &k.groups[i]
		}
	}
	k.groups = append(k.groups, sample{name: name})
	return &k.groups[len(k.groups)-1]
}

// groupName is the group of a slip; rounds go together by their letters.
func groupName(s slip, by string) string {
	switch by {
	case "round":
		return strings.TrimRight(s.Round, "0123456789")
	case "meet":
		return s.Meet
	}
	return s.Lane
}

// usualMark is the farthest distance that most runs reached.
func usualMark(runs []logbook.Run) predict.Mark {
	var n [predict.Marks]int
	for _, r := range runs {
		if m, some := passOf(r).Splits.Finish(); some {
			n[m]++
		}
	}
	best := predict.At1320
	for m := predict.At1320; m >= predict.At60; m-- {
		if n[m] > n[best] {
			best = m
		}
	}
	return best
}

// launching is how to move the launch.
type launching struct {
	mean     float64 // reaction so far, after the perfect light
	red      float64 // its chance as it is
	wanted   float64 // accepted chance of red
	shift    float64 // later by, for that
	reaction units.Number
	byTime   float64 // later by, for the wanted reaction
	redThen  float64
}

// move works out how to move the launch, and what the engine speed does to it.
func (k *alike) move(c *cobra.Command, runs []logbook.Run) error {
	red, _ := c.Flags().GetFloat64("red")
	if !(red > 0 && red < 100) {
		return usagef("--red %g: want how many times in 100, more than 0 and less than 100", red)
	}
	reaction, err := flagTyped(c, "reaction", typed.Reaction)
	if err != nil {
		return err
	}
	reactions := k.groups[0].reactions
	l, err := predict.NewLaunch(reactions[max(0, len(reactions)-latest):])
	if err != nil {
		k.notes = append(k.notes, err.Error())
		return nil
	}
	m := &launching{mean: l.Mean(), red: l.Red(0), wanted: red / 100, reaction: reaction}
	if m.shift, err = l.ShiftFor(m.wanted); err != nil {
		return err
	}
	if reaction.Known() {
		m.byTime = reaction.Value() - k.perfect - l.Mean()
		m.redThen = l.Red(m.byTime)
	}
	k.launch = m
	var rpm, late []float64
	for _, r := range runs {
		if r.Slip.LaunchRPM.Known() && r.Slip.ReactionS.Known() {
			rpm, late = append(rpm, r.Slip.LaunchRPM.Value()), append(late, r.Slip.ReactionS.Value()-r.Track.PerfectReactionS.Or(0))
		}
	}
	switch slope, shown := predict.Slope(rpm, late); {
	case len(rpm) == 0:
	case !shown:
		k.rpm = fmt.Sprintf("~ no effect on the reaction shown in %d runs", len(rpm))
	default:
		k.rpm = fmt.Sprintf("100 rpm more: %+.3f s (%+.3f to %+.3f)", 100*slope.Value, 100*slope.Low, 100*slope.High)
	}
	return nil
}

// kinds are the figures in turn.
func (k *alike) kinds() []struct {
	title, key string
	of         func(s sample) []float64
	base       float64
} {
	return []struct {
		title, key string
		of         func(s sample) []float64
		base       float64
	}{
		{"reaction", "reaction_s", func(s sample) []float64 { return s.reactions }, k.perfect},
		{"60 ft", "et_60_s", func(s sample) []float64 { return s.sixties }, 0},
		{fmt.Sprintf("%g ft in standard air", k.mark.Ft()), "et_standard_air_s", func(s sample) []float64 { return s.ets }, 0},
	}
}

func (k *alike) table() table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "figure", Key: "figure"},
		{Head: "of", Key: "group"},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "median", Key: "median_s", Right: true},
		{Head: "low", Key: "median_low_95_s", Right: true, Drop: 2},
		{Head: "high", Key: "median_high_95_s", Right: true, Drop: 2},
		{Head: "sd", Key: "sd_s", Right: true},
		{Head: "low", Key: "sd_low_95_s", Right: true, Drop: 3},
		{Head: "high", Key: "sd_high_95_s", Right: true, Drop: 3},
		{Head: "red", Key: "reds", Right: true, Drop: 1},
	}}
	for _, kind := range k.kinds() {
		for _, g := range k.groups {
			s, err := predict.NewSteady(kind.of(g))
			if err != nil {
				continue
			}
			red := ""
			if kind.key == "reaction_s" {
				red = fmt.Sprint(reds(g.reactions))
			}
			t.Add(kind.title, g.name, fmt.Sprint(s.N), third(s.Median.Value+kind.base), third(s.Median.Low+kind.base), third(s.Median.High+kind.base),
				third(s.SD.Value), third(s.SD.Low), third(s.SD.High), red)
		}
	}
	return t
}

func reds(reactions []float64) int {
	n := 0
	for _, r := range reactions {
		if r < -0.0005 {
			n++
		}
	}
	return n
}

// third writes thousandths, nothing where there is no telling.
func third(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return fmt.Sprintf("%.3f", v)
}
