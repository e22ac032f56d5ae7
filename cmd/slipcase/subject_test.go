package main

import (
	"testing"

	"slipcase/weather/units"
)

func TestParseThree(t *testing.T) {
	for _, c := range []struct {
		text  string
		kinds []units.Kind
		want  threeFigures
		ok    bool
	}{
		{"90hp", []units.Kind{units.Power, units.Percent}, threeFigures{90, 90, 90, true, true, false}, true},
		{"12%", []units.Kind{units.Power, units.Percent}, threeFigures{12, 12, 12, true, true, true}, true},
		{"70/90/105hp", []units.Kind{units.Power, units.Percent}, threeFigures{70, 90, 105, true, false, false}, true},
		{"7 / 9 / 12 %", []units.Kind{units.Power, units.Percent}, threeFigures{7, 9, 12, true, false, true}, true},
		{"-40/-30/-20lb", []units.Kind{units.Weight}, threeFigures{-40, -30, -20, true, false, false}, true},
		{"1,200/1,300/1,500", []units.Kind{units.Money}, threeFigures{1200, 1300, 1500, true, false, false}, true},
		{"90/70/105hp", []units.Kind{units.Power}, threeFigures{}, false},
		{"70/90hp", []units.Kind{units.Power}, threeFigures{}, false},
		{"1/2/3/4", []units.Kind{units.Power}, threeFigures{}, false},
		{"70hp/90lb/105hp", []units.Kind{units.Power}, threeFigures{}, false},
		{"5%", []units.Kind{units.Weight}, threeFigures{}, false},
		{"", []units.Kind{units.Power}, threeFigures{}, false},
		{"NaN", []units.Kind{units.Power}, threeFigures{}, false},
	} {
		got, err := parseThree(c.text, c.kinds...)
		if (err == nil) != c.ok || c.ok && got != c.want {
			t.Errorf("%q reads %+v, %v; want %+v", c.text, got, err, c.want)
		}
	}
}

func FuzzParseThree(f *testing.F) {
	f.Add("70/90/105hp")
	f.Add("-5%")
	f.Fuzz(func(t *testing.T, text string) {
		got, err := parseThree(text, units.Power, units.Percent)
		if err == nil && !(got.low <= got.likely && got.likely <= got.high) {
			t.Errorf("%q reads %+v", text, got)
		}
	})
}
