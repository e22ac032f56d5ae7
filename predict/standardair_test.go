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
	t.Parallel()
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
	t.Parallel()
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

// A wind gauge on a mast tells of more wind than a low car feels, one in a stand
// of trees of less: the share is learned.
func TestWindIsLearned(t *testing.T) {
	t.Parallel()
	for _, share := range []float64{0, 0.6, 1} {
		runs := airRunner(t, 1, 40)
		for i := range runs {
			p := &runs[i]
			p.HeadwindMPH, p.WindKnown = float64(i*13%31)-15, true
			m := predict.RunModel{
				WeightLb:    3400,
				PowerHP:     350,
				GripG:       0.8,
				DragAreaFt2: 7,
				Rolling:     0.015,
				Inertia:     0.05,
				RolloutFt:   1,
			}
			m.PowerHP *= predict.PowerRatio(predict.Natural, p.Air)
			timing, err := m.Run(p.Air.DensityKgM3(), share*p.HeadwindMPH)
			if err != nil {
				t.Fatal(err)
			}
			p.Splits.ETs[predict.At1320] = units.Some(timing.ET[predict.At1320])
			p.Splits.MPHs[predict.At1320] = units.Some(timing.MPH[predict.At1320])
		}
		next := runs[len(runs)-1]
		history := runs[:len(runs)-1]
		next.HeadwindMPH = 15
		against := expect(t, history, next).ETs[predict.At1320].Centre
		next.HeadwindMPH = -15
		got := against - expect(t, history, next).ETs[predict.At1320].Centre
		m := predict.RunModel{
			WeightLb:    3400,
			PowerHP:     350 * predict.PowerRatio(predict.Natural, next.Air),
			GripG:       0.8,
			DragAreaFt2: 7,
			Rolling:     0.015,
			Inertia:     0.05,
			RolloutFt:   1,
		}
		up, _ := m.Run(next.Air.DensityKgM3(), 15*share)
		down, _ := m.Run(next.Air.DensityKgM3(), -15*share)
		if want := up.ET[predict.At1320] - down.ET[predict.At1320]; math.Abs(got-want) > 0.04 {
			t.Errorf("share %g: 30 mph of wind move the forecast by %.3f s, the car by %.3f", share, got, want)
		}
	}
}
