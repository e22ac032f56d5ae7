//go:build unix

package main

import (
	"strings"
	"testing"
)

// TestUnknownKeys: at a question an unknown key or word only repeats it, though it holds a
// letter that answers; the word and the key for it go back.
func TestUnknownKeys(t *testing.T) {
	leftToFullRun(t)
	r := newTrailer(t, 80)
	before := r.slips()
	r.start("slip add")
	r.typesSlip("left T1", "042", "1912", "14212@10584", "")
	r.types("Enter records", enter)
	for _, keys := range []string{"ok" + enter, "left" + enter, "z", "yes" + enter, "0"} {
		r.types("[e] edit: ", keys)
	}
	r.types("[e] edit: ", "back"+enter)
	r.types("Enter records", enter)
	r.types("[e] edit: ", up)
	r.types("Enter records", "nonsense"+enter)
	r.sees(`"nonsense" is no vehicle`)
	r.types("Enter records", "back"+enter)
	r.types("other lane: ", up+enter)
	r.types("1320 ft [14.212@105.84]: ", enter)
	r.types("other lane: ", enter)
	r.types("Enter records", enter)
	if r.slips() != before {
		t.Fatalf("recorded by a word that is no answer:\n%s", r.slips())
	}
	r.types("[e] edit: ", "keep"+enter)
	r.ends(exitDone)
	if !strings.Contains(r.slips(), ",14.212,105.84,") || strings.Contains(r.slips(), ",lifted,") {
		t.Errorf("recorded:\n%s", r.slips())
	}
}

// TestSpeedOnItsOwnLine: a speed typed alone is that of the time before it, where it can
// be nothing else; where it can, it is asked.
func TestSpeedOnItsOwnLine(t *testing.T) {
	r := newTrailer(t, 80)
	r.start("slip add")
	for _, line := range [][2]string{
		{"run [", "L E1 1325"},
		{"reaction: ", "042"},
		{"60 ft: ", "1912"},
		{"330 ft: ", "5437"},
		{"660 ft: ", "8412"},
		{"1000 ft: ", "8377"},
		{"1000 ft: ", "10980"},
		{"1320 ft: ", "13262"},
		{"other lane: ", "10584"},
	} {
		r.types(line[0], line[1]+enter)
	}
	r.sees(`"10584" may be your own speed: want @10584`)
	r.types("other lane: ", "105.84"+enter)
	r.types("other lane: ", "051 12430 10940 1240"+enter)
	r.sees("other lane .051, 12.430 @ 109.40, dial 12.40")
	r.sees("won: by .027 at the finish")
	r.types("Enter records", "other broke"+enter)
	r.sees("won: the other lane broke before it staged")
	r.types("Enter records", "reaction r012"+enter)
	r.sees("won: the other lane broke before it staged")
	r.types("Enter records", "other staged broke"+enter)
	r.sees("lost: red -.012")
	r.types("Enter records", enter)
	r.ends(exitDone)
	if !strings.Contains(r.slips(), ",left,E1,-0.012,1.912,5.437,8.412,83.77,10.98,,13.262,105.84,13.25,,,,,") ||
		!strings.Contains(r.slips(), ",staged\n") {
		t.Errorf("recorded:\n%s", r.slips())
	}
}

