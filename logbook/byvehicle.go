package logbook

import (
	"iter"

	"slipcase/weather"
)

// ByVehicle are runs that are joined a vehicle at a time: a run is large, and there may be
// very many.
type ByVehicle struct {
	Len      int       // so many runs of all
	Own      bool      // some have something in the racer's own columns
	Readings []Reading // all of the log, by time

	slips  []Slip // by their time
	joiner *Joiner
	airs   []weather.Estimate // of the slips: in the order of time they cost the least
}

// RunsByVehicle reads the slips of a vehicle, of all when it is "", each with its air.
func (lb *Logbook) RunsByVehicle(vehicle string) (*ByVehicle, error) {
	j, err := lb.Joiner(vehicle)
	if err != nil {
		return nil, err
	}
	slips, err := lb.Slips(vehicle)
	airs := make([]weather.Estimate, len(slips))
	of := &ByVehicle{Len: len(slips), Readings: j.readings, slips: slips, joiner: j, airs: airs}
	for i := range slips {
		airs[i] = j.airOf(&slips[i])
		of.Own = of.Own || slips[i].Own != ""
	}
	return of, err
}

// All are the runs of one vehicle after the other, in the order in which these come, each's
// by their time and good until the next.
func (of *ByVehicle) All() iter.Seq[[]Run] {
	at := map[string]int{}
	var parts [][]int
	for i := range of.slips {
		v := of.slips[i].Vehicle
		k, known := at[v]
		if !known {
			k = len(parts)
			at[v], parts = k, append(parts, nil)
		}
		parts[k] = append(parts[k], i)
	}
	return func(yield func([]Run) bool) {
		var room []Run
		for _, part := range parts {
			if len(part) > cap(room) {
				room = make([]Run, len(part))
			}
			runs := room[:len(part)]
			for k, i := range part {
				of.joiner.join(&runs[k], &of.slips[i], of.airs[i])
			}
			if !yield(runs) {
				return
			}
		}
	}
}
