package predict_test

import (
	"math"
	"testing"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// airRunner is a car that feels the air so many times as strongly as the textbook
// says, one run at each of many densities.
func airRunner(t *testing.T, multiple float64, n int) []predict.Pass {
	t.Helper()
	_, runs := steady(20)
	var out []predict.Pass
	for i := range n {
		p := runs[0]
		p.ID, p.Effort, p.Machine.Aspiration = string(rune('a'+i%26)), "", predict.Natural
		p.Time = p.Time.AddDate(0, 0, i)
		p.Day = p.Time.String()
		p.Air = weather.Air{TempF: 60 + float64(i*7%40), StationInHg: 30 - float64(i*11%40)*0.1}
		m := predict.RunModel{WeightLb: 3400, GripG: 0.8, DragAreaFt2: 7, Rolling: 0.015, Inertia: 0.05, RolloutFt: 1}
		m.PowerHP = 350 * math.Pow(predict.PowerRatio(predict.Natural, p.Air), multiple)
		timing, err := m.Run(p.Air.DensityKgM3(), 0)
		if err != nil {
			t.Fatal(err)
		}
		for k := range p.Splits.ETs {
			p.Splits.ETs[k] = units.Some(timing.ET[k])
			if timing.MPH[k] > 0 {
				p.Splits.MPHs[k] = units.Some(timing.MPH[k])
			}
		}
		p.Machine.WeightLb, p.Machine.PowerHP = units.Some(3400), units.Some(340)
		out = append(out, p)
	}
	return out
}

func TestCorrectorLearnsTheCarsOwnLaw(t *testing.T) {
	for _, multiple := range []float64{0.7, 1, 1.3} {
		runs := airRunner(t, multiple, 30)
		c, err := predict.NewCorrector(runs)
		if err != nil {
			t.Fatal(err)
		}
		got, doubt := c.Law()
		if math.Abs(got-multiple) > 2*doubt || math.Abs(got-multiple) > 0.12 || doubt > 0.12 {
			t.Errorf("law %.3f ± %.3f, want %g", got, doubt, multiple)
		}
		// All runs are the same in standard air.
		low, high := math.Inf(1), 0.
		for _, p := range runs {
			k, ok := c.Correct(p)
			if !ok {
				t.Fatal("not corrected")
			}
			b := k.ETs[predict.At1320]
			if b.Low95 > b.Centre || b.Centre > b.High95 || b.Low95 == b.High95 {
				t.Errorf("band %+v", b)
			}
			low, high = math.Min(low, b.Centre), math.Max(high, b.Centre)
		}
		raw := runs[0].Splits.ETs[predict.At1320].Value()
		if high-low > 0.003*raw {
			t.Errorf("law %g: corrected times from %.3f to %.3f", multiple, low, high)
		}
	}
}

func TestCorrectorWithoutRunsOrAir(t *testing.T) {
	c, err := predict.NewCorrector(nil)
	if err != nil {
		t.Fatal(err)
	}
	if law, doubt := c.Law(); law != 1 || doubt != 0.3 {
		t.Errorf("law %g ± %g without a run", law, doubt)
	}
	runs := airRunner(t, 1, 5)
	if c, err = predict.NewCorrector(runs); err != nil {
		t.Fatal(err)
	}
	p := runs[0]
	p.AirKnown = false
	if _, ok := c.Correct(p); ok {
		t.Error("corrected a run of which the air is not known")
	}
}
