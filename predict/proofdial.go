package predict

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"slipcase/weather/units"
)

const (
	dialOffS = 0.3 // no one dials further from what the car runs, s (common practice, no source)
	dialSDS  = 0.1 // of dials about the forecast, s
)

// DialDoubt is a dial that is asked about.
type DialDoubt struct {
	Forecast Band      // at the distance that it is held against
	Readings []float64 // s: what may have been meant, the likeliest first
}

// ProofreadDial holds the run's dial, s, against the forecast at the distance that the
// dial is for. One that is mistyped may seem to be for another: where nothing near it
// is likely, the distance that the slip shows is tried.
func (f *Forecast) ProofreadDial(run Pass, dial units.Number) (d DialDoubt, ask bool) {
	at := func(dial units.Number) Mark {
		m := RacedTo(run.Splits, run.Lengths, dial, LaneRun{})
		if _, timed := run.Splits.Finish(); !timed {
			m = min(m, f.Finish)
		}
		return m
	}
	m := at(dial)
	d.Forecast = f.ETs[m]
	if d.Readings, ask = readDial(f.ETs[m], run.Splits.ETs[m], dial.Value()); !ask || len(d.Readings) > 0 {
		return d, ask
	}
	if ends := at(units.Number{}); ends != m {
		if readings, again := readDial(f.ETs[ends], run.Splits.ETs[ends], dial.Value()); again && len(readings) > 0 {
			return DialDoubt{f.ETs[ends], readings}, true
		}
	}
	return d, true
}

const (
	underDialS = 0.5  // no run goes further under the dial that was meant for it, s,
	liftedTo   = 1.25 // nor, unless it was lifted, over it by this factor (common practice, no source)
)

// ProofreadDialAlone holds the run's dial, s, against the run itself, since the forecast of
// a car without runs is too rough for that.
func ProofreadDialAlone(run Pass, dial units.Number) (d DialDoubt, ask bool) {
	at := run.Splits.ETs[RacedTo(run.Splits, run.Lengths, dial, LaneRun{})]
	ran := at.Value()
	if off := dial.Value() - ran; !at.Known() || math.Abs(off) <= underDialS {
		return d, false
	}
	d.Forecast = pointBand(ran)
	d.Readings = nearest(d.Forecast, dial.Value(), 2)
	sure := dial.Value() > ran+underDialS || FullEffort(run.Effort) && ran > liftedTo*dial.Value()
	return d, sure || len(d.Readings) > 0
}

// ProofreadDialAt is ProofreadDial where the driver's other dials were for a distance: a
// slip of the finger that makes it seem to be for another is asked about.
func (f *Forecast) ProofreadDialAt(m Mark, run Pass, dial units.Number) (d DialDoubt, ask bool) {
	d.Forecast = f.ETs[m]
	d.Readings, ask = readDial(f.ETs[m], run.Splits.ETs[m], dial.Value())
	return d, ask && len(d.Readings) > 0
}

func pointBand(v float64) Band { return Band{Centre: v, Low95: v, High95: v} }

// readDial holds a dial, s, against the forecast at one distance: ask is true where it
// is further off than anyone dials and than the forecast's own doubt, and the run
// itself, ranS, absent without a time, does not bear it out.
func readDial(forecast Band, ranS units.Number, dial float64) (readings []float64, ask bool) {
	off := func(v float64) float64 { return math.Abs(v - forecast.Centre) }
	if off(dial) <= dialOffS || dial >= forecast.Low95 && dial <= forecast.High95 ||
		ranS.Known() && math.Abs(dial-ranS.Value()) <= dialOffS {
		return nil, false
	}
	return nearest(forecast, dial, 2), true
}

// nearest are the figures that may have been meant by one typed with so many decimals,
// near a forecast, the likeliest first.
func nearest(forecast Band, typed float64, decimals int) []float64 {
	weights := map[float64]float64{}
	for v, chance := range undo(typed, decimals) {
		if off := math.Abs(v - forecast.Centre); off <= dialOffS {
			z := off / dialSDS
			weights[v] = chance * math.Exp(-z*z/2)
		}
	}
	readings := slices.SortedFunc(maps.Keys(weights), func(a, b float64) int {
		return cmp.Or(cmp.Compare(weights[b], weights[a]), cmp.Compare(a, b))
	})
	return readings[:min(len(readings), mostRead)]
}

// OtherLaneDoubt is a time of the other lane that its dial speaks against.
type OtherLaneDoubt struct {
	UnderS     float64   // how far the time is under the dial, s
	ETs, Dials []float64 // s: what may have been meant of either, the likeliest first
}

// ProofreadOtherLane holds the other lane's time against its dial, s, since nothing else
// is known of that car. A lane that lifts is slower than its dial by any amount; one
// that is quicker by more than three tenths has not dialled that.
func ProofreadOtherLane(et, dial units.Number) (d OtherLaneDoubt, ask bool) {
	d.UnderS = dial.Value() - et.Value()
	if !et.Known() || !dial.Known() || d.UnderS <= dialOffS {
		return d, false
	}
	d.ETs = nearest(pointBand(dial.Value()), et.Value(), 3)
	d.Dials = nearest(pointBand(et.Value()), dial.Value(), 2)
	return d, true
}
