package page

import (
	"strings"
	"testing"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/predict"
	"slipcase/weather/units"
)

func TestDoubts(t *testing.T) {
	heavy := predict.Unusual{Quantity: predict.VehicleWeight, Value: 199, Low: 200, High: 8000}
	said(
		t,
		unusual(heavy, units.US),
		"weight 199 is hard to believe: 200 to 8000 lb, ready to run with driver or rider is usual",
	)
	said(
		t,
		unusual(heavy, units.Metric),
		"weight 90 is hard to believe: 91 to 3629 kg, ready to run with driver or rider is usual",
	)
	said(
		t,
		unusual(predict.Unusual{Quantity: predict.EnginePower, Value: 33100, Low: 3, High: 5000}, units.US),
		"power 33100 is hard to believe: 3 to 5000 hp is usual",
	)
}

func TestDoubt(t *testing.T) {
	us, metric := &Page{Units: units.US}, &Page{Units: units.Metric}
	d := crew.Doubt{Kind: crew.Misread, At: predict.At1320, Value: 21.212, Likely: 13.2}
	said(t, us.Doubt(d), "1320 ft in 21.212 where the rest of the slip and the forecast say 13.20")
	d = crew.Doubt{Kind: crew.Misread, At: predict.At660, Speed: true, Value: 38.77, Likely: 84, Alone: true}
	said(t, us.Doubt(d), "38.77 mph at 660 ft where the forecast says 84")
	said(t, metric.Doubt(d), "62.39 km/h at 660 ft where the forecast says 135")
	said(
		t,
		us.Doubt(crew.Doubt{Kind: crew.ReactionOdd, Value: 3.999, Low: -0.15, High: 0.4}),
		"reaction 3.999, usual is -0.150 to 0.400",
	)
	said(
		t,
		us.Doubt(crew.Doubt{Kind: crew.ReactionOdd, Other: true, Value: 0.3, Likely: 0.04}),
		"the other lane's reaction 0.300 where those before were about 0.040",
	)
	d = crew.Doubt{Kind: crew.SpeedLow, At: predict.At1320, Speed: true, Value: 85.84, Likely: 104.6, FromFt: 1000}
	said(t, us.Doubt(d), "1320 ft speed 85.84 mph is below the 105 mph the times make from 1000 ft on")
	said(t, metric.Doubt(d), "1320 ft speed 138.15 km/h is below the 168 km/h the times make from 1000 ft on")
	d.Kind, d.Value = crew.TimesLong, 205.84
	said(t, us.Doubt(d), "1320 ft speed 205.84 mph, but the times make only 105 mph from 1000 ft on")
	d = crew.Doubt{Kind: crew.FarOff, At: predict.At660, Value: 1.5, Low: 2.6, High: 31}
	said(t, metric.Doubt(d), "660 ft in 1.5 s: usual is 2.6 to 31.0")
	d = crew.Doubt{
		Kind:    crew.ResultAgainst,
		Result:  "won",
		Decided: "lost",
		Why:     predict.Decision{Kind: predict.RedLight, S: 0.012},
	}
	said(t, us.Doubt(d), "won, but by its figures lost: red -.012")
}

func TestMeant(t *testing.T) {
	us, metric := &Page{Units: units.US}, &Page{Units: units.Metric}
	m := crew.Meant{Kind: crew.MeantFigure, At: predict.At1320, Value: 13.212}
	said(t, us.Meant(m), "1320 ft 13.212 was meant")
	m.Kind, m.With = crew.Exchanged, predict.At660
	said(t, us.Meant(m), "the times at 1320 and 660 ft were exchanged")
	m.Speed = true
	said(t, us.Meant(m), "the speeds at 1320 and 660 ft were exchanged")
	m.Kind = crew.MeantFigure
	said(t, us.Meant(m), "13.21 mph at 1320 ft was meant")
	said(t, metric.Meant(m), "21.26 km/h at 1320 ft was meant")
	said(t, us.Meant(crew.Meant{Kind: crew.MeantDial, Other: true, Value: 12.4}), "the other lane's dial 12.40 was meant")
}

// TestPerhapsOnThePhone: where no command can be typed none is named.
func TestPerhapsOnThePhone(t *testing.T) {
	meant := crew.Meant{Kind: crew.MeantFigure, At: predict.At1320, Value: 13.212}
	j := &crew.Judged{Perhaps: &crew.Doubt{Readings: []crew.Meant{meant}}}
	const asked = "1320 ft 13.212 meant?"
	for mute, want := range map[bool]string{true: asked, false: asked + " Then slipcase slip amend last"} {
		if got := (&Page{Mute: mute}).perhaps(j, "last"); !strings.HasPrefix(got, want) || mute && got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
