package crew

import "math"

// StopMove is how to set a throttle stop for the wanted risk of going under an index.
type StopMove struct {
	NowS    float64 // how long it was on in the last run
	ToS     float64 // how long to set it, in whole hundredths; 0 where off is still too slow
	CostS   float64 // what a second of it costs at the finish
	SDS     float64 // of that
	Learned bool    // from the runs; else it is what is usual
}

// moveStop works out the stop for the wanted risk at an index, s.
func (d *DialChoice) moveStop(indexS float64) error {
	s := d.Run.Slip
	if !s.StopOffS.Known() {
		return nil
	}
	et, err := d.Forecast.ETFor(d.Mark, d.RiskPct/100)
	if err != nil {
		return err
	}
	m := StopMove{NowS: s.StopOffS.Value() - s.StopOnS.Or(0)}
	m.CostS, m.SDS, m.Learned = d.Forecast.StopSlope()
	if !(m.NowS > 0 && m.CostS > 0) {
		return nil
	}
	m.ToS = max(0, math.Ceil((m.NowS+(indexS-et)/m.CostS)*100-1e-6)/100)
	d.Stop = &m
	return nil
}
