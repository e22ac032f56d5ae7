package crew

import (
	"fmt"

	"slipcase/predict"
	"slipcase/weather/units"
)

// LaunchMove is how to move the launch. Reactions are after the perfect light, s;
// later is more delay, s.
type LaunchMove struct {
	Red      float64      // the chance of a red light as it is
	RedPct   float64      // the accepted one, times in 100
	Later    float64      // by so much for that
	Then     float64      // the average reaction then; now it is Then - Later
	Asked    units.Number // the wanted reaction, as the track prints it
	AskedBy  float64      // later by so much for it
	AskedRed float64      // the chance of a red light then
}

// RPMEffect is what the engine speed at the launch does to the reaction, s per rpm.
type RPMEffect struct {
	Runs  int // that tell both
	Slope Figure
	Shown bool
}

// OffPerfect is a reaction that is no usual one at a track's perfect light: another
// track's light is meant.
type OffPerfect struct {
	ReactionS, LowS, HighS, PerfectS float64
	Track                            string // of the light, "" where none is named
}

func (e *OffPerfect) Error() string {
	return fmt.Sprintf("%.3f: want %.3f to %.3f, since a perfect light is %.3f", e.ReactionS, e.LowS, e.HighS, e.PerfectS)
}

// nearPerfect holds a reaction to so much before and after the perfect light, s; nil
// where it is.
func nearPerfect(reactionS, perfectS, before, after float64) *OffPerfect {
	if late := reactionS - perfectS; late < before-0.0005 || late > after+0.0005 {
		return &OffPerfect{ReactionS: reactionS, LowS: perfectS + before, HighS: perfectS + after, PerfectS: perfectS}
	}
	return nil
}

// latestWanted is the latest reaction that anyone aims at, s after the perfect light
// (common practice, no source).
const latestWanted = 0.3

// move works out how to move the launch, and what the engine speed does to it.
func (k *Alike) move(reactions []float64, runs []Run, ask AlikeAsk) error {
	perfect := ask.Track.PerfectReactionS.Or(0)
	if asked := ask.ReactionS; asked.Known() {
		if off := nearPerfect(asked.Value(), perfect, 0, latestWanted); off != nil {
			off.Track = ask.Track.ID
			return off
		}
	}
	l, err := predict.NewLaunch(reactions)
	if err != nil {
		k.NoLaunch = err
		return nil
	}
	m := &LaunchMove{Red: l.Red(0), RedPct: ask.RedPct, Asked: ask.ReactionS}
	if m.Later, err = l.ShiftFor(ask.RedPct / 100); err != nil {
		return err
	}
	m.Then = l.Mean(m.Later)
	if m.Asked.Known() {
		m.AskedBy = l.ShiftTo(m.Asked.Value() - perfect)
		m.AskedRed = l.Red(m.AskedBy)
	}
	k.Launch, k.RPM = m, effectOfRPM(runs)
	return nil
}

func effectOfRPM(runs []Run) (e RPMEffect) {
	var rpm, late []float64
	for _, r := range runs {
		if t := LateBy(r.Slip, r.Track); t.Known() && r.Slip.LaunchRPM.Known() {
			rpm, late = append(rpm, r.Slip.LaunchRPM.Value()), append(late, t.Value())
		}
	}
	e.Runs = len(rpm)
	e.Slope, e.Shown = predict.Slope(rpm, late)
	return e
}
