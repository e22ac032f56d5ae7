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
// simulators, with the runs of some three meets or without any; the setup in force may be
// one that has not run yet itself.
func TestAChangeAndASetupOfItAgree(t *testing.T) {
	leftToFullRun(t)
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
		if rapid.Bool().Draw(r, "not run yet") {
			v.Runs = nil
		}
		known := v.Now.Machine.PowerHP.Known() // else there is nothing a setup could state
		stated := func(m predict.Machine, gain, lb float64, name string) predict.Machine {
			m.Setup, m.WeightLb = name, units.Some(m.WeightLb.Value()+lb)
			if known {
				m.PowerHP = units.Some(m.PowerHP.Value() * (1 + gain))
			}
			return m
		}
		v.Now.First = v.Now.Machine
		if rapid.Bool().Draw(r, "a change in force") {
			by := rapid.Float64Range(-0.2, 0.4).Draw(r, "its gain")
			off := rapid.Float64Range(-0.05, 0.05).Draw(r, "its weight") * v.Now.Machine.WeightLb.Value()
			v.Now.Machine = stated(v.Now.Machine, by, off, "in force")
		}
		lb := share * v.Now.Machine.WeightLb.Value()
		if !known {
			gain = 0
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
		with.Machine = stated(with.Machine, gain, lb, "with it")
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
