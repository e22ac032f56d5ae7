package predict

import (
	"slices"
	"testing"

	"slipcase/weather/units"
)

// What each change says and what it leaves unsaid. The thresholds are those of
// Cautions, from memory.
func TestChangeCautions(t *testing.T) {
	at := func(et float64) (s Splits) { s.ETs[At1320] = units.Some(et); return s }
	power, grip, weight := Change{Gain: Exactly(0.2)}, Change{Grip: Exactly(0.05)}, Change{WeightLb: Exactly(-50)}
	car, bike, front := Machine{
		Kind:  Car,
		Drive: RearDrive,
	}, Machine{
		Kind: Motorcycle,
	}, Machine{
		Kind:  Car,
		Drive: FrontDrive,
	}
	for _, c := range []struct {
		what          string
		of            Machine
		change        Change
		before, after float64
		want          []Equipment
		ifSlicks      bool // the loop is wanted only with slicks
	}{
		{"nothing is crossed by weight", car, weight, 12.5, 12.2, nil, false},
		{"a roll bar is, the helmet was there", car, weight, 12.5, 11.3, []Equipment{LoopAlways, RollBar, FireJacket}, false},
		{"power loads the driveline", car, power, 12.5, 12.2, []Equipment{DrivelineRear}, false},
		{"grip may be slicks", car, grip, 12.5, 12.4, []Equipment{LoopOnSlicks, DrivelineRear}, true},
		{"said once, with that of street tyres", car, grip, 12.0, 11.4, []Equipment{LoopAlways, RollBar, FireJacket, DrivelineRear}, false},
		{"slow enough for slicks without", car, grip, 15.5, 15.4, []Equipment{DrivelineRear}, false},
		{"no driveshaft in front", front, grip, 12.5, 12.4, []Equipment{DrivelineFront}, false},
		{"a motorcycle has a chain", bike, power, 10.5, 10.1, []Equipment{DrivelineBike}, false},
	} {
		var got []Equipment
		ifSlicks := false
		for _, said := range ChangeCautions(c.of, c.change, at(c.before), at(c.after)) {
			got, ifSlicks = append(got, said.What), ifSlicks || said.IfSlicks
		}
		if !slices.Equal(got, c.want) || ifSlicks != c.ifSlicks {
			t.Errorf("%s: %q, slicks %t; want %q, %t", c.what, got, ifSlicks, c.want, c.ifSlicks)
		}
	}
}
