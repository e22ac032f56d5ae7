package predict_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipcase/predict"
	"slipcase/predict/season"
	"slipcase/weather/units"
)

// A change asked about and a setup that states it run the same, to a thousandth: one
// model, whatever the vehicle, what limits it, and the change. The vehicles are of both
// simulators, with the runs of some three meets.
func TestAChangeAndASetupOfItAgree(t *testing.T) {
	var vehicles []season.Upgrade
	for seed := range campaignSize(1, 3, 3) {
		vehicles = append(vehicles, season.NewUpgrade(seed+1))
		for limit := season.Tires; limit <= season.Converter; limit++ {
			vehicles = append(vehicles, season.NewUpgradeOf(season.Second, seed+1, limit, season.Change{}))
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		v := vehicles[rapid.IntRange(0, len(vehicles)-1).Draw(r, "vehicle")]
		gain, share := rapid.Float64Range(-0.2, 0.6).Draw(r, "gain"), rapid.Float64Range(-0.15, 0.15).Draw(r, "weight")
		lb := share * v.Now.Machine.WeightLb.Value()
		if !v.Now.Machine.PowerHP.Known() {
			gain = 0 // nothing a setup could state
		}
		v.Now.HeadwindMPH, v.Now.WindKnown = rapid.Float64Range(-15, 15).Draw(r, "wind"), rapid.Bool().Draw(r, "wind known")
		p, err := predict.NewProspect(v.Runs, v.Now)
		if err != nil {
			r.Fatal(err)
		}
		u, err := p.Try(predict.Change{Gain: predict.Exactly(gain), WeightLb: predict.Exactly(lb)})
		if err != nil {
			r.Fatal(err)
		}
		with := v.Now
		with.Machine.Setup = "with it"
		with.Machine.WeightLb = units.Some(with.Machine.WeightLb.Value() + lb)
		if with.Machine.PowerHP.Known() {
			with.Machine.PowerHP = units.Some(with.Machine.PowerHP.Value() * (1 + gain))
		}
		f, err := predict.Expect(v.Runs, with)
		if err != nil {
			r.Fatal(err)
		}
		for m := range v.Finish + 1 {
			if d := u.ETs[m].Centre - f.ETs[m].Centre; math.Abs(d) > 0.001 {
				r.Errorf("%s: %.4f asked about, %.4f as a setup", fmt.Sprintf("%g ft", m.Ft()), u.ETs[m].Centre, f.ETs[m].Centre)
			}
		}
	})
}
