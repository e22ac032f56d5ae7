package predict_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season/powertrain"
	"slipcase/weather"
	"slipcase/weather/units"
)

const radPerRPM = math.Pi / 30

func curveOf(t *testing.T, e *powertrain.Engine) predict.Curve {
	t.Helper()
	var rows []predict.DynoRow
	for rpm := 2500.; rpm*radPerRPM < e.Limit; rpm += 250 {
		hp := e.Power(rpm*radPerRPM, powertrain.Standard) / units.WattPerHP
		rows = append(rows, predict.DynoRow{Line: len(rows) + 2, RPM: rpm, PowerHP: units.Some(hp)})
	}
	c, spikes, err := predict.NewCurve(rows)
	if err != nil || len(spikes) > 0 {
		t.Fatalf("%v left out, %v", spikes, err)
	}
	return c
}

// A cam that moves the peak from 5,500 to 6,500 rpm, with the same torque at it, on cars
// of the other simulator that are shifted as far above either peak, with a rear gear to
// match. The truth is that simulator's.
func TestCamMovesThePeak(t *testing.T) {
	held, n, miss, truths := 0, 0, 0., 0.
	for seed := range uint64(24) {
		v := powertrain.Draw(rand.New(rand.NewPCG(seed, 15)), powertrain.TireLimit, false)
		if v.Clutch == nil {
			continue
		}
		at := func(rpm float64) *powertrain.Vehicle {
			x := v
			scale := rpm * radPerRPM / v.Engine.PeakRate
			base := 5500 * radPerRPM / v.Engine.PeakRate
			x.Engine.PeakW *= scale / base
			x.Engine.PeakRate *= scale
			x.Engine.Limit *= scale
			x.Gearbox.ShiftRate *= scale
			x.Gearbox.Ratios = nil
			for _, r := range v.Gearbox.Ratios {
				x.Gearbox.Ratios = append(x.Gearbox.Ratios, r*scale) // a rear gear to match
			}
			return &x
		}
		stock, cam := at(5500), at(6500)
		was, is := stock.Run(powertrain.Standard, powertrain.Luck{}), cam.Run(powertrain.Standard, powertrain.Luck{})
		before, after := curveOf(t, &stock.Engine), curveOf(t, &cam.Engine)
		gain, err := after.GainOver(before)
		if err != nil {
			t.Fatal(err)
		}
		if gain.AfterHigh-gain.BeforeHigh < 700 || gain.AfterHigh-gain.BeforeHigh > 1300 {
			t.Errorf("seed %d: shifted at %v before, %v after", seed, gain.BeforeHigh, gain.AfterHigh)
		}
		var runs []predict.Pass
		pass := predict.Pass{Machine: predict.Machine{
			Kind: predict.Car, Setup: "stock", WeightLb: units.Some(v.Chassis.Mass / units.KgPerLb),
			PowerHP: units.Some(
				stock.WheelW(powertrain.Standard) / units.WattPerHP,
			), PowerAt: predict.AtWheels, Standard: predict.SAE,
		}, Air: weather.Standard, AirKnown: true}
		next := pass
		for m, mark := range []predict.Mark{predict.At60, predict.At330, predict.At660, predict.At1000, predict.At1320} {
			pass.Splits.ETs[mark] = units.Some(was.ET[m])
			if was.Speed[m] > 0 && m > 1 {
				pass.Splits.MPHs[mark] = units.Some(was.Speed[m] / units.MetrePerSecPerMPH)
			}
		}
		for range 3 {
			runs = append(runs, pass)
		}
		p, err := predict.NewProspect(runs, next)
		if err != nil {
			t.Fatal(err)
		}
		u, err := p.Try(predict.Change{Gain: gain.Claim(predict.Restated{Times: 1}, predict.Restated{Times: 1})})
		if err != nil {
			t.Fatal(err)
		}
		truth, got := is.ET[4]-was.ET[4], u.ETGain[predict.At1320]
		n++
		if got.Low <= truth && truth <= got.High {
			held++
		}
		miss += math.Abs(got.Likely - truth)
		truths += math.Abs(truth)
	}
	if t.Logf("%d of %d held, mean error %.0f %% of the change", held, n, 100*miss/truths); held < n*8/10 ||
		miss > 0.3*truths {
		t.Errorf("%d of %d held, mean error %.0f %% of the change", held, n, 100*miss/truths)
	}
}
