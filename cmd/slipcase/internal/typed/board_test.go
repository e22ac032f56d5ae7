package typed_test

import (
	"slices"
	"testing"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// TestKindOf tells slips, readings and commands apart, as one prompt takes them all.
func TestKindOf(t *testing.T) {
	is := typed.Words{
		Command: func(w string) bool {
			return slices.Contains([]string{"dial", "round", "air", "list", "slip", "use", "gearing"}, w)
		},
		Name: func(w string) bool { return slices.Contains([]string{"heron", "plover", "highmesa"}, w) },
	}
	for text, want := range map[string]typed.Kind{
		// A quarter-mile slip with all its times, with both lanes, and an eighth.
		"066 1947 5298 8175@8517 10680 12822@10538 L E1":                              typed.ASlip,
		"066 1947 5298 8175@8517 10680 12822@10538 L E1 d1270 / 051 12430@10940 1240": typed.ASlip,
		"042 1312 3690 5680@11910 R":                                                  typed.ASlip,
		"heron 042 1312 5680 R":                                                       typed.ASlip,
		"-.012 1312 5680":                                                             typed.ASlip,
		"r012 1312 5680":                                                              typed.ASlip,
		"7.30993.70":                                                                  typed.ASlip,
		"8.069 @ 87.67":                                                               typed.ASlip,
		"L 13212@10584":                                                               typed.ASlip,
		// Three or more times are a slip whatever it begins with; its dial and round too.
		"dial 1270 066 1947 5298 8175 L": typed.ASlip,
		"round E1 066 1947 5298 8175":    typed.ASlip,
		"hern 066 1947 5298 8175":        typed.ASlip, // whose error names the word
		"dial":                           typed.Command,
		"dial --at 16:30":                typed.Command,
		"dial 1270":                      typed.Command,
		// A command and a flag are no slip, however many figures the flag takes.
		`dial --opponent "dial 12.40 reaction .042 sd .020 et 12.43 sd .03"`: typed.Command,
		`round E1 .042 13.27 13.25 --other ".051 12.4"`:                      typed.Command,
		"round":                               typed.Command,
		"round .042 13.272 13.25 / .051 12.4": typed.Command,
		"round last":                          typed.Command,
		"air 88 42 28.94":                     typed.Command,
		"gearing 1 2 3":                       typed.Command,
		"LIST":                                typed.Command,
		"88F 42 28.94":                        typed.AReading,
		"31C 18C 980hPa 14:10":                typed.AReading,
		"highmesa 88F 42 28.94":               typed.AReading,
		"88 42 28.94":                         typed.AReading,
		"88 42 2894":                          typed.AReading,
		"DA1855":                              typed.AReading,
		"KXXX 021853Z 24006KT 10SM CLR 31/18 A2995": typed.AReading,
		"METAR KXXX 021853Z 31/18 A2995":            typed.AReading,
		"":                                          typed.Unknown,
		"dail":                                      typed.Unknown,
		"dail 12.70":                                typed.Unknown,
		"heron":                                     typed.Unknown,
		"nonsense of all sorts":                     typed.Unknown,
	} {
		if got := typed.KindOf(units.US, text, is); got != want {
			t.Errorf("%q: kind %d, want %d", text, got, want)
		}
	}
	for text, want := range map[string]typed.Kind{
		"31 42 980.5":       typed.AReading,
		"042 1912 5437 R":   typed.ASlip,
		"042 1912 8412 100": typed.ASlip,
	} {
		if got := typed.KindOf(units.Metric, text, is); got != want {
			t.Errorf("in metric %q: kind %d, want %d", text, got, want)
		}
	}
}

func TestParseUse(t *testing.T) {
	for _, words := range [][]string{
		{"class", "index", "8.90"},
		{"index", "890", "pro", "tree"},
		{"class", "super", "driver", "lee"},
		{"heads-up"},
	} {
		var s logbook.Slip
		if err := typed.ParseUse(units.US, words, &s); err != nil || s == (logbook.Slip{}) {
			t.Errorf("%q: %+v, %v", words, s, err)
		}
	}
	var s logbook.Slip
	if err := typed.ParseUse(units.US, []string{"class", "index", "8.90"}, &s); err != nil ||
		s.Class != "index" || s.IndexS != units.Some(8.9) {
		t.Errorf("%+v, %v", s, err)
	}
	for _, words := range [][]string{{"8.90"}, {"hern"}, {"14:25"}, {"index"}, {"index", "x"}} {
		if err := typed.ParseUse(units.US, words, &s); err == nil {
			t.Errorf("%q is taken", words)
		}
	}
}
