package predict

import (
	"fmt"
	"math"
)

// Unusual is a figure that can be, but that nothing on a drag strip has.
type Unusual struct {
	Quantity         Quantity
	Value, Low, High float64 // lb ready to run with driver or rider, or hp
}

// Quantity is a figure of a vehicle.
type Quantity string

// The quantities.
const (
	VehicleWeight Quantity = "weight"
	EnginePower   Quantity = "power"
)

// CheckWeight refuses a weight that cannot be and doubts one that nothing on a
// drag strip has (outside 200 to 8,000 lb with driver or rider; common practice,
// no source). The doubt is nil when there is none.
func CheckWeight(lb float64) (doubt *Unusual, err error) {
	return plausible(Unusual{VehicleWeight, lb, lightestLb, 8000})
}

// CheckPower refuses a power that cannot be and doubts one outside 3 to 5,000 hp
// (common practice, no source). The doubt is nil when there is none.
func CheckPower(hp float64) (doubt *Unusual, err error) {
	return plausible(Unusual{EnginePower, hp, 3, 5000})
}

func plausible(u Unusual) (*Unusual, error) {
	if err := positive(string(u.Quantity), u.Value); err != nil {
		return nil, err
	}
	if u.Value < u.Low || u.Value > u.High {
		return &u, nil
	}
	return nil, nil
}

// positive refuses what no measured quantity can be.
func positive(name string, v float64) error {
	if !(v > 0) || math.IsInf(v, 1) {
		return fmt.Errorf("%s %g is impossible: want a number above 0", name, v)
	}
	return nil
}
