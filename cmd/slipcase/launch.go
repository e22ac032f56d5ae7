package main

import (
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// launching is how to move the launch. Reactions are after the perfect light.
type launching struct {
	red     float64      // its chance as it is
	wanted  float64      // accepted chance of red, times in 100
	later   float64      // by so much, s, for that
	then    float64      // the reaction then
	asked   units.Number // the wanted reaction, as typed
	laterBy float64      // for it
	redThen float64
}

// move works out how to move the launch, and what the engine speed does to it.
func (k *alike) move(c *cobra.Command, runs []logbook.Run) error {
	red, err := flagTimes(c, "red")
	if err != nil {
		return err
	}
	reaction, late, err := wantedReaction(c, runs[len(runs)-1].Track)
	if err != nil {
		return err
	}
	l, err := predict.NewLaunch(k.groups[0].reactions)
	if err != nil {
		k.notes = append(k.notes, err.Error())
		return nil
	}
	m := &launching{red: l.Red(0), wanted: red, asked: reaction}
	if m.later, err = l.ShiftFor(m.wanted / 100); err != nil {
		return err
	}
	m.then = l.Mean(m.later)
	if reaction.Known() {
		m.laterBy = l.ShiftTo(late)
		m.redThen = l.Red(m.laterBy)
	}
	k.launch, k.rpm = m, rpmEffect(runs)
	return nil
}

// slowestWanted is the latest reaction that anyone aims at, s after the perfect light.
const slowestWanted = 0.3

// wantedReaction is the reaction asked for, as typed and after the perfect light.
func wantedReaction(c *cobra.Command, track logbook.Track) (asked units.Number, late float64, err error) {
	if asked, err = flagTyped(c, "reaction", typed.Reaction); err != nil || !asked.Known() {
		return asked, 0, err
	}
	perfect := track.PerfectReactionS.Or(0)
	late = asked.Value() - perfect
	if late < -0.0005 || late > slowestWanted+0.0005 {
		return asked, 0, usagef("--reaction %.3f: want %.3f to %.3f, since a perfect light is %.3f %s",
			asked.Value(), perfect, perfect+slowestWanted, perfect, atTrack(track))
	}
	return asked, late, nil
}

func atTrack(t logbook.Track) string {
	if t.ID == "" {
		return "where no track is named"
	}
	return "at " + t.ID
}

// rpmEffect says what the engine speed at the launch does to the reaction.
func rpmEffect(runs []logbook.Run) string {
	var rpm, late []float64
	for _, r := range runs {
		if t := lateBy(r); t.Known() && r.Slip.LaunchRPM.Known() {
			rpm, late = append(rpm, r.Slip.LaunchRPM.Value()), append(late, t.Value())
		}
	}
	switch slope, shown := predict.Slope(rpm, late); {
	case len(rpm) == 0:
		return ""
	case !shown:
		return fmt.Sprintf("~ no effect on the reaction shown in %d %s", len(rpm), plural(len(rpm), "run", "runs"))
	default:
		return fmt.Sprintf("100 rpm more: %+.3f s (%+.3f to %+.3f)", 100*slope.Value, 100*slope.Low, 100*slope.High)
	}
}

func (k *alike) launchText(a *app, w io.Writer) {
	l := k.launch
	if l == nil {
		return
	}
	a.say(w, "launch", l.redText())
	if l.asked.Known() {
		a.say(w, "for "+third(l.asked.Value()), fmt.Sprintf("%s; red %.1f times in 100 then", laterText(l.laterBy), 100*l.redThen))
	}
	if k.rpm != "" {
		a.say(w, "launch rpm", k.rpm)
	}
}

// redText says how to be red as often as is accepted, where that is another chance
// than now.
func (l *launching) redText() string {
	is := fmt.Sprintf("%.1f", 100*l.red)
	if math.Abs(l.later) < 0.0005 || is == fmt.Sprintf("%.1f", l.wanted) {
		return fmt.Sprintf("red %s times in 100 as it is: no move needed", is)
	}
	return fmt.Sprintf("red %s times in 100 as it is; %s makes it %g (on average %.3f after perfect then, %.3f now)", is, laterText(l.later), l.wanted, l.then, l.then-l.later)
}

func laterText(s float64) string {
	switch {
	case math.Abs(s) < 0.0005:
		return "no move"
	case s < 0:
		return fmt.Sprintf("%.3f s less delay", -s)
	}
	return fmt.Sprintf("%.3f s more delay", s)
}
