package logbook

import (
	"cmp"
	"fmt"

	"slipcase/weather/units"
)

// Setup is how a vehicle was from a moment on, until its next setup.
type Setup struct {
	Entry
	Vehicle       string       `csv:"vehicle"        json:"vehicle"                 required:"yes"`
	From          Time         `csv:"from"           json:"from"                    required:"yes"`
	Name          string       `csv:"name"           json:"name,omitzero"`
	WeightLb      units.Number `csv:"weight_lb"      json:"weight_lb,omitzero"` // ready to run, with driver or rider
	PowerHP       units.Number `csv:"power_hp"       json:"power_hp,omitzero"`
	PowerAt       string       `csv:"power_at"       json:"power_at,omitzero"                      oneof:"wheels clutch"`
	PowerStandard string       `csv:"power_standard" json:"power_standard,omitzero"                oneof:"sae standard din none"`
	Power         string       `csv:"power"          json:"power,omitzero"` // the dyno sheet the figure is from
	Change        string       `csv:"change"         json:"change,omitzero"`
	Cost          units.Number `csv:"cost"           json:"cost,omitzero"`
	Notes         string       `csv:"notes"          json:"notes,omitzero"`

	// Columns newer than the first files: a file gets each with its first value.
	// The air of the day that the power was measured on, where it was noted.
	PowerTempF       units.Number `csv:"power_temp_f"       json:"power_temp_f,omitzero"       later:"yes"`
	PowerRHPct       units.Number `csv:"power_rh_pct"       json:"power_rh_pct,omitzero"       later:"yes"`
	PowerStationInHg units.Number `csv:"power_station_inhg" json:"power_station_inhg,omitzero" later:"yes"`

	BoostPsi   units.Number `csv:"boost_psi"   json:"boost_psi,omitzero"   later:"yes"`
	BoostHeld  string       `csv:"boost_held"  json:"boost_held,omitzero"  later:"yes" oneof:"ratio gauge absolute"`
	FinalRatio units.Number `csv:"final_ratio" json:"final_ratio,omitzero" later:"yes"`
	TyreIn     units.Number `csv:"tyre_in"     json:"tyre_in,omitzero"     later:"yes"` // diameter
	StallRPM   units.Number `csv:"stall_rpm"   json:"stall_rpm,omitzero"   later:"yes"`
	ShiftRPM   units.Number `csv:"shift_rpm"   json:"shift_rpm,omitzero"   later:"yes"`
}

// Check refuses what cannot be.
func (s Setup) Check() error {
	if err := cmp.Or(s.possible(), refuseImpossible(&s)); err != nil {
		return err
	}
	return checkRecord(&s)
}

func (s Setup) possible() error {
	for _, n := range []struct {
		what string
		v    units.Number
	}{{"weight", s.WeightLb}, {"power", s.PowerHP}} {
		if n.v.Known() && !(n.v.Value() > 0) {
			return fmt.Errorf("%s %v: want more than 0", n.what, n.v)
		}
	}
	if s.Cost.Known() && s.Cost.Value() < 0 {
		return fmt.Errorf("cost %v: want 0 or more", s.Cost)
	}
	if s.Vehicle == "" {
		return fmt.Errorf("a setup needs its vehicle")
	}
	return nil
}
