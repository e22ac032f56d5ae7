package predict

import "slipcase/weather/units"

// The product of ET and speed tells a full pull whatever the weight and power.
// Constant power from rest gives 3/2 of the distance (t = (9ms²/8P)^⅓ times
// v = (3Ps/m)^⅓; Fox 1973), so at other marks it is scaled by distance.
const (
	// IdealPull is ET x MPH at constant power, s mph at 1320 ft: 1.5 x 1320 ft is 1350.
	// Real pulls make more: gears and tyres hold the start back.
	IdealPull = 1350
	lowPull   = 1230 // full pulls lie between these two: common practice, no source
	highPull  = 1480
	pullDoubt = 0.02 // how far from the car's own median is doubted: common practice, no source
)

// ShortPull says why a run seems not to have been at full power to its end.
type ShortPull struct {
	Kind      PullKind
	Mark      Mark
	ETS, MPH  float64
	Pull      float64 // ET x MPH, s mph, scaled to the quarter mile
	Low, High float64 // PullLow and PullHigh: what full pulls make
	Share     float64 // PullUnderOwn: short of the car's own by this share
}

// PullKind says what is wrong with a pull; empty, nothing.
type PullKind string

// The kinds.
const (
	PullUnderOwn PullKind = "under-own" // short of the car's own
	PullLow      PullKind = "low"       // for any car: not at full power to the end
	PullHigh     PullKind = "high"      // for any car: time lost early, or a figure misread
)

// FullPull reports whether the run can have been at full power to the farthest
// mark with both time and speed, and if not, why not. usual comes from UsualPulls;
// where it is absent the usual range of all cars is the judge. A run without a
// speed passes: there is nothing to doubt it by; so does one with a throttle stop.
func FullPull(run Pass, usual [Marks]units.Number) (full bool, why ShortPull) {
	s := run.Splits
	if run.stopped() {
		return true, why // the time that the stop takes is no lift
	}
	for m := At1320; m >= At660; m-- {
		if s.Pull(m).Known() {
			return s.fullAt(m, usual[m])
		}
	}
	return true, why
}

// Pull is ET x MPH at the mark in s mph, scaled to the quarter mile, absent
// without both.
func (s Splits) Pull(m Mark) units.Number {
	if !s.ETs[m].Known() || !s.MPHs[m].Known() {
		return units.Number{}
	}
	return units.Some(pullAt(m, s.ETs[m].Value(), s.MPHs[m].Value()))
}

func pullAt(m Mark, et, mph float64) float64 { return et * mph * At1320.Ft() / m.Ft() }

func (s Splits) fullAt(m Mark, own units.Number) (full bool, why ShortPull) {
	pull := s.Pull(m).Value()
	found := ShortPull{Mark: m, ETS: s.ETs[m].Value(), MPH: s.MPHs[m].Value(), Pull: pull, Low: lowPull, High: highPull}
	switch {
	case own.Known():
		if found.Share = 1 - pull/own.Value(); found.Share <= pullDoubt {
			return true, why
		}
		found.Kind = PullUnderOwn
	case pull < lowPull:
		found.Kind = PullLow
	case pull > highPull:
		found.Kind = PullHigh
	default:
		return true, why
	}
	return false, found
}

// UsualPulls is the car's own median of Pull at each mark, absent with fewer than
// three runs: a median of less than three is no judge of its own members.
func UsualPulls(history []Pass) [Marks]units.Number {
	var pulls [Marks][]float64
	for _, p := range history {
		if p.stopped() {
			continue // the stop makes it another
		}
		s, _ := p.noted()
		for m := range Marks {
			if pull := s.Pull(m); pull.Known() && pull.Value() >= lowPull && pull.Value() <= highPull {
				pulls[m] = append(pulls[m], pull.Value())
			}
		}
	}
	var usual [Marks]units.Number
	for m, of := range pulls {
		if mid, ok := median(of); ok && len(of) >= 3 {
			usual[m] = units.Some(mid)
		}
	}
	return usual
}
