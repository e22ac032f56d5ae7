package predict

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// What the air was off by is taken out of a run as conditioning a joint normal law does it
// (gonum's Cholesky; the law of z given off = d z + noise, any text on normal laws).
func TestWithoutAir(t *testing.T) {
	noise := ordinaryNoise(&era{
		launch: vec{2, 1.6, -0.3, 1.3, -0.2, 1.1, -0.1, 1},
		engine: vec{0.4, 0.7, -1, 0.8, -1.1, 0.9, -1.2, 1},
	})
	doubt := vec{0.001, 0.002, -0.004, 0.003, -0.005, 0.003, -0.006, 0.004}
	off := vec{0.003, -0.001, 0.002, 0.004, -0.006, 0.002, -0.001, 0.005}
	total, d, y := mat.NewSymDense(channels, nil), mat.NewVecDense(channels, nil), mat.NewVecDense(channels, nil)
	known := [channels]bool{}
	for i := range channels {
		known[i] = true
		d.SetVec(i, doubt[i])
		y.SetVec(i, off[i])
		for j := range channels {
			total.SetSym(i, j, noise[i][j]+doubt[i]*doubt[j])
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(total) {
		t.Fatal("not positive definite")
	}
	var weight mat.VecDense
	if err := chol.SolveVecTo(&weight, d); err != nil {
		t.Fatal(err)
	}
	z, v := mat.Dot(&weight, y), 1-mat.Dot(&weight, d)
	got, cov := off, square{}
	k := newKnown(&noise, known)
	air := newAirDoubt(k, doubt)
	if z2 := air.without(&got, &cov, k); math.Abs(z2-z*z-v) > 1e-9 {
		t.Errorf("the air's own square %.6f, want %.6f", z2, z*z+v)
	}
	for i := range channels {
		if want := off[i] - doubt[i]*z; math.Abs(got[i]-want) > 1e-12 {
			t.Errorf("channel %d is off by %.6f without the air, want %.6f", i, got[i], want)
		}
		for j := range channels {
			if want := doubt[i] * doubt[j] * v; math.Abs(cov[i][j]-want) > 1e-12 {
				t.Errorf("channels %d and %d: %g, want %g", i, j, cov[i][j], want)
			}
		}
	}
}

// The size of a car's noise is where the slope of its log density, likelihood and log-normal
// prior, is nothing: no runs leave the ordinary one, many tell it all.
func TestSteadiness(t *testing.T) {
	if got := steadiness(0, 0); got != 1 {
		t.Errorf("without runs %.3f of the ordinary variance", got)
	}
	for _, of := range []float64{0.05, 0.3, 1, 4} {
		if got := steadiness(1e6*of, 1e6); math.Abs(got/of-1) > 1e-3 {
			t.Errorf("a million runs of %.2f: %.4f", of, got)
		}
		few := func(log float64) float64 {
			return -6*log - 6*of*math.Exp(-log) - log*log/(8*steadySD*steadySD)
		}
		at := math.Log(steadiness(12*of, 12))
		if few(at) < few(at+0.01) || few(at) < few(at-0.01) {
			t.Errorf("twelve runs of %.2f: %.3f is not the likeliest", of, math.Exp(at))
		}
	}
}
