package predict

import (
	"math"
	"testing"
)

// The slope of ln ET over ln W/P on 32 road cars is 0.258 ± 0.029
// (TestFormulasOnRoadCars computes it), not ⅓: the doubt about the cube root of a
// change covers the distance and the error.
func TestCubeRootDoubt(t *testing.T) {
	if want := math.Hypot(1./3-0.258, 0.029); math.Abs(cubeRootSD-want) > 0.002 {
		t.Errorf("the doubt is %.3f, want %.3f", cubeRootSD, want)
	}
}
