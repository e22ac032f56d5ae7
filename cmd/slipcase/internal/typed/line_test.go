package typed

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// said writes a slip in one plain form, to compare with.
func said(l Line) string {
	s := l.Slip
	var b strings.Builder
	add := func(name string, n units.Number) {
		if n.Known() {
			fmt.Fprintf(&b, " %s %s", name, units.Some(math.Round(n.Value()*1e6)/1e6))
		}
	}
	add("r", s.ReactionS)
	for _, p := range s.Splits() {
		add(fmt.Sprintf("%g", p.Ft), p.ETS)
		add("@", p.MPH)
	}
	add("dial", s.DialS)
	for _, w := range []string{s.Lane, s.Round, s.Result, s.FullPower, l.At} {
		if w != "" {
			b.WriteString(" " + w)
		}
	}
	if s.Bye != "" {
		b.WriteString(" bye")
	}
	if s.Buyback != "" {
		b.WriteString(" buyback")
	}
	add("other", s.OpponentReactionS)
	add("et", s.OpponentETS)
	add("mph", s.OpponentMPH)
	add("dial", s.OpponentDialS)
	if s.OpponentBroke != "" {
		b.WriteString(" broke " + s.OpponentBroke)
	}
	return strings.TrimSpace(b.String())
}

// Slips as racers type them: common practice, no source.
func TestLines(t *testing.T) {
	const whole = "r 0.042 60 1.912 330 5.437 660 8.412 @ 83.77 1000 10.98 1320 13.212 @ 105.84"
	for _, c := range []struct{ line, want string }{
		{".042 1.912 5.437 8.412@83.77 10.980 13.212@105.84", whole},
		{"042 1912 5437 8412@8377 10980 13212@10584", whole},
		{"42\t1912 5437\n 8412 8377 10980 13212 10584\r\n", whole},
		{"0.042 1.912 5.437 8.412 @83.77 10.980 13.212 @105.84", whole},
		{"042 1912 5437 8412 @ 8377 10980 13.212@ 105.84", whole},
		{"-.012 1.912 . 8412@8377 . 13212@106", "r -0.012 60 1.912 660 8.412 @ 83.77 1320 13.212 @ 106"},
		{"r012 1912 5437", "r -0.012 60 1.912 330 5.437"},
		{"R.012 1912 5437", "r -0.012 60 1.912 330 5.437"},
		{"−.012 1912 5437", "r -0.012 60 1.912 330 5.437"},
		{".036 1.312 3.712 5.712@121.1", "r 0.036 60 1.312 330 3.712 660 5.712 @ 121.1"},
		{"036 1312 3712 5712@1211", "r 0.036 60 1.312 330 3.712 660 5.712 @ 121.1"},
		{"512 1312 3712 5712@121", "r 0.512 60 1.312 330 3.712 660 5.712 @ 121"},
		{"13.212@105.84", "1320 13.212 @ 105.84"},
		{"8.412@83.77", "660 8.412 @ 83.77"},
		{"8.412@83.77 13.212@105.84", "660 8.412 @ 83.77 1320 13.212 @ 105.84"},
		{".042 1.912 13.212", "r 0.042 60 1.912 1320 13.212"},
		{"1.912 8.412", "60 1.912 660 8.412"},
		{"1.072 3.021 4.615@152.9 6.021 7.214@188.11", "60 1.072 330 3.021 660 4.615 @ 152.9 1000 6.021 1320 7.214 @ 188.11"},
		{"1072 3021 4615@15290 6021 7214@188", "60 1.072 330 3.021 660 4.615 @ 152.9 1000 6.021 1320 7.214 @ 188"},
		{"042 1912 5437 8412@8377 10980 13212@10584 left E2 won dial 1325", whole + " dial 13.25 left E2 won"},
		{"dial 13.25 round final 14:25 042 1912 5437 8412@8377 10980 13212@10584 lifted", whole + " dial 13.25 final lifted 14:25"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 051 12430 1240", whole + " other 0.051 et 12.43 dial 12.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 dial 13.25 / 051 12430 dial 12.40", whole + " dial 13.25 other 0.051 et 12.43 dial 12.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 VS r051 12.430@108.1 won", whole + " won other -0.051 et 12.43 mph 108.1"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / . 12430", whole + " et 12.43"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 12430 1240", whole + " et 12.43 dial 12.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 051", whole + " other 0.051"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 51", whole + " other 0.051"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / r012", whole + " other -0.012"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 12430", whole + " et 12.43"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 8412", whole + " et 8.412"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 12.4@108", whole + " et 12.4 mph 108"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / dial 12.40", whole + " dial 12.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 1260 1240", whole + " et 12.6 dial 12.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 1042 12600 1240", whole + " other 1.042 et 12.6 dial 12.4"},
		{"left 042 1912 5437 8412@8377 10980 13212@10584 Left won WON", whole + " left won"},
		// Words in short.
		{"L 042 1912 5437 8412@8377 10980 13212@10584 E1", whole + " left E1"},
		{"R R1 r012 1912 5437 8412@8377", "r -0.012 60 1.912 330 5.437 660 8.412 @ 83.77 right R1"},
		{"lt bb 042 1912 5437 8412@8377 10980 13212@10584 dq d1270", whole + " dial 12.7 left dq buyback"},
		{"rt bye TT 042 1912 5437 8412@8377 10980 13212@10584 dial12.70 win", whole + " dial 12.7 right TT won bye"},
		{"left Left L 042 1912", "r 0.042 60 1.912 left"},
		{"d1 042 1912", "r 0.042 60 1.912 d1"},
		{"3:30pm 042 1912", "r 0.042 60 1.912 3:30pm"},
		{"3:30p 042 1912", "r 0.042 60 1.912 3:30p"},
		{"042 1912 3:30 PM", "r 0.042 60 1.912 3:30PM"},
		// 1530 is a time of 1.530 here, and no clock.
		{"042 1530 4412 6812@10077", "r 0.042 60 1.53 330 4.412 660 6.812 @ 100.77"},
		// Two figures that have run together.
		{"042 1612 4737 7.30993.70", "r 0.042 60 1.612 330 4.737 660 7.309 @ 93.7"},
		{".0421.912 5.437 8.41283.77 10.980 13.212105.84", whole},
		// The other lane: its mph on its own, and how it broke.
		{"042 1912 5437 8412@8377 10980 13212@10584 / 051 12430 10940 1240", whole + " other 0.051 et 12.43 mph 109.4 dial 12.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / .051 12.430 109.40", whole + " other 0.051 et 12.43 mph 109.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 12.430 109.4 12.40", whole + " et 12.43 mph 109.4 dial 12.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 12430 109", whole + " et 12.43 mph 109"},
		{"042 1912 5437 8412@8377 / 051 7993 8840 798", "r 0.042 60 1.912 330 5.437 660 8.412 @ 83.77 other 0.051 et 7.993 mph 88.4 dial 7.98"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / 12.430109.40 d1240", whole + " et 12.43 mph 109.4 dial 12.4"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / broke", whole + " broke yes"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / broke 12.40 won", whole + " won dial 12.4 broke yes"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / .100 broke 1240", whole + " other 0.1 dial 12.4 broke yes"},
		{"042 1912 5437 8412@8377 10980 13212@10584 / staged broke", whole + " broke staged"},
		{"042 1912 5437 broke / broke staged", "r 0.042 60 1.912 330 5.437 broke broke staged"},
		{"2026-05-02 9:05 042 1912 5437 8412@8377 10980 13212@10584", whole + " 2026-05-02 9:05"},
	} {
		got, err := ParseLine(units.US, c.line, logbook.Slip{}, logbook.Slip{})
		if c.want == "" {
			if err == nil {
				t.Errorf("%s: read as %s, want an error", c.line, said(got))
			}
			continue
		}
		if err != nil || said(got) != c.want {
			t.Errorf("%s\nread as %s, %v\nwant    %s", c.line, said(got), err, c.want)
		}
	}
}

// A typo must not move the other numbers to other places.
func TestPlacesHoldWithATypo(t *testing.T) {
	for _, line := range []string{
		"042 9121 5437 8412@8377 10980 13212@10584",
		"042 1912 5437 8412@8377 10980 31212@10584",
		"042 1912 5437 84412@8377 10980 13212@10584",
		"042 1912 5437 8412@8377 1980 13212@1084",
	} {
		got, err := ParseLine(units.US, line, logbook.Slip{}, logbook.Slip{})
		if err != nil {
			t.Errorf("%s: %v", line, err)
			continue
		}
		right := 0
		for i, split := range got.Slip.Splits() {
			if split.ETS.Value() == []float64{1.912, 5.437, 8.412, 10.98, 13.212}[i] {
				right++
			}
		}
		if right != 4 {
			t.Errorf("%s: read as %s", line, said(got))
		}
	}
}

func TestAnEarlierSlipTellsThePlaces(t *testing.T) {
	eighth := logbook.Slip{ET660S: units.Some(8.2)}
	quarter := logbook.Slip{ET1320S: units.Some(8.2)}
	for _, c := range []struct {
		usual logbook.Slip
		want  string
	}{{eighth, "660 8.212"}, {quarter, "1320 8.212"}} {
		if got, err := ParseLine(units.US, "8212", logbook.Slip{}, c.usual); err != nil || said(got) != c.want {
			t.Errorf("read as %s, %v, want %s", said(got), err, c.want)
		}
	}
	if got, err := ParseLine(units.US, "8212", logbook.Slip{}, logbook.Slip{}); err == nil ||
		!strings.Contains(err.Error(), "name them") {
		t.Errorf("a guess without anything to go by: %s, %v", said(got), err)
	}
}

// At an eighth-mile track nothing is placed beyond it, however odd it looks; a slip with
// more than that is from a longer one.
func TestPlacesEndWithTheTrack(t *testing.T) {
	for line, want := range map[string]string{
		"042 1700 4800 36.912@95":                   "r 0.042 60 1.7 330 4.8 660 36.912 @ 95",
		"042 1912 5437 8412@8377 10980 13212@10584": "r 0.042 60 1.912 330 5.437 660 8.412 @ 83.77 1000 10.98 1320 13.212 @ 105.84",
		"13.212@105.84":                             "660 13.212 @ 105.84",
		"042 1700 4800 7300 94.2":                   "r 0.042 60 1.7 330 4.8 660 7.3 @ 94.2",
	} {
		if got, err := ParseLine(units.US, line, logbook.Slip{}, logbook.Slip{}, 660); err != nil || said(got) != want {
			t.Errorf("%s\nread as %s, %v\nwant    %s", line, said(got), err, want)
		}
	}
}

func TestRefused(t *testing.T) {
	for _, c := range []struct{ line, says string }{
		{"", "the line is empty"},
		{"abc", `"abc" is no part of a slip`},
		{"1.9.12 5.437", "is not a number"},
		{"11,132", "has a comma"},
		{"1e99", "too large"},
		{"🔥", "is no part of a slip"},
		{strings.Repeat("9", 300), "too large"},
		{strings.Repeat("word ", 300), "300 words"},
		{"1 2 3 4 5 6 7 8 9 10 11 12", "cannot be placed"},
		{"042 1912 dial", "has nothing behind it"},
		{"042 1912 5437 / 051 12430 1240 99", "too many"},
		{"042 1912 5437 / 051 12430 109.4 1240 99", "too many"},
		{"042 1912 5437 / 1260", `"1260" alone may be the other lane's reaction, ET or dial: want .051, 12.430 to the thousandth, or dial 12.40`},
		{"042 1912 5437 / 12.40", `"12.40" alone may be`},
		{"042 1912 5437 / 512", `"512" alone may be`},
		{"042 1912 5437 left right", `the lane is told twice, as "left" and as "right": want one`},
		{"E5 042 1912 E6", `the round is told twice, as "E5" and as "E6"`},
		{"E5 042 1912 round final", `the round is told twice, as "E5" and as "final"`},
		{"dial 12.70 042 1912 dial 12.07", `the dial is told twice, as "12.70" and as "12.07"`},
		{"042 1912 won / 051 12430 lost", `the result is told twice, as "won" and as "lost"`},
		{"042 1912 lifted spun", `the end of the run is told twice`},
		{"14:10 042 1912 14:20", `the time is told twice, as "14:10" and as "14:20"`},
		{"2026-05-02 042 1912 2026-05-03", `the date is told twice`},
		{"042 1612 4737 730993.70", `"730993.70": ET and speed run together? Type 7.309@93.70`},
		{"042 1612 4737 73099370", `ET and speed run together? Type 7.309@93.70`},
		{"042 1912 5437 / 051 12430 1094", `"1094" may be the speed 109.4 or a dial of 10.94: want @109.4 or dial 10.94`},
		{"042 1912 5437 8412@8377 / 051 12430 lifted", `"lifted" behind the / would be the other lane's`},
		{"042 1912 5437 staged", `"staged" is no part of a slip`},
		{"L 042 1912 R", `the lane is told twice, as "left" and as "right"`},
		{"042 1912 5437 / 051 x", `"x" is no part of a slip`},
	} {
		l, err := ParseLine(units.US, c.line, logbook.Slip{}, logbook.Slip{})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%.40s: %s, %v, want %q", c.line, said(l), err, c.says)
		} else if len(err.Error()) > 420 {
			t.Errorf("%.40s: the error is %d characters long", c.line, len(err.Error()))
		}
	}
}

