package page

import (
	"fmt"
	"math"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// markNames are those of a slip, in its order.
var markNames = []string{"reaction", "60 ft", "330 ft", "660 ft", "1000 ft", "1320 ft"}

// WithLikely says all that looks wrong on a slip, each with what was likely meant.
func (p *Page) WithLikely(ds []crew.Doubt) (words []string) {
	for _, d := range ds {
		text := p.Doubt(d)
		if len(d.Readings) > 0 {
			text += "; likely " + p.Meant(d.Readings[0])
		}
		words = append(words, text)
	}
	return words
}

// Doubt says what looks wrong on a slip.
func (p *Page) Doubt(d crew.Doubt) string {
	if text := p.figureDoubt(d); text != "" {
		return text
	}
	clock, where := d.When.Format("15:04"), "on another line"
	if d.TwinID != "" {
		where = "(" + d.TwinID + ")"
	}
	value, likely := units.Some(d.Value), units.Some(d.Likely)
	switch d.Kind {
	case crew.InFuture:
		return inFuture(d.When, d.Now)
	case crew.ReactionOdd:
		if d.High > d.Low {
			return fmt.Sprintf("%sreaction %.3f, usual is %.3f to %.3f", lane(d.Other), d.Value, d.Low, d.High)
		}
		return fmt.Sprintf("%sreaction %.3f where those before were about %.3f", lane(d.Other), d.Value, d.Likely)
	case crew.DialOff:
		if d.Alone {
			return fmt.Sprintf(
				"dial %s is %.2f s from the run itself, %.3f",
				Hundredths(value),
				math.Abs(d.Value-d.Likely),
				d.Likely,
			)
		}
		return fmt.Sprintf(
			"dial %s is %.2f s from the forecast %.2f",
			Hundredths(value),
			math.Abs(d.Value-d.Likely),
			d.Likely,
		)
	case crew.UnderDial:
		return fmt.Sprintf("%s%.3f is %.2f s under its dial %s", lane(d.Other), d.Value, d.Likely-d.Value, Hundredths(likely))
	case crew.StopUnsaid:
		return fmt.Sprintf("no throttle stop on it, and %.3f is a time with one: %.2f on the run at %s; type it, as stop %.2f",
			d.Value, d.Likely, d.When.Format("2006-01-02 15:04"), d.Likely)
	case crew.TwiceMade:
		return fmt.Sprintf("%s has the slip of %s %s within a minute of it: typed twice? If not, say when it ran, as %s",
			d.Vehicle, clock, where, d.Free.Format("15:04"))
	case crew.TwiceFigures:
		return fmt.Sprintf("its figures are those of the slip of %s %s: typed twice", clock, where)
	case crew.TwiceRound:
		return fmt.Sprintf("most of its figures are those of the same round %s %s: typed twice", clock, where)
	case crew.Shifted:
		side := "low"
		if d.Down {
			side = "high"
		}
		return fmt.Sprintf("everything from the %s on is a line too %s", markNames[d.Line], side)
	case crew.Unbelievable:
		return outlier(d.Outlier, p.Units)
	case crew.ResultAgainst:
		return fmt.Sprintf("%s, but by its figures %s: %s", d.Result, d.Decided, Decision(d.Why))
	}
	return string(d.Kind)
}

// inFuture says that a time has not come where it was typed for.
func inFuture(at, now time.Time) string {
	layout := "15:04"
	if at.Format(time.DateOnly) != now.Format(time.DateOnly) {
		layout = "2006-01-02 15:04"
	}
	return fmt.Sprintf("its time %s is in the future: it is %s there (%s)", at.Format(layout), now.Format(layout), now.Format("MST"))
}

// figureDoubt says what looks wrong with a time or a speed of the slip's own column.
func (p *Page) figureDoubt(d crew.Doubt) string {
	ft, shown := d.At.Ft(), func(mph float64) float64 { return units.Speed.In(p.Units, mph) }
	speed := fmt.Sprintf("%g ft speed %v %s", ft, rounded(shown(d.Value), ToMPH), units.Speed.Symbol(p.Units))
	mean := plain(units.Speed, p.Units, d.Likely, 0)
	by := "the rest of the slip and the forecast say"
	if d.Alone {
		by = "the forecast says"
	}
	switch {
	case d.Kind == crew.SpeedLow:
		return fmt.Sprintf("%s is below the %s the times make from %g ft on", speed, mean, d.FromFt)
	case d.Kind == crew.TimesLong:
		return fmt.Sprintf("%s, but the times make only %s from %g ft on", speed, mean, d.FromFt)
	case d.Kind == crew.FarOff && d.Speed:
		return fmt.Sprintf("%s: usual is %.0f to %.0f", speed, shown(d.Low), shown(d.High))
	case d.Kind == crew.FarOff:
		return fmt.Sprintf("%g ft in %v s: usual is %.1f to %.1f", ft, units.Some(d.Value), d.Low, d.High)
	case d.Kind == crew.Misread && d.Speed:
		return fmt.Sprintf("%s at %g ft where %s %.0f", plain(units.Speed, p.Units, d.Value, 2), ft, by, shown(d.Likely))
	case d.Kind == crew.Misread:
		return fmt.Sprintf("%g ft in %.3f where %s %.2f", ft, d.Value, by, d.Likely)
	}
	return ""
}

// Doubts say all that looks wrong.
func (p *Page) Doubts(ds []crew.Doubt) string {
	words := make([]string, len(ds))
	for i, d := range ds {
		words[i] = p.Doubt(d)
	}
	return strings.Join(words, "; ")
}

// Meant says what may have been meant.
func (p *Page) Meant(m crew.Meant) string {
	switch m.Kind {
	case crew.Exchanged:
		what := "times"
		if m.Speed {
			what = "speeds"
		}
		return fmt.Sprintf("the %s at %g and %g ft were exchanged", what, m.At.Ft(), m.With.Ft())
	case crew.Moved:
		side := "up"
		if m.Down {
			side = "down"
		}
		s := m.Splits()
		end, _ := s.Finish()
		return fmt.Sprintf("all moved a line %s, to %g ft %s", side, end.Ft(), Seconds(s.ETs[end]))
	case crew.MeantReaction:
		return fmt.Sprintf("%sreaction %s was meant", lane(m.Other), ReactionText(units.Some(m.Value)))
	case crew.MeantDial:
		return fmt.Sprintf("%sdial %.2f was meant", lane(m.Other), m.Value)
	case crew.MeantET:
		return fmt.Sprintf("%sET %.3f was meant", lane(m.Other), m.Value)
	}
	if m.OtherUnit {
		not := units.US
		if m.In == not {
			not = units.Metric
		}
		return fmt.Sprintf(
			"%s at %g ft, not %s, was meant",
			plain(units.Speed, m.In, m.Value, 2),
			m.At.Ft(),
			units.Speed.Symbol(not),
		)
	}
	if m.Speed {
		return fmt.Sprintf("%s at %g ft was meant", plain(units.Speed, p.Units, m.Value, 2), m.At.Ft())
	}
	return fmt.Sprintf("%g ft %.3f was meant", m.At.Ft(), m.Value)
}

// perhaps asks after a typing error in a recorded slip, with the command that mends it.
func (p *Page) perhaps(j *crew.Judged, id string) string {
	m := j.Perhaps.Readings[0]
	was := j.Run.Slip
	is := was
	m.Apply(&is)
	fix := "slipcase slip amend " + id
	typed, meant := was.Splits(), is.Splits()
	for i := range meant {
		if meant[i] != typed[i] {
			fix += fmt.Sprintf(" --%g %s", meant[i].Ft, p.AsTyped(is, i+1))
		}
	}
	text := p.Meant(m)
	if figure, is := strings.CutSuffix(text, " was meant"); is {
		text = figure + " meant"
	}
	if p.Mute {
		return text + "?"
	}
	return text + "? Then " + fix
}

func lane(other bool) string {
	if other {
		return "the other lane's "
	}
	return ""
}
