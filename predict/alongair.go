package predict

import (
	"math"

	"slipcase/weather"
)

// AirPoint is the next run in one of several airs.
type AirPoint struct {
	Air     weather.Air
	Own     Band    // of the ET as the vehicle's own runs show it, s
	Formula float64 // by the cube-root law, s, where it meets Own in the middle air
}

// AlongAir is the ET at a mark in n airs, evenly from one to another, on the fit that the
// forecast has; n is 2 or more.
func (f *Forecast) AlongAir(m Mark, from, to weather.Air, n int) ([]AirPoint, error) {
	points := make([]AirPoint, n)
	for i := range points {
		share := float64(i) / float64(n-1)
		between := func(a, b float64) float64 { return a + share*(b-a) }
		air := weather.Air{
			TempF:       between(from.TempF, to.TempF),
			StationInHg: between(from.StationInHg, to.StationInHg),
			VapourInHg:  between(from.VapourInHg, to.VapourInHg),
		}
		l, err := f.lawIn(air)
		if err != nil {
			return nil, err
		}
		points[i] = AirPoint{Air: air, Own: l.bandOf(timeAt[m], l.tails())}
	}
	middle := points[n/2]
	asp := f.fit.next.Machine.Aspiration
	for i := range points {
		ratio := math.Log(PowerRatio(asp, points[i].Air) / PowerRatio(asp, middle.Air))
		points[i].Formula = middle.Own.Centre * math.Exp(-airShare[m]*ratio/3)
	}
	return points, nil
}

// lawIn is the law of the run that was forecast, in other air.
func (f *Forecast) lawIn(air weather.Air) (runLaw, error) {
	next := *f.fit.next
	next.Air, next.AirKnown, next.AirDoubtFt = air, true, 0
	return lawOfAll(accountsOf(f.accounts, next))
}
