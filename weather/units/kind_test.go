package units

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var kinds = []Kind{
	Temperature, Pressure, Length, Weight, Power, Speed, TyrePressure, Seconds, Percent, Degrees, RPM, Money,
}

func TestParse(t *testing.T) {
	const (
		sp811 = "NIST SP 811 (2008), app. B.8"
		exact = "by definition"
		bare  = "a bare number is the US unit"
	)
	for _, c := range []struct {
		kind      Kind
		text      string
		want      float64
		tolerance float64
		source    string
	}{
		{Temperature, "31C", 87.8, 1e-12, "NIST SP 811, B.8: t/°F = 1.8 t/°C + 32"},
		{Temperature, "88F", 88, 0, exact},
		{Temperature, "-40 °C", -40, 1e-12, "NIST SP 811: the scales meet at -40"},
		{Temperature, "273.15K", 32, 1e-9, "NIST SP 811: ice point"},
		{Temperature, "−5c", 23, 1e-12, "the minus sign of typesetters"},
		{Temperature, "88", 88, 0, bare},
		{Temperature, "31 º C", 87.8, 1e-12, "an ordinal sign in place of the degree"},
		{Pressure, "28.94inHg", 28.94, 0, exact},
		{Pressure, "29.92 in", 29.92, 0, bare},
		{Pressure, `29.92"`, 29.92, 0, bare},
		{Pressure, "29.92 in. Hg", 29.92, 0, bare},
		{Pressure, "3386.389Pa", 1, 1e-12, sp811 + ": 1 inHg, conventional, 3.386389 E+03 Pa"},
		{Pressure, "1013.25hPa", 29.92126, 1e-5, sp811 + ": 1 atm is 1.01325 E+05 Pa, over 3386.389"},
		{Pressure, "1013.25 mbar", 29.92126, 1e-5, sp811 + ": 1 mbar is 100 Pa"},
		{Pressure, "101.325kPa", 29.92126, 1e-5, sp811},
		{Pressure, "760mmHg", 29.92126, 1e-5, sp811 + ": 760 mmHg, 1.333224 E+02 Pa each"},
		{Pressure, "25.4 mmHg", 1, 1e-6, "an inch is 25.4 mm"},
		{Pressure, "1psi", 6894.757 / 3386.389, 1e-6, sp811 + ": 6.894757 E+03 Pa"},
		{Length, "1,228ft", 1228, 0, exact},
		{Length, "374m", 374 / 0.3048, 1e-9, sp811 + ": 1 ft is 3.048 E-01 m exactly"},
		{Length, "0.25mi", 1320, 0, "a mile is 5,280 ft"},
		{Length, "1.609344 km", 5280, 1e-9, sp811 + ": 1 mi is 1.609344 E+03 m"},
		{Weight, "1565kg", 3450.234, 1e-3, sp811 + ": 1 lb is 4.535924 E-01 kg"},
		{Weight, "3,450 lb", 3450, 0, exact},
		{Power, "745.6999W", 0, 0, ""},
		{Power, "233kW", 233e3 / 745.6999, 1e-4, sp811 + ": 1 hp (550 ft lbf/s) is 7.456999 E+02 W"},
		{Power, "100PS", 73549.88 / 745.6999, 1e-4, sp811 + ": 1 metric horsepower is 7.354988 E+02 W"},
		{Speed, "100 km/h", 62.13712, 1e-5, sp811 + ": 1 mi/h is 1.609344 km/h exactly"},
		{Speed, "1m/s", 2.236936, 1e-6, sp811 + ": 1 mi/h is 4.4704 E-01 m/s"},
		{Speed, "10kt", 11.50779, 1e-5, sp811 + ": 1 kn is 5.144444 E-01 m/s"},
		{TyrePressure, "1bar", 14.50377, 1e-5, sp811 + ": 1 psi is 6.894757 E+03 Pa"},
		{Seconds, "13.212", 13.212, 0, bare},
		{Seconds, ".042s", 0.042, 0, exact},
		{Seconds, "42 ms", 0.042, 1e-15, exact},
		{Percent, "42%", 42, 0, exact},
		{Degrees, "240°", 240, 0, exact},
		{RPM, "5,500 rpm", 5500, 0, exact},
		{Money, "$1,410.50", 1410.50, 0, exact},
		{Length, "1e3ft", 1000, 0, "an exponent is a number too"},
	} {
		got, err := c.kind.Parse(c.text)
		if c.source == "" { // a unit we do not take
			if err == nil {
				t.Errorf("%s %q = %v, want an error", c.kind.Name, c.text, got)
			}
			continue
		}
		if err != nil || math.Abs(got-c.want) > c.tolerance {
			t.Errorf("%s %q = %v, %v; want %v within %g (%s)", c.kind.Name, c.text, got, err, c.want, c.tolerance, c.source)
		}
	}
}

