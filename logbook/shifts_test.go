package logbook

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather"
	"slipcase/weather/units"
)

// seasonOf is a logbook in memory with something in every file and so many slips, whose
// cells are mostly full, as a season's are.
func seasonOf(t testing.TB, count int) (*Logbook, *memory) {
	t.Helper()
	lb, m := startInMemory(t)
	day := lb.now().AddDate(0, 0, -2)
	must(
		t,
		lb.AddSetup(
			&Setup{
				Vehicle:  "heron",
				From:     Time{day},
				Name:     "stock",
				WeightLb: units.Some(3450),
				PowerHP:  units.Some(312),
				PowerAt:  "wheels",
				Notes:    "as bought",
			},
		),
	)
	must(
		t,
		lb.AddSheet(
			&Sheet{
				Name:     "spring",
				Vehicle:  "heron",
				Time:     Time{day},
				At:       "wheels",
				Standard: "sae",
				PeakHP:   units.Some(312),
				PeakRPM:  units.Some(5800),
				TempF:    units.Some(70),
			},
		),
	)
	must(
		t,
		lb.AddPlanned(
			&Planned{
				Vehicle:    "heron",
				Name:       "headers",
				GainLowHP:  units.Some(5),
				GainHP:     units.Some(10),
				GainHighHP: units.Some(15),
				PowerAt:    "wheels",
				Cost:       units.Some(410),
			},
		),
	)
	anything := func([]Wear) error { return nil }
	must(t, lb.AddWear(&Wear{
		Time: Time{day}, What: WearAdd, Part: "plugs", Vehicle: "heron", LifeRuns: units.Some(60), HasRuns: units.Some(43),
	}, anything))
	must(t, lb.AddWear(&Wear{Time: Time{day}, What: WearNote, Part: "plugs", Notes: "gap .035"}, anything))
	for n := range count {
		at := lb.now().AddDate(0, 0, -1)
		// as a slip prints it
		plus := func(v float64) units.Number { return units.Some(math.Round(1000*v+float64(n)) / 1000) }
		if n%2 == 0 {
			must(t, lb.AddReading(&Reading{Time: Time{at}, Track: "saltgrass", Reading: weather.Reading{
				TempF: plus(
					80.25,
				), RHPct: units.Some(40), StationInHg: plus(28.943), WindMPH: units.Some(6), WindFromDeg: units.Some(240),
			}, Source: "my own"}))
		}
		s := marked(fmt.Sprintf("run %d", n), n)
		s.Meet, s.Lane, s.Round, s.ReactionS, s.DialS = "spring", []string{"left", "right"}[n%2], "E1", plus(
			.04,
		), units.Some(
			13.25,
		)
		s.ET60S, s.ET330S, s.ET660S, s.MPH660 = plus(1.9), plus(5.4), plus(8.4), plus(83.7)
		s.ET1000S, s.ET1320S, s.MPH1320 = plus(10.9), plus(13.2), plus(105.8)
		if n%3 == 0 {
			s.Result, s.OpponentETS, s.OpponentDialS, s.FullPower, s.FullPowerToFt = "won", plus(
				12.4,
			), units.Some(
				12.4,
			), "lifted", units.Some(
				1100,
			)
		}
		if n%5 == 0 {
			s.ET1000S, s.Notes = units.Number{}, ""
		}
		if n%7 == 0 {
			s.ET330S, s.ET660S, s.MPH660, s.DialS = units.Number{}, units.Number{}, units.Number{}, units.Number{}
		}
		must(t, lb.AddSlips(s))
		if n%9 == 8 {
			_, err := lb.AmendSlip(s.ID, func(s *Slip) error { s.Notes, s.TyrePsi = "corrected", units.Some(14); return nil })
			must(t, err)
		}
	}
	return lb, m
}

// whole is a logbook as it reads, entry by entry.
type whole struct {
	Vehicles []Vehicle
	Tracks   []Track
	Setups   []Setup
	Readings []Reading
	Sheets   []Sheet
	Parts    []Planned
	Slips    []Slip
}

func wholeOf(t testing.TB, lb *Logbook) whole {
	t.Helper()
	var w whole
	var err error
	w.Vehicles, err = lb.Vehicles()
	must(t, err)
	w.Tracks, err = lb.Tracks()
	must(t, err)
	w.Setups, err = lb.Setups("")
	must(t, err)
	w.Readings, err = lb.Readings("")
	must(t, err)
	w.Sheets, err = lb.Sheets("")
	must(t, err)
	w.Parts, err = lb.Plan("")
	must(t, err)
	w.Slips, err = lb.Slips("")
	must(t, err)
	slices.SortFunc(w.Vehicles, func(a, b Vehicle) int { return strings.Compare(a.ID, b.ID) })
	slices.SortFunc(w.Slips, func(a, b Slip) int { return strings.Compare(a.ID, b.ID) })
	slices.SortFunc(w.Readings, func(a, b Reading) int { return strings.Compare(a.ID, b.ID) })
	return w
}

