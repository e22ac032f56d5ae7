package page

import (
	"fmt"
	"io"
	"math"

	"slipcase/cmd/slipcase/internal/crew"
)

// launchText tells how to move the launch.
func (p *Page) launchText(w io.Writer, l *crew.LaunchMove, rpm crew.RPMEffect) {
	if l == nil {
		return
	}
	p.Say(w, "launch", redsText(l))
	if l.Asked.Known() {
		then := fmt.Sprintf("%s; red %.1f %% then", laterText(l.AskedBy), 100*l.AskedRed)
		p.Say(w, "for "+thousandth(l.Asked.Value()), then)
	}
	switch slope := rpm.Slope; {
	case rpm.Runs == 0:
	case !rpm.Shown:
		p.Say(w, "launch rpm", fmt.Sprintf("~ no effect on the light in %s", runsText(rpm.Runs)))
	default:
		p.Say(
			w,
			"launch rpm",
			fmt.Sprintf("100 rpm more: %+.3f s (%+.3f to %+.3f)", 100*slope.Value, 100*slope.Low, 100*slope.High),
		)
	}
}

// redsText says how to be red as often as is accepted, where that is another chance
// than now.
func redsText(l *crew.LaunchMove) string {
	is := fmt.Sprintf("%.1f", 100*l.Red)
	if math.Abs(l.Later) < 0.0005 || is == fmt.Sprintf("%.1f", l.RedPct) {
		return fmt.Sprintf("red %s %% as it is: no move needed", is)
	}
	return fmt.Sprintf("red %s %% as it is; %s makes it %g %% (average light %.3f then, %.3f now)",
		is, laterText(l.Later), l.RedPct, l.Then, l.Then-l.Later)
}

func laterText(s float64) string {
	switch {
	case math.Abs(s) < 0.0005:
		return "no move"
	case s < 0:
		return fmt.Sprintf("%.3f out of the box", -s)
	}
	return fmt.Sprintf("%.3f more in the box", s)
}
