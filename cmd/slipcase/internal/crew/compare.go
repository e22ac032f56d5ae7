package crew

import (
	"cmp"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Compared is two setups of a vehicle, by their runs in the same air.
type Compared struct {
	Vehicle string
	By      units.Number // the amount asked for, s
	Stops   Stops        // of the runs of both
	predict.Comparison
}

// Compare sets the second of two setups of a vehicle against the first; by is the
// amount, s, that B may be quicker by, absent where none is asked for.
func (s *Session) Compare(setups [2]Setup, by units.Number) (Compared, error) {
	vehicle := setups[0].Vehicle
	runs, err := s.Runs(vehicle)
	if err != nil {
		return Compared{}, err
	}
	passes := PassesOf(runs)
	for i, r := range runs {
		passes[i].Machine.Setup = setupName(r.Setup)
	}
	told, err := predict.Compare(passes, setupName(setups[0]), setupName(setups[1]), by.Value())
	var both []Run
	for _, setup := range setups {
		both = append(both, RunFilter{Setup: setup.ID}.Of(runs)...)
	}
	return Compared{vehicle, by, StopsOf(both, func(r Run) Slip { return r.Slip }), told}, err
}

func setupName(s Setup) string { return cmp.Or(s.Name, s.ID) }
