package predict

import (
	"fmt"

	"slipcase/weather"
	"slipcase/weather/units"
)

// Place is where a power figure was measured.
type Place string

// The places; empty counts as the wheels, where most racers' sheets come from.
const (
	AtWheels Place = "wheels"
	AtClutch Place = "clutch"
)

// Standard is the correction standard a power figure is stated in; a figure
// that carries one is converted and never corrected twice.
type Standard string

// The standards; empty means that the sheet does not say.
const (
	SAE          Standard = "sae"      // SAE J1349
	StandardJ607 Standard = "standard" // SAE J607, the older "standard"
	DIN          Standard = "din"      // DIN 70020
	Uncorrected  Standard = "none"     // as measured in the air of the dyno day
)

// DefaultLoss is the share of the clutch power that the driveline takes before
// the wheels. Common practice, no source: measured losses scatter by some 0.05.
func DefaultLoss(kind Kind, drive Drive) float64 {
	switch {
	case kind == Motorcycle:
		return 0.10
	case drive == FrontDrive:
		return 0.13
	case drive == AllDrive:
		return 0.20
	}
	return 0.15
}

// formulaLoss is that of the rear-driven cars that the published formulas were made of.
// They take power at the clutch, and mean what of it moves such a car: a driveline that
// loses more or less makes no power. Of motorcycles there were none: one is taken with
// its chain.
func formulaLoss(kind Kind) float64 { return DefaultLoss(kind, RearDrive) }

// ForFormulas is the power at the clutch of such a vehicle that has as much at its wheels
// as one of the given loss has with clutchHP.
func ForFormulas(kind Kind, clutchHP, loss float64) float64 {
	return ToClutch(ToWheels(clutchHP, loss), formulaLoss(kind))
}

// FromFormulas goes the other way: what a formula's power is at the wheels, and at the
// clutch of a vehicle of the given loss.
func FromFormulas(kind Kind, hp, loss float64) (wheelHP, clutchHP float64) {
	wheelHP = ToWheels(hp, formulaLoss(kind))
	return wheelHP, ToClutch(wheelHP, loss)
}

// ToClutch turns power at the wheels into power at the clutch, loss in [0, 1).
func ToClutch(wheelHP, loss float64) float64 { return wheelHP / (1 - loss) }

// ToWheels turns power at the clutch into power at the wheels, loss in [0, 1).
func ToWheels(clutchHP, loss float64) float64 { return clutchHP * (1 - loss) }

// StatedPower is a power figure as it stands on a sheet.
type StatedPower struct {
	HP       float64
	At       Place
	Standard Standard
	Loss     float64 // driveline loss as a share of clutch power, [0, 1)
	Day      DynoDay // where it was measured
}

// StatedPower is the machine's figure with the usual driveline loss.
func (m Machine) StatedPower() StatedPower {
	return StatedPower{m.PowerHP.Value(), m.PowerAt, m.Standard, DefaultLoss(m.Kind, m.Drive), m.PowerDay}
}

// restated is the machine's figure in SAE J1349; nothing known of it is no doubt of it.
func (m Machine) restated() Restated {
	to, err := Restate(m.Standard, SAE, m.PowerDay)
	if err != nil || !m.PowerHP.Known() {
		return Restated{Times: 1}
	}
	return to
}

// Clutch is the figure at the clutch, hp, as it is stated: for when the air of
// the day is not known.
func (s StatedPower) Clutch() (float64, error) {
	if _, err := CheckPower(s.HP); err != nil {
		return 0, err
	}
	if _, err := Restate(s.Standard, SAE, s.Day); err != nil {
		return 0, err
	}
	switch s.At {
	case AtClutch:
		return s.HP, nil
	case AtWheels, "":
		if !(s.Loss >= 0 && s.Loss < 1) {
			return 0, fmt.Errorf("driveline loss %v is impossible: want a share of 0 or more, below 1", s.Loss)
		}
		return ToClutch(s.HP, s.Loss), nil
	}
	return 0, fmt.Errorf("power at %q: want %s or %s", s.At, AtWheels, AtClutch)
}

// ClutchIn is what the engine makes at the clutch in the given air, hp: the figure in SAE
// J1349, which is what it makes in that standard's reference air, from where PowerRatio
// carries it. What was measured in air that is known is carried from there.
func (s StatedPower) ClutchIn(b Breathing, air weather.Air) (float64, error) {
	hp, err := s.Clutch()
	if err != nil {
		return 0, err
	}
	if s.Standard == Uncorrected && s.Day.Known {
		return hp * b.PowerRatio(air) / b.PowerRatio(s.Day.Air), nil
	}
	to, err := Restate(s.Standard, SAE, s.Day)
	return hp * to.Times * b.PowerRatio(air) / b.PowerRatio(saeAir), err
}

// Stating is what makes of a power at the clutch in this air the figure that states it in
// the standard: ClutchIn undone. As measured it is that power itself.
func (s Standard) Stating(b Breathing, air weather.Air) (times float64, err error) {
	const hp = 100 // any
	stated := StatedPower{HP: hp, At: AtClutch, Standard: s}
	if s == Uncorrected {
		stated.Day = DynoDay{Air: air, Known: true}
	}
	makes, err := stated.ClutchIn(b, air)
	return hp / makes, err
}

// Assumed says what had to be assumed about the figure.
func (s StatedPower) Assumed(airKnown bool) (notes []Note) {
	if s.At == "" {
		notes = append(notes, Note{Kind: PowerPlaceUntold})
	}
	switch {
	case !airKnown:
		notes = append(notes, Note{Kind: PowerAsStated})
	case s.Standard == Uncorrected && !s.Day.Known:
		notes = append(notes, Note{Kind: PowerUncorrected})
	case s.Standard == "":
		notes = append(notes, Note{Kind: PowerStandardUntold})
	}
	return notes
}

// saeAir is the dry air in which the factor of SAE J1349 is 1: an ordinary day at a low
// track.
var saeAir = weather.Air{TempF: 77, StationInHg: 99000 / units.PascalPerInHg}
