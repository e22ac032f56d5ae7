package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) consistencyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "consistency",
		Short: "how alike the runs are: reaction, 60 ft, ET in standard air",
		Long: `How alike a vehicle's runs are: reaction after the perfect light and reds, 60 ft time,
ET in standard air, each with its median and standard deviation and, in brackets, the
interval that holds it in 95 of 100 samples; apart by lane, round or meet. "~" where
lanes do not differ. Times are of the last setup's runs, as far as the forecast counts
them. And how much later or earlier the launch has to come for a wanted reaction or a
wanted chance of red.`,
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
	f.String("reaction", "", "the reaction that is wanted, as the last slip's track prints it")
	f.String("red", "5", "how many times in 100 a red light is accepted")
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
	groups  []sample // all runs first
	left    sample
	right   sample
	leftOut []predict.LeftOut
	launch  *launching
	rpm     string
	notes   []string
}

func (a *app) consistency(c *cobra.Command, _ []string, lb *crew.Session) error {
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
	corrector, err := predict.NewCorrector(crew.PassesOf(runs))
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
	return a.answer(k.json(a.units), k.table(), func(w io.Writer) { a.alikeText(w, k) })
}

// gatherAlike puts the runs into their groups: each with its reaction, those with the
// setup of the last run with the times that count.
func gatherAlike(v logbook.Vehicle, runs []logbook.Run, corrector *predict.Corrector, by string) *alike {
	k := &alike{vehicle: v, setup: runs[len(runs)-1].Setup.ID, mark: predict.UsualFinish(crew.PassesOf(runs)), groups: []sample{{name: "all"}}}
	others, airless, own := 0, 0, map[string]bool{}
	for _, r := range runs {
		var one sample
		if late := lateBy(r); late.Known() {
			one.reactions = []float64{late.Value()}
		}
		if r.Setup.ID == k.setup {
			own[r.Slip.ID] = true
			f := corrector.Figures(crew.PassOf(r), k.mark)
			one.sixties, one.ets = list(f.ET60), list(f.ETStandard)
			if f.AirNotKnown {
				airless++
			}
		} else {
			others++
		}
		k.add(r.Slip, by, one)
	}
	k.leftOut = slices.DeleteFunc(corrector.LeftOut(), func(l predict.LeftOut) bool { return !own[l.ID] })
	if others > 0 {
		k.notes = append(k.notes, fmt.Sprintf("times of %d %s with other setups are left out", others, plural(others, "run", "runs")))
	}
	if airless > 0 {
		k.notes = append(k.notes, fmt.Sprintf("%d %s without known air: no time in standard air", airless, plural(airless, "run", "runs")))
	}
	return k
}

// list is a figure as a sample of at most one.
func list(n units.Number) []float64 {
	if !n.Known() {
		return nil
	}
	return []float64{n.Value()}
}

// lateBy is the reaction of a run after its track's perfect light.
func lateBy(r logbook.Run) units.Number {
	return minus(r.Slip.ReactionS, units.Some(r.Track.PerfectReactionS.Or(0)))
}

// add puts the figures of a slip into the groups that it belongs to.
func (k *alike) add(s slip, by string, one sample) {
	k.groups[0].add(one)
	switch s.Lane {
	case "left":
		k.left.add(one)
	case "right":
		k.right.add(one)
	}
	if name := groupName(s, by); name != "" {
		k.group(name).add(one)
	}
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
