package typed

// UsualShare is the time to a distance, ft, over that to the quarter mile, and how far cars differ
// in it, as a share.
func UsualShare(ft float64) (of, sd float64) {
	for p, at := range placeFt {
		if at == ft {
			return share[p].of, share[p].sd
		}
	}
	return 0, 0
}

// Holds reports that a run can take a time, s, to a distance, ft.
func Holds(ft, s float64) bool { return spans[ft].holds(s) }

// HoldsDial reports that a dial, s, can be one of any distance.
func HoldsDial(s float64) bool { return dials.holds(s) }

// HoldsSpeed reports that a slip can print a speed, mph.
func HoldsSpeed(mph float64) bool { return speeds.holds(mph) }
