package main

import (
	"testing"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

func TestParseFigure(t *testing.T) {
	powers := []units.Kind{units.Power, units.Percent}
	one := func(v float64) crew.Range { return crew.Range{Low: v, Likely: v, High: v} }
	three := func(low, likely, high float64) crew.Range { return crew.Range{Low: low, Likely: likely, High: high} }
	for _, c := range []struct {
		text  string
		kinds []units.Kind
		want  crew.Asked
		ok    bool
	}{
		{"90hp", powers, crew.Asked{Range: one(90), Given: true, Alone: true}, true},
		{"12%", powers, crew.Asked{Range: one(12), Given: true, Alone: true, Percent: true}, true},
		{"70/90/105hp", powers, crew.Asked{Range: three(70, 90, 105), Given: true}, true},
		{"7 / 9 / 12 %", powers, crew.Asked{Range: three(7, 9, 12), Given: true, Percent: true}, true},
		{"-40/-30/-20lb", []units.Kind{units.Weight}, crew.Asked{Range: three(-40, -30, -20), Given: true}, true},
		{"90", powers, crew.Asked{Text: "90hp", Range: one(90), Given: true, Alone: true}, true},
		{"1,200/1,300/1,500", []units.Kind{units.Hours}, crew.Asked{}, false},
		{
			"1,200/1,300/1,500",
			[]units.Kind{units.Money},
			crew.Asked{Text: "1,200/1,300/1,500$", Range: three(1200, 1300, 1500), Given: true},
			true,
		},
		{"90/70/105hp", []units.Kind{units.Power}, crew.Asked{}, false},
		{"70/90hp", []units.Kind{units.Power}, crew.Asked{}, false},
		{"1/2/3/4", []units.Kind{units.Power}, crew.Asked{}, false},
		{"70hp/90lb/105hp", []units.Kind{units.Power}, crew.Asked{}, false},
		{"5%", []units.Kind{units.Weight}, crew.Asked{}, false},
		{"", []units.Kind{units.Power}, crew.Asked{}, false},
		{"NaN", []units.Kind{units.Power}, crew.Asked{}, false},
	} {
		if c.want.Text == "" {
			c.want.Text = c.text
		}
		got, err := parseFigure(units.US, c.text, c.kinds...)
		if (err == nil) != c.ok || c.ok && got != c.want {
			t.Errorf("%q reads %+v, %v; want %+v", c.text, got, err, c.want)
		}
	}
}

func FuzzParseFigure(f *testing.F) {
	f.Add("70/90/105hp")
	f.Add("-5%")
	f.Fuzz(func(t *testing.T, text string) {
		got, err := parseFigure(units.US, text, units.Power, units.Percent)
		if err == nil && !(got.Low <= got.Likely && got.Likely <= got.High) {
			t.Errorf("%q reads %+v", text, got)
		}
	})
}
