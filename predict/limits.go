package predict

import (
	"fmt"
	"math"
)

// CheckWeight refuses a weight that cannot be and doubts one that nothing on a
// drag strip has (outside 200 to 8,000 lb with driver or rider; common practice,
// no source). The doubt is empty when there is none.
func CheckWeight(lb float64) (doubt string, err error) {
	return plausible("weight", "lb, ready to run with driver or rider", lb, 200, 8000)
}

// CheckPower refuses a power that cannot be and doubts one outside 3 to 5,000 hp
// (common practice, no source). The doubt is empty when there is none.
func CheckPower(hp float64) (doubt string, err error) {
	return plausible("power", "hp", hp, 3, 5000)
}

func plausible(name, unit string, v, low, high float64) (string, error) {
	if err := positive(name, v); err != nil {
		return "", err
	}
	if v < low || v > high {
		return fmt.Sprintf("%s %g is hard to believe: %g to %g %s is usual", name, v, low, high, unit), nil
	}
	return "", nil
}

// positive refuses what no measured quantity can be.
func positive(name string, v float64) error {
	if !(v > 0) || math.IsInf(v, 1) {
		return fmt.Errorf("%s %g is impossible: want a number above 0", name, v)
	}
	return nil
}
