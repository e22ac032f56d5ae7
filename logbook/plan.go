package logbook

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"slipcase/weather/units"
)

// Planned is a candidate change to a vehicle: what it may bring, each figure as low,
// likely and high. A setup whose name or change says it has it built in.
type Planned struct {
	Entry
	Vehicle string `csv:"vehicle" json:"vehicle" required:"yes"`
	Name    string `csv:"name"    json:"name"    required:"yes"`

	// What it gains: hp at power_at, or percent of the power there is.
	GainLowHP  units.Number `csv:"gain_low_hp"  json:"gain_low_hp,omitzero"`
	GainHP     units.Number `csv:"gain_hp"      json:"gain_hp,omitzero"`
	GainHighHP units.Number `csv:"gain_high_hp" json:"gain_high_hp,omitzero"`

	GainLowPct  units.Number `csv:"gain_low_pct"  json:"gain_low_pct,omitzero"`
	GainPct     units.Number `csv:"gain_pct"      json:"gain_pct,omitzero"`
	GainHighPct units.Number `csv:"gain_high_pct" json:"gain_high_pct,omitzero"`
	PowerAt     string       `csv:"power_at"      json:"power_at,omitzero"      oneof:"wheels clutch"`

	WeightLowLb  units.Number `csv:"weight_low_lb"  json:"weight_low_lb,omitzero"` // added; below 0 when it comes off
	WeightLb     units.Number `csv:"weight_lb"      json:"weight_lb,omitzero"`
	WeightHighLb units.Number `csv:"weight_high_lb" json:"weight_high_lb,omitzero"`

	GripLowPct  units.Number `csv:"grip_low_pct"  json:"grip_low_pct,omitzero"`
	GripPct     units.Number `csv:"grip_pct"      json:"grip_pct,omitzero"`
	GripHighPct units.Number `csv:"grip_high_pct" json:"grip_high_pct,omitzero"`

	CostLow  units.Number `csv:"cost_low"  json:"cost_low,omitzero"`
	Cost     units.Number `csv:"cost"      json:"cost,omitzero"`
	CostHigh units.Number `csv:"cost_high" json:"cost_high,omitzero"`

	HoursLow  units.Number `csv:"hours_low"  json:"hours_low,omitzero"`
	Hours     units.Number `csv:"hours"      json:"hours,omitzero"`
	HoursHigh units.Number `csv:"hours_high" json:"hours_high,omitzero"`

	Boost string `csv:"boost" json:"boost,omitzero"` // where the gain was computed from boost: how

	// Names of changes of the same plan, apart by commas.
	Replaces string `csv:"replaces" json:"replaces,omitzero" later:"yes"` // that do not go together with it
	Needs    string `csv:"needs"    json:"needs,omitzero"    later:"yes"` // that must be in with it
	// Safety names the safety equipment that it is.
	Safety string `csv:"safety"   json:"safety,omitzero"   later:"yes" oneof:"helmet driveshaft-loop-on-slicks driveshaft-loop roll-bar-in-an-open-car roll-bar roll-cage driveline-guards parachute fire-jacket fire-suit arm-restraints neck-restraint fire-system tether-cut-off full-leathers"`

	Notes string `csv:"notes" json:"notes,omitzero"`
}

// Named are the names in a cell, apart by commas.
func Named(cell string) (names []string) {
	for name := range strings.SplitSeq(cell, ",") {
		if name = strings.TrimSpace(name); name != "" {
			names = append(names, name)
		}
	}
	return names
}

