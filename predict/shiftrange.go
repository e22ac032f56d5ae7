package predict

import (
	"fmt"
	"math"
)

const (
	// A shift takes an engine to about three quarters of its speed: common practice, no
	// source.
	shiftDrop = 0.75
	shiftStep = 50 // rpm
)

// BestShiftRange is where a run spends its time when it is shifted where the engine does
// most: of all ranges from three quarters of a speed to that speed the one of the greatest
// mean, to 50 rpm, as far as the sheet goes.
func (c Curve) BestShiftRange() (low, high float64) {
	first, last := c[0].RPM, c[len(c)-1].RPM
	low, high = math.Max(first, shiftDrop*last), last
	most, _ := c.Mean(low, high)
	for n := shiftStep * math.Floor(last/shiftStep); shiftDrop*n >= first; n -= shiftStep {
		from := math.Max(first, shiftStep*math.Round(shiftDrop*n/shiftStep))
		if mean, err := c.Mean(from, n); err == nil && mean > most {
			low, high, most = from, n, mean
		}
	}
	return low, high
}

// EndsEarly reports that the best shift lies at the sheet's end, where the power still
// rises: what the engine does beyond is not known.
func (c Curve) EndsEarly() bool {
	_, high := c.BestShiftRange()
	n := len(c)
	return high >= c[n-1].RPM-shiftStep && c[n-1].HP > c[n-2].HP
}

// ShiftGain is what one curve has over another where each is shifted.
type ShiftGain struct {
	Share                                      float64 // of the mean before
	BeforeLow, BeforeHigh, AfterLow, AfterHigh float64 // rpm
}

// GainOver is what the curve has over the one before it, each by its mean where it is
// shifted best.
func (c Curve) GainOver(before Curve) (g ShiftGain, err error) {
	g.BeforeLow, g.BeforeHigh = before.BestShiftRange()
	g.AfterLow, g.AfterHigh = c.BestShiftRange()
	err = g.of(before, c)
	return g, err
}

// GainWithin is the same over engine speeds that are said, from low to high, rpm.
func (c Curve) GainWithin(before Curve, low, high float64) (ShiftGain, error) {
	g := ShiftGain{0, low, high, low, high}
	err := g.of(before, c)
	return g, err
}

func (g *ShiftGain) of(before, after Curve) error {
	was, err := before.Mean(g.BeforeLow, g.BeforeHigh)
	if err != nil {
		return fmt.Errorf("the sheet before: %w", err)
	}
	is, err := after.Mean(g.AfterLow, g.AfterHigh)
	if err != nil {
		return fmt.Errorf("the sheet after: %w", err)
	}
	g.Share = is/was - 1
	return nil
}

// Claim is the gain between two sheets with its doubt: that of the sheets, and of the air
// that was not noted with them.
func (g ShiftGain) Claim(before, after Restated) Range {
	return claimed(g.Share, math.Hypot(claimSD, comparedSD(before, after)))
}