// TestSpeedOrTime: digits under a time that may be its speed or the next time are asked
// about, unless the slip before has only one of them.
func TestSpeedOrTime(t *testing.T) {
	leftToFullRun(t)
	r := newTrailer(t, 80)
	r.quick("vehicle add stint --kind motorcycle")
	for i, c := range []struct{ key, recorded string }{
		{enter, ",0.042,1.612,4.737,7.36,95.7,9.62,,11.58,,"},
		{"time" + enter, ",0.042,1.612,4.738,7.361,,9.57,,11.581,,"},
	} {
		r.start("slip add --vehicle stint")
		r.types("run [", "left T1"+enter)
		r.types("reaction: ", "042"+enter)
		r.types("60 ft: ", "1612"+enter)
		r.types("330 ft: ", []string{"4737", "4738"}[i]+enter)
		r.types("660 ft: ", []string{"7360", "7361"}[i]+enter)
		r.types("1000 ft: ", "9570"+enter)
		r.sees("[Enter] 660 ft speed 95.70")
		r.types("[t] 1000 ft time 9.570: ", c.key)
		if i == 0 {
			r.types("1000 ft: ", "9620"+enter)
		}
		r.types("1320 ft: ", []string{"11580", "11581"}[i]+enter)
		if i == 0 {
			r.types("[t] 1320 ft time 11.580: ", "time"+enter) // no slip before says that none has a speed there
		}
		r.types("other lane: ", enter)
		r.types("Enter records", enter)
		if i > 0 {
			r.types("[e] edit: ", "keep"+enter) // a minute after the first
		}
		r.ends(exitDone)
		if !strings.Contains(r.slips(), c.recorded) {
			t.Errorf("want %s, recorded:\n%s", c.recorded, r.slips())
		}
	}
	// The slip before has a time at 1000 ft and no speed at 660 ft.
	r.start("slip add --vehicle stint")
	for _, line := range []string{"run [", "reaction: ", "60 ft: ", "330 ft: ", "660 ft: ", "1000 ft: ", "1320 ft: "} {
		r.types(line, map[string]string{"660 ft: ": "7362", "1000 ft: ": "9571"}[line]+enter)
	}
	r.types("other lane: ", "back"+enter)
}

// TestShiftedByALine: a slip typed a line too high or too low is moved whole, by one key.
func TestShiftedByALine(t *testing.T) {
	const right = "0.042,1.912,5.437,8.412,83.77,10.98,,13.212,105.84,"
	for _, c := range []struct {
		name, asks, recorded string
		lines                []string // from the reaction on
		early                bool     // asked at the speed that has no cell
	}{
		{
			"no reaction, seen at the first speed", "everything from the reaction on is a line too high", right[len("0.042"):],
			[]string{"1912", "5437", "8412@8377", "", "10980", "13212@10584", ""},
			true,
		},
		{
			"no reaction, no speed", "everything from the reaction on is a line too high", ",1.912,5.437,8.412,,10.98,,13.212,,",
			[]string{"1912", "5437", "8412", "10980", "13212", "", ""},
			false,
		},
		{
			"60 ft left out", "everything from the 60 ft on is a line too high", "0.042,,5.437,8.412,,10.98,,13.212,,",
			[]string{"042", "5437", "8412", "10980", "13212", "", ""},
			false,
		},
		{
			"an Enter too many", "everything from the 60 ft on is a line too low", right,
			[]string{"042", "", "1912", "5437", "8412@8377", "10980", "13212@10584"},
			false,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newTrailer(t, 80)
			r.start("slip add")
			r.types("run [", "left T1"+enter)
			prompts := []string{"reaction: ", "60 ft: ", "330 ft: ", "660 ft: ", "1000 ft: ", "1320 ft: ", "other lane: "}
			for i, text := range c.lines {
				if c.early && i == 3 {
					r.sees(c.asks)
					r.types("[e] edit: ", enter)
					continue
				}
				r.types(prompts[i], text+enter)
			}
			r.types("Enter records", enter)
			if !c.early {
				r.sees(c.asks)
				r.sees("[Enter] all moved a line")
				r.types("[e] edit: ", enter)
			}
			r.ends(exitDone)
			if !strings.Contains(r.slips(), c.recorded) {
				t.Errorf("want %s, recorded:\n%s", c.recorded, r.slips())
			}
		})
	}
}

// TestBothRedIsAsked: who loses when both are red is asked as a track is added.
func TestBothRedIsAsked(t *testing.T) {
	leftToFullRun(t)
	r := newTrailer(t, 48)
	for _, c := range []struct{ name, key, want string }{{"tern", "worst", ",worst,"}, {"plover", "f", ",first,"}, {"knot", "", ",,"}} {
		r.start("track add " + c.name + " --elevation 90ft")
		r.types("first or worst", "maybe"+enter)
		r.types("first or worst", c.key+enter)
		r.ends(exitDone)
	}
	r.start("track add stint --elevation 90ft --both-red first")
	r.ends(exitDone)
	for name, want := range map[string]string{"tern": "worst", "plover": "first", "knot": "", "stint": "first"} {
		out := r.quick("track show " + name + " --format json")
		if strings.Contains(out, `"both_red"`) != (want != "") ||
			want != "" && !strings.Contains(out, `"both_red": "`+want+`"`) {
			t.Errorf("%s: want %q: %s", name, want, out)
		}
	}
}