// Check refuses what cannot be.
func (p Planned) Check() error {
	if err := CheckName("change", p.Name); err != nil {
		return err
	}
	if p.GainHP.Known() && p.GainPct.Known() {
		return fmt.Errorf("a gain in hp and one in percent: want one of them")
	}
	for _, r := range []struct {
		what           string
		low, mid, high units.Number
		floor          float64
	}{
		{"gain", p.GainLowHP, p.GainHP, p.GainHighHP, -5000},
		{"gain", p.GainLowPct, p.GainPct, p.GainHighPct, -100},
		{"weight", p.WeightLowLb, p.WeightLb, p.WeightHighLb, -10000},
		{"grip", p.GripLowPct, p.GripPct, p.GripHighPct, -100},
		{"cost", p.CostLow, p.Cost, p.CostHigh, 0},
		{"hours", p.HoursLow, p.Hours, p.HoursHigh, 0},
	} {
		switch {
		case r.low.Known() != r.high.Known() || r.low.Known() && !r.mid.Known():
			return fmt.Errorf("%s: want one figure, or low, likely and high", r.what)
		case r.low.Known() && !(r.low.Value() <= r.mid.Value() && r.mid.Value() <= r.high.Value()):
			return fmt.Errorf("%s %v, %v, %v: want low, likely and high, rising", r.what, r.low, r.mid, r.high)
		case r.low.Known() && r.low.Value() < r.floor || r.mid.Known() && r.mid.Value() < r.floor:
			return fmt.Errorf("%s: want no less than %g", r.what, r.floor)
		}
	}
	for what, names := range map[string]string{"replaces": p.Replaces, "needs": p.Needs} {
		for _, name := range Named(names) {
			if err := CheckName(what, name); err != nil {
				return err
			}
			if name == p.Name {
				return fmt.Errorf("change %q %s itself", p.Name, what)
			}
		}
	}
	if p.Safety == "" && p.GainHP.Or(0) == 0 && p.GainPct.Or(0) == 0 && p.WeightLb.Or(0) == 0 && p.GripPct.Or(0) == 0 {
		return fmt.Errorf("change %q changes nothing: want a gain, a weight or a grip", p.Name)
	}
	return checkRecord(&p)
}

// Plan lists the candidate changes of a vehicle, of all when it is "".
func (lb *Logbook) Plan(vehicle string) ([]Planned, error) {
	return facts[Planned](lb, planRows, by("vehicle", vehicle))
}

// ErrSeveral is wrapped when a name could be that of several vehicles.
var ErrSeveral = errors.New("say whose")

// Planned finds a change by the vehicle and its name, or as Slip finds a slip.
func (lb *Logbook) Planned(vehicle, ref string) (Planned, error) {
	all, err := lb.Plan(vehicle)
	if err != nil {
		return Planned{}, err
	}
	named := slices.DeleteFunc(slices.Clone(all), func(p Planned) bool { return p.Name != ref })
	switch len(named) {
	case 0:
		return find[Planned](lb, planRows, ref)
	case 1:
		return named[0], nil
	}
	return Planned{}, fmt.Errorf("change %q is there for %d vehicles: %w", ref, len(named), ErrSeveral)
}

// AddPlanned records a candidate change under a name new to its vehicle.
func (lb *Logbook) AddPlanned(p *Planned) error {
	if err := p.Check(); err != nil {
		return err
	}
	all, err := lb.Plan(p.Vehicle)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(all, func(o Planned) bool { return o.Name == p.Name }) {
		return fmt.Errorf("change %q of %s is %w", p.Name, p.Vehicle, ErrExists)
	}
	return add(lb, planRows, []*Planned{p})
}

// AmendPlanned records the next revision of a change.
func (lb *Logbook) AmendPlanned(id string, change func(*Planned) error) (Planned, error) {
	return amend(lb, planRows, id, checked(change, (*Planned).Check))
}

// BuiltIn names the changes of a plan that the setup may have: its own name, and
// those that its change lists, apart by commas or "and".
func (s Setup) BuiltIn() []string {
	var names []string
	for name := range strings.SplitSeq(s.Name+","+strings.ReplaceAll(s.Change, " and ", ","), ",") {
		if name = strings.TrimSpace(name); name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// PlannedHistory lists every revision of a change, oldest first.
func (lb *Logbook) PlannedHistory(id string) ([]Planned, error) {
	return history[Planned](lb, planRows, id)
}
