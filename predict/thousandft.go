package predict

import (
	"errors"
	"math"

	"slipcase/weather"
)

// ThousandFt is what 1,000 ft more of density altitude cost at each mark, s: by heat and
// by the thinner air of a higher track, which takes more of the power for the same
// density (SAE J1349: pressure in full, temperature by its root).
type ThousandFt struct{ Heat, Height AltitudeCost }

// AltitudeCost is what a change of the air costs, s.
type AltitudeCost struct {
	Own     [Marks]Range   // as the car's own runs show it, 80 in 100
	Formula [Marks]float64 // by the cube-root law, as Correct has it
}

// ThousandFt is that of the next run, in the air that it is forecast for.
func (f *Forecast) ThousandFt() (ThousandFt, error) { return f.fit.thousandFt() }

// ThousandFt is that of the car as it ran last, in the air of then.
func (c *Corrector) ThousandFt() (ThousandFt, error) {
	if c.fit == nil {
		return ThousandFt{}, errors.New("no run of this car yet: what the air costs it is not known")
	}
	return c.fit.thousandFt()
}

func (t *fit) thousandFt() (cost ThousandFt, err error) {
	air, _ := t.airOf(t.next)
	hot, thin := air, air
	hot.TempF += 10
	thin.StationInHg *= 0.97
	thin.VapourInHg *= 0.97
	if cost.Heat, err = t.costOf(air, hot); err == nil {
		cost.Height, err = t.costOf(air, thin)
	}
	return cost, err
}

// costOf is what the way to another air costs, for 1,000 ft of it.
func (t *fit) costOf(air, other weather.Air) (cost AltitudeCost, err error) {
	const ft = 1000
	share := ft / (other.DensityAltitudeFt() - air.DensityAltitudeFt())
	e := t.eras[t.nextEra]
	l, err := t.lawOf(t.next, t.nextEra)
	if err != nil {
		return cost, err
	}
	here, err := e.car.run(air, 0)
	if err != nil {
		return cost, err
	}
	there, err := e.car.run(other, 0)
	if err != nil {
		return cost, err
	}
	asp := e.machine.Aspiration
	ratio := math.Log(PowerRatio(asp, other) / PowerRatio(asp, air))
	multiple, doubt := t.law()
	for m := range Marks {
		c := timeAt[m]
		et := math.Exp(l.mean[c])
		slope := e.air[c] * ratio // of the textbook's law
		own := func(multiple float64) float64 {
			return et * math.Expm1(share*(there[c]-here[c]+(multiple-1)*slope))
		}
		cost.Own[m] = Range{own(multiple - z80*doubt), own(multiple), own(multiple + z80*doubt)}
		cost.Formula[m] = et * math.Expm1(-share*airShare[m]*ratio/3)
	}
	return cost, nil
}