// A run of any quickness, typed with or without its points and with any of its
// times missing, is read as it was.
func TestAnySlipIsReadAsItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		finish := rapid.Float64Range(6, 18).Draw(t, "quarter")
		round := func(v float64, to float64) float64 { return math.Round(v*to) / to }
		var words, want []string
		digits := rapid.Bool().Draw(t, "digits alone")
		write := func(v float64, format string) string {
			s := fmt.Sprintf(format, v)
			if digits {
				s = strings.Replace(s, ".", "", 1)
			}
			return s
		}
		last := rapid.SampledFrom([]place{at660, at1000, at1320}).Draw(t, "length")
		for p := at60; p <= last; p++ {
			if p != last && rapid.IntRange(0, 4).Draw(t, "missing") == 0 {
				words = append(words, Absent)
				continue
			}
			et := round(finish*share[p].of*(1+rapid.Float64Range(-1, 1).Draw(t, "off")*share[p].sd), 1000)
			word, as := write(et, "%.3f"), fmt.Sprintf("%g %s", placeFt[p], units.Some(et))
			if p == last || p == at660 {
				mph := round(logbook.UsualPull*placeFt[p]/1320/et*rapid.Float64Range(0.85, 1.08).Draw(t, "pull"), 100)
				word += "@" + write(mph, "%.2f")
				as += " @ " + units.Some(mph).String()
			}
			words, want = append(words, word), append(want, as)
		}
		line := "042 " + strings.Join(words, " ")
		got, err := ParseLine(units.US, line, logbook.Slip{}, logbook.Slip{})
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		if diff := cmp.Diff("r 0.042 "+strings.Join(want, " "), said(got)); diff != "" {
			t.Fatalf("%s\n%s", line, diff)
		}
	})
}

func FuzzParseLine(f *testing.F) {
	for _, s := range []string{
		".042 1.912 5.437 8.412@83.77 10.980 13.212@105.84", "042 1912 . 8412@8377 left E2 won dial 1325 / 051 12430 1240",
		"r012", "-.012 .", "@", "@@", ". . . . . . .", "🔥@1", "dial", "vs", "NaN inf 0x1p3 1e9",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseLine(units.US, text, logbook.Slip{}, logbook.Slip{})
		if err != nil {
			return
		}
		for _, p := range l.Slip.Splits() {
			for _, n := range []units.Number{p.ETS, p.MPH} {
				if v := n.Value(); math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e9 {
					t.Errorf("%q: %s", text, said(l))
				}
			}
		}
	})
}
