package crew

import (
	"math"
	"slices"

	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// SetupDoubt is a weight or power of a setup that is far from what its vehicle has.
type SetupDoubt struct {
	Quantity predict.Quantity
	Value    float64 // lb or hp, as all here
	Usual    float64 // of the vehicle's setup that comes nearest; 0 for what the kind has
	Likely   string  // the figure with the unit that was meant, as 640lb; "" where no unit explains it
}

// How far from its vehicle's other setups a figure is asked about, and how near to another unit's
// factor it is taken for a slip of the unit (common practice, no source; the second is so narrow
// because a third more power is also what parts bring).
const (
	farSetup  = 1.5
	unitSlip  = 0.12  // of a figure that is far as it is
	sameSheet = 0.007 // of the same figure in another unit
)

// A motorcycle with its rider, lb (common practice, no source): outside it is asked about.
const lightBikeLb, heavyBikeLb = 330., 1200.

// stateable is a figure that a setup states, and the units between which it slips when typed.
type stateable struct {
	what  predict.Quantity
	kind  units.Kind
	typed []string
	of    func(Setup) units.Number
}

var statedFigures = []stateable{
	{predict.VehicleWeight, units.Weight, []string{"lb", "kg"}, func(o Setup) units.Number { return o.WeightLb }},
	{predict.EnginePower, units.Power, []string{"hp", "kW", "PS"}, func(o Setup) units.Number { return o.PowerHP }},
}

// SetupDoubts are all that is hard to believe of a setup.
type SetupDoubts struct {
	Unusual  []Unusual
	Far      []SetupDoubt
	Outliers []Outlier
}

// DoubtSetup tells what of a setup is hard to believe.
func (s *Session) DoubtSetup(u Setup) (SetupDoubts, error) {
	far, err := s.farSetup(u)
	return SetupDoubts{UnusualBuild(u.WeightLb, u.PowerHP), far, logbook.HardToBelieve(&u)}, err
}

// farSetup holds the weight and power of a setup against the vehicle's others. A figure that
// the setup, or the one that it corrects, has already is not asked about.
func (s *Session) farSetup(u Setup) (doubts []SetupDoubt, err error) {
	all, err := s.Setups(u.Vehicle)
	if err != nil {
		return nil, err
	}
	v, err := s.Vehicle(u.Vehicle)
	if err != nil {
		return nil, err
	}
	others := slices.DeleteFunc(slices.Clone(all), func(o Setup) bool { return o.ID == u.ID })
	for _, q := range statedFigures {
		value, usual := q.of(u).Value(), 0.
		if !q.of(u).Known() || slices.ContainsFunc(all, func(o Setup) bool { return q.of(o) == q.of(u) }) {
			continue
		}
		for _, o := range others {
			if n := q.of(o); n.Known() && (usual == 0 || apart(n.Value(), value) < apart(usual, value)) {
				usual = n.Value()
			}
		}
		d := SetupDoubt{Quantity: q.what, Value: value, Usual: usual}
		switch {
		case usual > 0 && apart(value, usual) > math.Log(farSetup):
			d.Likely = q.meant(value, usual, unitSlip)
		case usual > 0 && q.what == predict.EnginePower && u.Change == "":
			if d.Likely = q.meant(value, usual, sameSheet); d.Likely == "" {
				continue
			}
		case usual == 0 && q.what == predict.VehicleWeight && v.Kind == "motorcycle" &&
			(value < lightBikeLb || value > heavyBikeLb):
			d.Likely = q.meant(value, math.Sqrt(lightBikeLb*heavyBikeLb), math.Log(heavyBikeLb/lightBikeLb)/2)
		default:
			continue
		}
		doubts = append(doubts, d)
	}
	return doubts, nil
}

// apart is how far apart two figures are, as the log of their ratio.
func apart(a, b float64) float64 { return math.Abs(math.Log(a / b)) }

// meant finds the unit in which the digits of a figure come within reach of the usual one: it was
// typed in that unit and taken for another.
func (q stateable) meant(value, usual, reach float64) (typed string) {
	best := reach
	for _, taken := range q.typed {
		for _, unit := range q.typed {
			one, _ := q.kind.Parse("1" + taken)
			other, _ := q.kind.Parse("1" + unit)
			if d := apart(value/one*other, usual); d < best && math.Abs(one/other-1) > 0.1 {
				best, typed = d, units.Some(math.Round(value/one*10)/10).String()+unit
			}
		}
	}
	return typed
}

// SameSetup is a setup that a further one said again, and what of it that brought.
type SameSetup struct {
	Setup
	Changed []CellChange
}

// CompleteSetup finds the setup in force that a further one only says again, with the same weight
// and power and nothing else new but what a figure means: where it was measured, by which
// standard, how the boost is held. It is the same car still, so what was left unsaid of it is
// said there. It is nil where the further one is a setup of its own.
func (s *Session) CompleteSetup(u Setup) (*SameSetup, error) {
	j, err := s.Joiner(u.Vehicle)
	if err != nil {
		return nil, err
	}
	before, ok := j.SetupAt(u.Vehicle, "", u.From.Time)
	told := u
	inherit(&told, before)
	told.Entry, told.From, told.Name, told.Power = before.Entry, before.From, before.Name, before.Power
	facts := before
	for _, f := range []struct{ is, told *string }{
		{&facts.PowerAt, &told.PowerAt},
		{&facts.PowerStandard, &told.PowerStandard},
		{&facts.BoostHeld, &told.BoostHeld},
	} {
		if *f.is == "" {
			*f.is = *f.told
		}
	}
	told.Change, told.Cost, told.Notes = before.Change, before.Cost, before.Notes
	figures := u.WeightLb.Known() || u.PowerHP.Known()
	own := u.Name != "" || u.Change != "" || u.Notes != "" || u.Cost.Known() || u.Power != ""
	if !ok || !figures || own || told != facts {
		return nil, nil
	}
	if facts == before {
		return &SameSetup{Setup: before}, nil
	}
	is, err := s.AmendSetup(before.ID, func(o *Setup) error {
		o.PowerAt, o.PowerStandard, o.BoostHeld = facts.PowerAt, facts.PowerStandard, facts.BoostHeld
		return nil
	})
	return &SameSetup{is, logbook.Changes(&before, &is)}, err
}
