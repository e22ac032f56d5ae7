package predict

import (
	"slices"
	"strings"
)

// Fastest is the highest speed of the splits, mph; 0 without one.
func (s Splits) Fastest() (mph float64) {
	for _, v := range s.MPHs {
		mph = max(mph, v.Or(0))
	}
	return mph
}

// ChangeCautions are what a change calls for: the cautions of Cautions for the
// quick splits after it that were not there for those before it, slicks that its
// grip may come from, and the driveline.
func ChangeCautions(m Machine, c Change, before, after Splits) []string {
	had := Cautions(m, before)
	fresh := slices.DeleteFunc(Cautions(m, after), func(c string) bool { return c == CautionsDefer || slices.Contains(had, c) })
	if loop := ladders[slicksLadder][0]; c.Grip.Likely > 0 && loop.applies(m) && loop.crossed(after) {
		said := func(c string) bool { return strings.Contains(c, "driveshaft loop") }
		if !slices.ContainsFunc(fresh, said) {
			fresh = append(fresh, "if slicks bring the grip: "+loop.String())
		}
	}
	if len(fresh) > 0 {
		fresh = append(fresh, CautionsDefer)
	}
	if c.Gain.Likely > 0 || c.Grip.Likely > 0 {
		parts := "clutch, gearbox, driveshaft and axles"
		switch {
		case m.Kind == Motorcycle:
			parts = "clutch, gearbox and chain"
		case m.Drive == FrontDrive:
			parts = "clutch, gearbox and axles"
		}
		fresh = append(fresh, parts+" bear what their makers say, not what engine and tyres put through them: a licensed shop if in doubt; testing is for a closed track")
	}
	return fresh
}
