package crew

import (
	"fmt"
	"slices"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Standardized are runs as they would be in standard air.
type Standardized struct {
	Runs    []StandardRun
	Costs   []AirCost // of their vehicles, as they come
	Airless int       // runs without air near enough in time
}

// StandardRun is a run in standard air.
type StandardRun struct {
	Run      Run
	Measured Splits
	InAir    bool         // the air was known; without it the rest is nothing
	Own      Splits       // by what the vehicle's runs, the later ones too, show of the air
	DoubtS   units.Number // of it: half the 80 % interval at the farthest time
	Formula  Splits       // by the usual formula
	Doubted  *LeftOut     // why the next forecast leaves it out, though nothing was noted; nil where it counts
}

// Timed are the distances at which the run has a time.
func (r *StandardRun) Timed() (marks []Mark) {
	for m, et := range r.Measured.ETs {
		if et.Known() {
			marks = append(marks, Mark(m))
		}
	}
	return marks
}

// AirCost is what 1,000 ft of density altitude cost a vehicle as it is now.
type AirCost struct {
	Vehicle Vehicle
	Mark    Mark // the distance that it usually races
	ThousandFt
}

// CostOf is what they cost the vehicle of a run.
func (s *Standardized) CostOf(r Run) ThousandFt {
	i := slices.IndexFunc(s.Costs, func(c AirCost) bool { return c.Vehicle.ID == r.Slip.Vehicle })
	if i < 0 {
		return ThousandFt{}
	}
	return s.Costs[i].ThousandFt
}

// learned is what the runs of a vehicle show of the air's work on it, and all of them of each;
// nothing where they do not fit together.
type learned struct {
	*predict.Corrector
	*predict.Hindsight
}

func learn(passes []predict.Pass) (l learned, err error) {
	if l.Corrector, err = predict.NewCorrector(passes); err == nil {
		l.Hindsight, err = predict.NewHindsight(passes)
	}
	if err != nil {
		l = learned{&predict.Corrector{}, &predict.Hindsight{}}
	}
	return l, err
}

// StandardAir corrects the runs of a vehicle, of all when it is "".
func (s *Session) StandardAir(vehicle string) (out Standardized, err error) {
	runs, err := s.Runs(vehicle)
	if err != nil {
		return out, err
	}
	passes := map[string][]predict.Pass{}
	var vehicles []Vehicle
	for _, r := range runs {
		v := r.Slip.Vehicle
		if passes[v] == nil {
			vehicle := r.Vehicle
			vehicle.ID = v // of one that is not in the log its slips tell no more
			vehicles = append(vehicles, vehicle)
		}
		passes[v] = append(passes[v], PassOf(r))
	}
	all := map[string]learned{}
	leftOut := map[string]LeftOut{}
	for _, v := range vehicles {
		by, err := learn(passes[v.ID])
		if err != nil {
			return out, fmt.Errorf("%s: %w", v.ID, err)
		}
		for _, l := range by.LeftOut() {
			leftOut[l.ID] = l
		}
		cost, err := by.ThousandFt()
		if err != nil {
			return out, fmt.Errorf("%s: %w", v.ID, err)
		}
		all[v.ID], out.Costs = by, append(out.Costs, AirCost{v, predict.UsualFinish(passes[v.ID]), cost})
	}
	for _, r := range runs {
		s := atStandard(r, all[r.Slip.Vehicle].Corrector)
		if l, out := leftOut[r.Slip.ID]; out && l.Why == predict.OutOfLine && r.Slip.FullPower == "" {
			s.Doubted = &l
		}
		if !s.InAir {
			out.Airless++
		}
		out.Runs = append(out.Runs, s)
	}
	return out, nil
}

func atStandard(r Run, by *predict.Corrector) StandardRun {
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
