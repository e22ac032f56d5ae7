package crew

import (
	"fmt"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Standardized are runs as they would be in standard air.
type Standardized struct {
	Runs    []StandardRun
	Laws    []AirLaw // of their vehicles, as they come
	Airless int      // runs without air near enough in time
}

// StandardRun is a run in standard air.
type StandardRun struct {
	Run      Run
	Measured Splits
	InAir    bool         // the air was known; without it the rest is nothing
	Own      Splits       // by what the vehicle's runs, the later ones too, show of the air
	DoubtS   units.Number // of it: half the 80 % interval at the farthest time
	Formula  Splits       // by the usual formula
	Doubted  bool         // the next forecast leaves it out, though nothing was noted
}

// AirLaw is how the air works on a vehicle: that many times what the textbook says of
// its power, and the doubt of it.
type AirLaw struct {
	Vehicle         string
	Multiple, Doubt float64
}

// StandardAir corrects the runs of a vehicle, of all when it is "".
func (s *Session) StandardAir(vehicle string) (out Standardized, err error) {
	runs, err := s.Runs(vehicle)
	if err != nil {
		return out, err
	}
	passes := map[string][]predict.Pass{}
	var names []string
	for _, r := range runs {
		v := r.Slip.Vehicle
		if passes[v] == nil {
			names = append(names, v)
		}
		passes[v] = append(passes[v], PassOf(r))
	}
	correctors := map[string]*predict.Corrector{}
	leftOut := map[string]bool{}
	for _, v := range names {
		c, err := predict.NewCorrector(passes[v])
		if err != nil {
			return out, fmt.Errorf("%s: %w", v, err)
		}
		for _, l := range c.LeftOut() {
			leftOut[l.ID] = true
		}
		law := AirLaw{Vehicle: v}
		law.Multiple, law.Doubt = c.Law()
		correctors[v], out.Laws = c, append(out.Laws, law)
	}
	for _, r := range runs {
		s := standardRun(r, correctors[r.Slip.Vehicle])
		_, timed := s.Measured.Finish()
		s.Doubted = timed && r.Slip.FullPower == "" && leftOut[r.Slip.ID]
		if !s.InAir {
			out.Airless++
		}
		out.Runs = append(out.Runs, s)
	}
	return out, nil
}

func standardRun(r Run, by *predict.Corrector) StandardRun {
	p := PassOf(r)
	s := StandardRun{Run: r, Measured: p.Splits}
	c, known := by.Correct(p)
	if s.InAir = known && r.Air.Known; !s.InAir { // an assumed day corrects nothing
		return s
	}
	s.Own, s.Formula = InStandardAir(c), c.Formula
	if m, timed := p.Splits.Finish(); timed {
		s.DoubtS = units.Some((c.ETs[m].High80 - c.ETs[m].Low80) / 2)
	}
	return s
}