var paragraph = strings.Repeat("it was hot and the car would not hook; ", 40)

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		says string // what the racer is told
	}{
		{Temperature, "", "want one in F"},
		{Temperature, "abc", "F, C, K"},
		{Temperature, "NaN", "not a number"},
		{Temperature, "Inf", "not a number"},
		{Temperature, "-inf", "not a number"},
		{Temperature, "F", "not a number"},
		{Temperature, "88X", `unknown unit "X", want F, C, K`},
		{Temperature, "31,5C", "decimal point"},
		{Temperature, "🔥", "not a number"},
		{Temperature, "٣١C", "not a number"},
		{Temperature, "1e400", "too large"},
		{Temperature, strings.Repeat("9", 300), "too large"},
		{Temperature, paragraph, "not a number"},
		{Temperature, "88" + paragraph, "unknown unit"},
		{Temperature, "1e", "unknown unit"},
		{Seconds, "11,132", "decimal point"},
		{Seconds, "1:13.2", "unknown unit"},
		{Seconds, "13.212 s\x00", "unknown unit"},
		{Length, "0x1p3", "unknown unit"},
		{Length, "1_000", "unknown unit"},
		{Length, "1.2.3", "not a number"},
		{Length, "--5", "not a number"},
		{Length, "12,34", "decimal point"},
		{Length, "1234,567", "decimal point"},
		{Length, "5'10", "unknown unit"},
		{Length, "1e308km", "too large"},
	} {
		got, err := c.kind.Parse(c.text)
		if err == nil {
			t.Errorf("%s %.50q = %v, want an error", c.kind.Name, c.text, got)
			continue
		}
		if msg := err.Error(); !strings.Contains(msg, c.says) || len(msg) > 250 {
			t.Errorf("%s %.50q: %d bytes %q, want it short and to say %q", c.kind.Name, c.text, len(msg), msg, c.says)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		system System
		us     float64
		want   string
	}{
		{Length, US, 2310, "2,310 ft"},
		{Length, Metric, 2310, "704 m"},
		{Length, US, -1234567, "-1,234,567 ft"},
		{Temperature, US, -0.04, "0.0 F"},
		{Temperature, Metric, 32, "0.0 C"},
		{Pressure, US, 28.94, "28.94 inHg"},
		{Pressure, Metric, 29.92126, "1,013.3 hPa"},
		{Weight, Metric, 3450, "1,565 kg"},
		{Money, Metric, 1410.5, "1,410.50"},
		{Money, US, 1410.5, "$1,410.50"},
		{Seconds, Metric, 13.212, "13.212 s"},
		{Length, US, math.Inf(1), "+Inf ft"},
		{Length, US, math.NaN(), "NaN ft"},
	} {
		if got := c.kind.Format(c.system, c.us); got != c.want {
			t.Errorf("%s %v = %q, want %q", c.kind.Name, c.us, got, c.want)
		}
	}
}

// What Format shows, Parse reads back to half of the last decimal shown; only a
// grouped number of a kind that takes no groups does not read back.
func TestFormatReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(kinds).Draw(t, "kind")
		s := rapid.SampledFrom([]System{US, Metric}).Draw(t, "system")
		v := rapid.Float64Range(-900, 900).Draw(t, "value")
		if k.wholes {
			v *= 1000
		}
		text := k.Format(s, v)
		if strings.Contains(text, ",") && !k.wholes {
			t.Skip("grouped")
		}
		got, err := k.Parse(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		half := 0.5001 * math.Pow10(-k.units[s].digits) * k.units[s].scale
		if math.Abs(got-v) > half {
			t.Fatalf("%s: %v shown as %q reads back %v", k.Name, v, text, got)
		}
	})
}

func FuzzQuantity(f *testing.F) {
	for _, text := range []string{
		"88F", "28.94inHg", "1,228ft", "$410", "42 ms", "abc", "NaN", "Inf", "1e400", "11,132",
		strings.Repeat("9", 300), "🔥", paragraph, "0x1p3", "1_000", "", ".", "-", "1e", "\x00", "5'10", "1,,000",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range kinds {
			v, err := k.Parse(text)
			if err != nil && (v != 0 || len(err.Error()) > 600) {
				t.Errorf("%s %q: %v and an error of %d bytes", k.Name, text, v, len(err.Error()))
			}
			if err == nil && !(math.Abs(v) <= largest) {
				t.Errorf("%s %q = %v, want a finite number", k.Name, text, v)
			}
		}
	})
}

// What is bare is of the system, what has its unit is not.
func TestParseInASystem(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want float64 // NIST SP 811 (2008), app. B.8
	}{
		{Temperature, "31", 87.8},
		{Temperature, "88F", 88},
		{Weight, "1,565", 3450.234},
		{Weight, "3450lb", 3450},
		{Speed, "169.5", 105.322},
		{Pressure, "1013.25", 29.92126},
		{Power, "74.56999", 100},
		{Length, "660", 660 / 0.3048},
		{Seconds, "1.912", 1.912},
		{Percent, "42", 42},
	} {
		got, err := c.kind.ParseIn(Metric, c.text)
		if err != nil || math.Abs(got-c.want) > 1e-3 {
			t.Errorf("%s %q = %v, %v; want %v", c.kind.Name, c.text, got, err, c.want)
		}
	}
	if _, err := Temperature.ParseIn(Metric, "hot"); err == nil || !strings.Contains(err.Error(), "want one in C") {
		t.Errorf("%v, want a word on C", err)
	}
}
