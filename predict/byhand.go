package predict

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Hand holds what a racer with a notebook would dial for the next run, s.
type Hand struct {
	LastRun, MeanOf3, LineOnDensityAltitude, LastRunAirCorrected float64
}

// handForecast forecasts the time at a mark by the four usual ways, from runs that all
// have it, oldest first; false without a run. The line uses the runs of the setup
// in force once there are three in known air, and the last run before; its slope
// is ordinary least squares.
func handForecast(runs []Pass, next Pass, at Mark) (Hand, bool) {
	if len(runs) == 0 {
		return Hand{}, false
	}
	et := func(p Pass) float64 { return p.Splits.ETs[at].Value() }
	last := runs[len(runs)-1]
	h := Hand{LastRun: et(last), LineOnDensityAltitude: et(last), LastRunAirCorrected: et(last)}
	recent := runs[max(0, len(runs)-3):]
	for _, p := range recent {
		h.MeanOf3 += et(p) / float64(len(recent))
	}
	if !next.AirKnown {
		return h, true
	}
	if last.AirKnown {
		h.LastRunAirCorrected *= math.Cbrt(
			last.Machine.Breathing().PowerRatio(last.Air) / next.Machine.Breathing().PowerRatio(next.Air),
		)
	}
	var da, ets []float64
	for _, p := range runs {
		if p.AirKnown && p.Machine.Setup == next.Machine.Setup {
			da, ets = append(da, p.Air.DensityAltitudeFt()), append(ets, et(p))
		}
	}
	if len(da) >= 3 && stat.Variance(da, nil) > 0 {
		a, b := stat.LinearRegression(da, ets, nil, false)
		h.LineOnDensityAltitude = a + b*next.Air.DensityAltitudeFt()
	}
	return h, true
}

// HandWay is one of the ways of Hand.
type HandWay string

// The ways.
const (
	ByLastRun          HandWay = "last-run"
	ByMeanOf3          HandWay = "mean-of-3"
	ByLineOnAir        HandWay = "line-on-density-altitude"
	ByLastRunCorrected HandWay = "last-run-air-corrected"
)

// Least is the least of the four, and whose it is.
func (h Hand) Least() (way HandWay, s float64) {
	way, s = ByLastRun, h.LastRun
	for _, o := range []struct {
		way HandWay
		s   float64
	}{{ByMeanOf3, h.MeanOf3}, {ByLineOnAir, h.LineOnDensityAltitude}, {ByLastRunCorrected, h.LastRunAirCorrected}} {
		if o.s < s {
			way, s = o.way, o.s
		}
	}
	return way, s
}
