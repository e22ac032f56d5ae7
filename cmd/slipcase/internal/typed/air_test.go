package typed

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"slipcase/logbook"
	"slipcase/weather/units"
)

var twoTracks = []logbook.Track{{Entry: logbook.Entry{ID: "saltgrass"}}, {Entry: logbook.Entry{ID: "tern"}}}

// saidAir writes a reading in one plain form, to compare with.
func saidAir(a Air) string {
	parts := []string{fmt.Sprint(a.Line)}
	for _, q := range []struct {
		name string
		n    units.Number
	}{
		{"F", a.Reading.TempF},
		{"%", a.Reading.RHPct},
		{"dew", a.Reading.DewPointF},
		{"inHg", a.Reading.StationInHg},
		{"A", a.Reading.AltimeterInHg},
		{"DA", a.Reading.DensityAltitudeFt},
		{"mph", a.Reading.WindMPH},
		{"deg", a.Reading.WindFromDeg},
	} {
		if q.n.Known() {
			parts = append(parts, fmt.Sprintf("%g%s", math.Round(q.n.Value()*100)/100, q.name))
		}
	}
	for _, word := range []string{a.At, a.Track, a.Report.Station} {
		if word != "" {
			parts = append(parts, word)
		}
	}
	return strings.Join(parts, " ")
}

// Air as it is read off instruments, and reports as they are pasted: common practice, no
// source. 980 hPa is 28.94 inHg, 3 m/s 6.71 mph: NIST SP 811 appendix B.
func TestParseAir(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"88F 42 28.94", "1 88F 42% 28.94inHg"},
		{"88 42 2894", "1 88F 42% 28.94inHg"},
		{"240deg 10:30 980hPa 31C 3m/s 18C Saltgrass", "1 87.8F 64.4dew 28.94inHg 6.71mph 240deg 10:30 saltgrass"},
		{"2026-05-02 10:30 88F 42 A2995", "1 88F 42% 29.95A 2026-05-02 10:30"},
		{"DA1855", "1 1855DA"},
		{"da 1,855ft saltgrass 14:10 6mph", "1 1855DA 6mph 14:10 saltgrass"},
		{"DA-350 29.01", "1 29.01inHg -350DA"},
		{"DA566m", "1 1856.96DA"}, // 1 ft is 0.3048 m
		{"88F 42 q1013", "1 88F 42% 29.91A"},
		{"METAR KXXX 021053Z 24006KT 10SM CLR 24/16 A2995=", "1 75.2F 60.8dew 29.95A 6.9mph 240deg KXXX"},
		{
			"# day\n9:00 68F 55 28.98\n\nMETAR KXXX 021053Z 24006KT 10SM CLR\n  24/16 A2995=\n12:53 79F 48",
			"2 68F 55% 28.98inHg 9:00; 4 75.2F 60.8dew 29.95A 6.9mph 240deg KXXX; 6 79F 48% 12:53",
		},
		{
			"2026-04-02 KXXX 021653Z 24/16 A2995 KYYY 021753Z 25/16 A2995",
			"1 75.2F 60.8dew 29.95A 2026-04-02 KXXX; 1 77F 60.8dew 29.95A KYYY",
		},
	} {
		airs, err := ParseAir(units.US, c.text, twoTracks)
		var got []string
		for _, a := range airs {
			if a.Err != nil {
				err = a.Err
			}
			got = append(got, saidAir(a))
		}
		if said := strings.Join(got, "; "); err != nil || said != c.want {
			t.Errorf("%s\nread as %s, %v\nwant    %s", c.text, said, err, c.want)
		}
	}
	for _, c := range []struct{ text, says string }{
		{"88F 42 28.94 29.01", `"29.01" is one number too many`},
		{"88F 42 28.94inHg 980hPa", `"980hPa" is the second pressure`},
		{"DA1855 DA1900", `"DA1900" is the second length`},
		{"DAx", `"DAx"`},
		{"88furlongs 42", `"88furlongs" is no reading`},
		{"88F 42 saltgrass tern", "the track is told twice"},
		{"KXXX 329953Z 24/16 A2995", "time 329953Z of the report is impossible"},
	} {
		if airs, err := ParseAir(units.US, c.text, twoTracks); err != nil || len(airs) != 1 || airs[0].Err == nil ||
			!strings.Contains(airs[0].Err.Error(), c.says) {
			t.Errorf("%s: %+v, %v, want %q", c.text, airs, err, c.says)
		}
	}
}

// Any text is readings or errors, in the order of its lines.
func FuzzParseAir(f *testing.F) {
	for _, s := range []string{"88F 42 28.94", "88 42 2894\n-\nA2995 Q1013", "METAR KXXX 021053Z 24/16=\nSPECI", "021053Z", "🔥", "#\n\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		airs, err := ParseAir(units.US, text, twoTracks)
		if (err == nil) != (len(airs) > 0) {
			t.Errorf("%q: %d readings, %v", text, len(airs), err)
		}
		last := 1
		for _, a := range airs {
			if a.Line < last || a.Line > 1+strings.Count(text, "\n") {
				t.Errorf("%q: a reading on line %d after one on %d", text, a.Line, last)
			}
			last = a.Line
		}
	})
}
