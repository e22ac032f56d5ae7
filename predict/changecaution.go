package predict

import "slices"

// Fastest is the highest speed of the splits, mph; 0 without one.
func (s Splits) Fastest() (mph float64) {
	for _, v := range s.MPHs {
		mph = max(mph, v.Or(0))
	}
	return mph
}

// ChangeCautions are what a change calls for: the cautions of Cautions for the
// quick splits after it that were not there for those before it, slicks that its
// grip may come from, and the driveline, which bears what its makers say.
func ChangeCautions(m Machine, c Change, before, after Splits) []Caution {
	fresh := without(Cautions(m, after), Cautions(m, before))
	if loop, crossed := slicksLoop.crossed(m, after); (c.Grip.Likely > 0 || c.Launch.Likely > 0) && crossed {
		said := func(c Caution) bool { return c.What == LoopOnSlicks || c.What == LoopAlways }
		if !slices.ContainsFunc(fresh, said) {
			loop.IfSlicks = true
			fresh = append(fresh, loop)
		}
	}
	if c.Gain.Likely > 0 || (c.Grip.Likely > 0 || c.Launch.Likely > 0) {
		parts := DrivelineRear
		switch {
		case m.Kind == Motorcycle:
			parts = DrivelineBike
		case m.Drive == FrontDrive:
			parts = DrivelineFront
		}
		fresh = append(fresh, Caution{What: parts})
	}
	return fresh
}
