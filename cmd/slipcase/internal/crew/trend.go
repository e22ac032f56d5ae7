package crew

import "slipcase/predict"

// Trend tells what became of a vehicle over its runs; its setups are by name.
func (s *Session) Trend(vehicle string) (Trend, error) {
	c, err := s.car(vehicle)
	if err != nil {
		return Trend{}, err
	}
	t, err := predict.NewTrend(c.passes)
	if err != nil {
		return Trend{}, err
	}
	names := map[string]string{}
	for _, r := range c.runs {
		names[r.Setup.ID] = setupName(r.Setup)
	}
	for i := range t.Days {
		t.Days[i].Setup = names[t.Days[i].Setup]
	}
	return t, nil
}

// Of10 is a figure of a trend, whose ends hold 95 % of a normal law, with those that hold 8 of 10.
func Of10(f Figure) Figure {
	const share = 1.2816 / 1.96 // in its standard deviations
	return Figure{Value: f.Value, Low: f.Value - share*(f.Value-f.Low), High: f.Value + share*(f.High-f.Value)}
}

// AlikeDays are so many of the days as are with the setup and at the track of one before them.
func AlikeDays(t Trend) (n int) {
	had := map[[2]string]bool{}
	for _, d := range t.Days {
		k := [2]string{d.Setup, d.Track}
		if had[k] {
			n++
		}
		had[k] = true
	}
	return n
}

// leastAlike are so many days as tell what the engine did from what the setup or the track's
// height did.
const leastAlike = 2

// CannotTell reports a trend without a shift that has too few days with one setup at one track.
func CannotTell(t Trend) bool { return len(t.Shifts) == 0 && AlikeDays(t) < leastAlike }
