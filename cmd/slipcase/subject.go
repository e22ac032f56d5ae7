package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// subject is a vehicle about to run, to try changes on.
type subject struct {
	next     logbook.Run
	prospect *predict.Prospect
}

// registerSubject gives a command the flags that name a vehicle, where and in
// which air it runs.
func registerSubject(c *cobra.Command) {
	f := c.Flags()
	f.String("vehicle", "", "a vehicle of the log")
	f.String("track", "", "the track it will run at")
	f.String("at", "", "when it will run, as 16:30; now when left out")
	registerReading(c)
	f.Bool("force", false, "take air that looks wrong as it is")
}

func (a *app) subject(c *cobra.Command, lb *crew.Session) (*subject, error) {
	next, history, err := a.nextRun(c, lb)
	if err != nil {
		return nil, err
	}
	p, err := predict.NewProspect(history, crew.PassOf(next))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", next.Vehicle.ID, err)
	}
	p.Finish = farthest(next.Track, p.Before)
	return &subject{next, p}, nil
}

// place says where and in what air, for a headline.
func (a *app) place(s *subject) string {
	text := s.next.Vehicle.Name()
	if s.next.Track.ID != "" {
		text += " at " + s.next.Track.Name()
	}
	if s.next.Air.Known {
		return text + ", density altitude " + a.show(units.Length, units.Some(s.next.Air.Air.DensityAltitudeFt()))
	}
	return text + ", in air that is not known"
}

// gainOf turns a gain in hp or percent into a share of today's power. Where the
// setup states no power, it is taken against what the runs imply.
func (s *subject) gainOf(g threeFigures, at string) (r predict.Range, note string, err error) {
	if !g.given {
		return predict.Range{}, "", nil
	}
	share := func(v float64) float64 { return v / 100 }
	if !g.percent {
		today, unstated := s.stated()
		share, note = today.shareOf(at)
		if unstated != "" {
			note = unstated
		}
	}
	if g.alone {
		return predict.ClaimedGain(share(g.likely)), note, checkShare(share(g.likely))
	}
	r = predict.Range{Low: share(g.low), Likely: share(g.likely), High: share(g.high)}
	return r, note, checkShare(r.Low)
}

// checkShare keeps a loss of all power from becoming a claim.
func checkShare(share float64) error {
	if share <= -1 {
		return fmt.Errorf("a loss of %.0f %% leaves no power: want less than all of it", -100*share)
	}
	return nil
}

// threeFigures is a figure as typed: one, or low, likely and high.
type threeFigures struct {
	low, likely, high float64
	given, alone      bool
	percent           bool
}

func (t threeFigures) exact() predict.Range {
	return predict.Range{Low: t.low, Likely: t.likely, High: t.high}
}

// times is the range with every figure multiplied, its ends kept in order.
func times(r predict.Range, k float64) predict.Range {
	if k < 0 {
		r.Low, r.High = r.High, r.Low
	}
	return predict.Range{Low: k * r.Low, Likely: k * r.Likely, High: k * r.High}
}

// threeFlag reads a flag such as 90hp, 12% or 70/90/105hp.
func threeFlag(c *cobra.Command, flag string, kinds ...units.Kind) (t threeFigures, err error) {
	if !c.Flags().Changed(flag) {
		return t, nil
	}
	text, _ := c.Flags().GetString(flag)
	if t, err = parseThree(text, kinds...); err != nil {
		return t, usagef("--%s: %w", flag, err)
	}
	return t, nil
}

// parseThree reads one figure or three with strokes between, of one of the kinds;
// a unit behind the last counts for all.
func parseThree(text string, kinds ...units.Kind) (t threeFigures, err error) {
	kind := kinds[0]
	if strings.HasSuffix(strings.TrimSpace(text), "%") {
		kind = kinds[len(kinds)-1]
		t.percent = kind.Name == units.Percent.Name
	}
	parts := strings.Split(text, "/")
	last := parts[len(parts)-1]
	unit := strings.TrimLeft(strings.TrimSpace(last), "+-0123456789.,$ ")
	var v [3]float64
	for i, p := range parts {
		if i == len(v) {
			break
		}
		if p = strings.TrimSpace(p); i < len(parts)-1 && strings.TrimLeft(p, "+-0123456789.,$ ") == "" {
			p += unit
		}
		if v[i], err = kind.Parse(p); err != nil {
			return t, err
		}
	}
	t.given = true
	switch len(parts) {
	case 1:
		t.alone, t.low, t.likely, t.high = true, v[0], v[0], v[0]
	case 3:
		t.low, t.likely, t.high = v[0], v[1], v[2]
		if !(t.low <= t.likely && t.likely <= t.high) {
			return t, fmt.Errorf("%q: want low, likely and high, rising", text)
		}
	default:
		return t, fmt.Errorf("%q: want one figure, or low, likely and high as 70/90/105", text)
	}
	return t, nil
}