// repairedIs holds that a damaged copy is repaired to what it was, with nothing left that
// is lost, and that a second repair has nothing to do.
func repairedIs(t *testing.T, name string, d *Logbook, want whole) {
	t.Helper()
	if err := d.Repair(func([]Mend) error { return nil }); err != nil {
		t.Errorf("%s: the repair: %v", name, err)
		return
	}
	if diff := cmp.Diff(want, wholeOf(t, d)); diff != "" {
		t.Errorf("%s: repaired (-recorded +read):\n%s", name, diff)
	}
	if len(d.Problems()) > 0 {
		t.Errorf("%s: left out after the repair: %v", name, d.Problems())
	}
	for _, f := range grave(t, d) {
		t.Errorf("%s: after the repair: %s", name, f)
	}
	if again := repair(t, d); len(again) > 0 {
		t.Errorf("%s: a second repair does %v", name, again)
	}
}

// alsoLast holds the same, and every so often only what the repair must have done.
func alsoLast(t *testing.T, n int, name string, d *Logbook, want whole) {
	t.Helper()
	if n%campaign(1, 8) == 0 {
		repairedIs(t, name, d, want)
		return
	}
	if err := d.Repair(func([]Mend) error { return nil }); err != nil {
		t.Errorf("%s: the repair: %v", name, err)
	} else if got := wholeOf(t, d); !reflect.DeepEqual(want, got) {
		t.Errorf("%s: repaired (-recorded +read):\n%s", name, cmp.Diff(want, got))
	}
}

// Each bit of each heading is flipped, and repaired: each entry ends as the journal's.
func TestEveryBitOfEveryHeading(t *testing.T) {
	flips := 0
	for _, tab := range tables {
		size := campaign(8, 20)
		if tab.file == slips.file {
			size = campaign(20, 60)
		}
		lb, m := seasonOf(t, size)
		want := wholeOf(t, lb)
		path := lb.path(tab.file)
		data := m.names[path].data
		for bit := 0; bit < 8*lineEnd(data, 0); bit += campaign(61, 1) {
			flips++
			bad := slices.Clone(data)
			bad[bit/8] ^= 1 << (bit % 8)
			d, _ := damagedCopy(t, lb, m, path, bad)
			alsoLast(
				t,
				flips,
				fmt.Sprintf("%s byte %d (%q for %q) bit %d", tab.file, bit/8, bad[bit/8], data[bit/8], bit%8),
				d,
				want,
			)
			if t.Failed() {
				return
			}
		}
	}
	t.Logf("%d flips", flips)
}

// Each cell of each row is deleted or put in, and what is behind it moves, in the manner
// of an editor, which leaves a row of another length, or of a spreadsheet.
func TestEveryShift(t *testing.T) {
	lb, m := seasonOf(t, campaign(8, 60))
	want := wholeOf(t, lb)
	shifts := 0
	for _, tab := range tables {
		path := lb.path(tab.file)
		data := m.names[path].data
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		must(t, err)
		for i := 1; i < len(rows); i++ {
			for at := range rows[i] {
				for how, shift := range []func([]string) []string{
					func(r []string) []string { return slices.Delete(r, at, at+1) },
					func(r []string) []string { return append(slices.Delete(r, at, at+1), "") },
					func(r []string) []string { return slices.Insert(r, at, "") },
					func(r []string) []string { return slices.Insert(r, at, "")[:len(r)] },
				} {
					if shifts++; shifts%campaign(29, 1) != 0 {
						continue
					}
					moved := slices.Clone(rows)
					moved[i] = shift(slices.Clone(rows[i]))
					var out bytes.Buffer
					must(t, csv.NewWriter(&out).WriteAll(moved))
					d, _ := damagedCopy(t, lb, m, path, out.Bytes())
					name := fmt.Sprintf("%s row %d cell %d (%s, %q) manner %d", tab.file, i, at, rows[0][at], rows[i][at], how)
					alsoLast(t, shifts, name, d, want)
					if t.Failed() {
						return
					}
				}
			}
		}
	}
	t.Logf("%d shifts", shifts)
}

// A column of every row is deleted with its cells moved left, and its heading left.
func TestEveryColumnShifted(t *testing.T) {
	lb, m := seasonOf(t, campaign(10, 60))
	want := wholeOf(t, lb)
	for _, tab := range tables {
		path := lb.path(tab.file)
		rows, err := csv.NewReader(bytes.NewReader(m.names[path].data)).ReadAll()
		must(t, err)
		for at := 0; at < len(rows[0]); at += widerInShort(3) {
			moved := slices.Clone(rows)
			for i := 1; i < len(moved); i++ {
				moved[i] = append(slices.Delete(slices.Clone(moved[i]), at, at+1), "")
			}
			var out bytes.Buffer
			must(t, csv.NewWriter(&out).WriteAll(moved))
			d, _ := damagedCopy(t, lb, m, path, out.Bytes())
			repairedIs(t, fmt.Sprintf("%s column %d (%s)", tab.file, at, rows[0][at]), d, want)
			if t.Failed() {
				return
			}
		}
	}
}
