package logbook

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// noted is a logbook with three slips and an amendment, notes and lanes among them.
func noted(t testing.TB) *Logbook {
	t.Helper()
	lb := start(t)
	for i, note := range []string{"gust, from the left", "", "two\nlines"} {
		s := slipAt(14, i, 13.25+float64(i)/100)
		s.Notes, s.Lane = note, "left"
		must(t, lb.AddSlips(s))
	}
	_, err := lb.AmendSlip("s000000001", func(s *Slip) error { s.Notes += " and right"; return nil })
	must(t, err)
	return lb
}

// editCells changes the cells of slips.csv as another program would.
func editCells(t testing.TB, lb *Logbook, change func(rows [][]string) [][]string) (was []byte) {
	t.Helper()
	was, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	rows, err := csv.NewReader(bytes.NewReader(was)).ReadAll()
	must(t, err)
	var out bytes.Buffer
	must(t, csv.NewWriter(&out).WriteAll(change(rows)))
	must(t, os.WriteFile(lb.path(slips.file), out.Bytes(), 0o600))
	return was
}

func cutOut(names ...string) func(rows [][]string) [][]string {
	return func(rows [][]string) [][]string {
		for _, name := range names {
			at := slices.Index(rows[0], name)
			for i := range rows {
				rows[i] = slices.Delete(rows[i], at, at+1)
			}
		}
		return rows
	}
}

func emptied(name string) func(rows [][]string) [][]string {
	return func(rows [][]string) [][]string {
		at := slices.Index(rows[0], name)
		for _, row := range rows[1:] {
			row[at] = ""
		}
		return rows
	}
}

// kinds counts findings that are not about setup and air.
func kinds(t testing.TB, lb *Logbook) map[Kind]int {
	t.Helper()
	found, err := lb.Check()
	must(t, err)
	n := map[Kind]int{}
	for _, f := range found {
		if f.Kind != NoSetup && f.Kind != NoAir {
			n[f.Kind]++
		}
	}
	return n
}

// A torn row stays torn when a column comes back: else it would be whole, and stand.
func TestLostColumnBeforeATornRow(t *testing.T) {
	lb := noted(t)
	_, err := lb.AmendSlip("s000000001", func(s *Slip) error { s.Notes = "good run"; return nil })
	must(t, err)
	before, err := lb.Slips("")
	must(t, err)
	editCells(t, lb, cutOut("lane"))
	edited, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	const cut = " run\n"
	if !bytes.HasSuffix(edited, []byte(cut)) {
		t.Fatalf("the log ends otherwise: %q", edited[len(edited)-40:])
	}
	must(t, os.WriteFile(lb.path(slips.file), edited[:len(edited)-len(cut)], 0o600))
	repair(t, lb)
	noneGrave(t, lb)
	after, err := onDisk(t, lb).Slips("")
	must(t, err)
	if diff := cmp.Diff(before, after); diff != "" {
		t.Errorf("repaired slips differ (-before +after):\n%s", diff)
	}
}

// A column that another program cut out or emptied is told, value by value, and a
// repair brings all of it back.
func TestLostColumn(t *testing.T) {
	for _, tc := range aThird([]struct {
		name string
		edit func(rows [][]string) [][]string
		want map[Kind]int
	}{
		{"cut out", cutOut("notes"), map[Kind]int{NoColumn: 1, Lost: 3}},
		{"emptied", emptied("notes"), map[Kind]int{Lost: 3}},
		{"numbers", emptied("et_1320_s"), map[Kind]int{Lost: 4}},
		{"two of them, and one that was never used", cutOut("lane", "notes", "delay_s"), map[Kind]int{NoColumn: 3, Lost: 7}},
		{"one that a row needs", cutOut("time"), map[Kind]int{NoColumn: 1, Lost: 4, Unreadable: 4}},
		{"one that was never used", cutOut("delay_s"), map[Kind]int{NoColumn: 1}},
	}) {
		t.Run(tc.name, func(t *testing.T) {
			lb := noted(t)
			before, err := lb.Slips("")
			must(t, err)
			history, err := lb.SlipHistory("s000000001")
			must(t, err)
			editCells(t, lb, tc.edit)
			edited, err := os.ReadFile(lb.path(slips.file))
			must(t, err)
			if got := kinds(t, lb); !cmp.Equal(got, tc.want) {
				t.Errorf("the check finds %v, want %v", got, tc.want)
			}
			mends := repair(t, lb)
			if (len(mends) > 0) != (tc.want[Lost] > 0) {
				t.Errorf("the repair does %v", mends)
			}
			noneGrave(t, lb)
			again := onDisk(t, lb)
			after, err := again.Slips("")
			must(t, err)
			if diff := cmp.Diff(before, after); diff != "" {
				t.Errorf("repaired slips differ (-before +after):\n%s", diff)
			}
			revisions, err := again.SlipHistory("s000000001")
			must(t, err)
			if tc.name != "one that a row needs" && !containsAll(revisions, history) {
				t.Errorf("history before:\n%v\nafter:\n%v", history, revisions)
			}
			if done := repair(t, lb); len(done) > 0 {
				t.Errorf("a second repair does %v", done)
			}
			kept := tc.want[NoColumn] > 0 && tc.want[Lost] > 0
			if aside := setAside(t, lb); kept != (len(aside) == 1 && bytes.Equal(aside[0], edited)) {
				t.Errorf("set aside: %q", aside)
			}
			if now, err := os.ReadFile(lb.path(slips.file)); err != nil || !kept && !bytes.HasPrefix(now, edited) {
				t.Errorf("the file was written over: %v", err)
			}
		})
	}
}

func onDisk(t testing.TB, lb *Logbook) *Logbook {
	t.Helper()
	again, err := Open(lb.Dir(), heldOptions())
	must(t, err)
	return again
}

func setAside(t testing.TB, lb *Logbook) (files [][]byte) {
	t.Helper()
	names, err := filepath.Glob(lb.path(slips.file) + ".before-*")
	must(t, err)
	for _, name := range names {
		data, err := os.ReadFile(name)
		must(t, err)
		files = append(files, data)
		if !belongs(filepath.Base(name)) {
			t.Errorf("a backup would leave %s out", name)
		}
	}
	return files
}

func containsAll(have, want []Slip) bool {
	return !slices.ContainsFunc(want, func(w Slip) bool {
		return !slices.ContainsFunc(have, func(h Slip) bool { return cmp.Equal(h, w) })
	})
}

// The racer's edits, his own columns, damaged lines and a torn end outlive the repair
// of a column.
func TestLostColumnBesideOtherEdits(t *testing.T) {
	lb := noted(t)
	editCells(t, lb, func(rows [][]string) [][]string {
		rows = cutOut("notes")(rows)
		for i := range rows {
			rows[i] = append(rows[i], []string{"mood", "fine", "", "", ""}[i])
		}
		rows[3][slices.Index(rows[0], "et_1320_s")] = "13.999" // s000000003
		return append(rows, make([]string, len(rows[0])))
	})
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	must(t, os.WriteFile(lb.path(slips.file), append(data, "\"broken\nstorn,1,fact,2026-05"...), 0o600))
	repair(t, lb)
	s, err := lb.Slip("s000000003")
	must(t, err)
	if s.ET1320S != units.Some(13.999) || s.Notes != "two\nlines" {
		t.Errorf("the edited slip: et %v, notes %q", s.ET1320S, s.Notes)
	}
	now, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	rows := strings.Split(string(now), "\n")
	for _, want := range []string{"\"broken", strings.Repeat(",", strings.Count(rows[0], ","))} {
		if !slices.Contains(rows, want) {
			t.Errorf("no line %q in\n%s", want, now)
		}
	}
	if !strings.Contains(rows[0], ",mood,notes") || !strings.Contains(rows[1], ",fine,") {
		t.Errorf("the racer's column: %q, %q", rows[0], rows[1])
	}
	if torn, err := filepath.Glob(lb.path(slips.file) + ".torn-*"); err != nil || len(torn) != 1 {
		t.Errorf("torn ends: %v, %v", torn, err)
	}
	if left := kinds(t, lb); left[Lost] > 0 || left[Conflict] > 0 {
		t.Errorf("left: %v", left)
	}
}

// A row with a cell too many would read, and wrong, once there is a column more: the
// repair says so and does nothing.
func TestLostColumnBesideALongRow(t *testing.T) {
	lb := noted(t)
	editCells(t, lb, cutOut("notes"))
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	long := "smine,1,fact" + strings.Repeat(",", len(slips.schema.heading(nil))-4) + ",left\n"
	data = append(data, long...)
	must(t, os.WriteFile(lb.path(slips.file), data, 0o600))
	if got := kinds(t, lb); got[Lost] != 3 || got[Unreadable] != 1 {
		t.Errorf("the check finds %v", got)
	}
	err = lb.Repair(func([]Mend) error { return nil })
	if err == nil ||
		!strings.Contains(
			err.Error(),
			"slips.csv line 6 does not read, and would read wrong with the columns notes: correct it by hand first",
		) {
		t.Errorf("the repair: %v", err)
	}
	if now, err := os.ReadFile(lb.path(slips.file)); err != nil || !bytes.Equal(now, data) {
		t.Errorf("the file was changed: %v", err)
	}
	must(t, os.WriteFile(lb.path(slips.file), bytes.TrimSuffix(data, []byte(long)), 0o600))
	repair(t, lb)
	noneGrave(t, lb)
}

// Whatever columns are cut out or emptied, the repair brings back every slip.
func TestAnyLostColumns(t *testing.T) {
	made := noted(t)
	before, err := made.Slips("")
	must(t, err)
	names := slices.DeleteFunc(
		slips.schema.heading(nil),
		func(name string) bool { return name == "id" || name == "rev" || name == "status" },
	)
	rapid.Check(t, func(rt *rapid.T) {
		lb := onCopy(t, made)
		lost := rapid.SliceOfNDistinct(rapid.SampledFrom(names), 1, 5, rapid.ID[string]).Draw(rt, "lost")
		for _, name := range lost {
			if rapid.Bool().Draw(rt, "cut out") {
				editCells(t, lb, cutOut(name))
			} else {
				editCells(t, lb, emptied(name))
			}
		}
		repair(t, lb)
		after, err := onDisk(t, lb).Slips("")
		must(t, err)
		if diff := cmp.Diff(before, after); diff != "" {
			rt.Errorf("without %v (-before +after):\n%s", lost, diff)
		}
		noneGrave(t, lb)
	})
}

func onCopy(t testing.TB, lb *Logbook) *Logbook {
	t.Helper()
	dir, err := os.MkdirTemp(t.TempDir(), "copy")
	must(t, err)
	must(t, os.CopyFS(dir, os.DirFS(lb.Dir())))
	c, err := Open(dir, heldOptions())
	must(t, err)
	return c
}

// Reading goes on without a column, and says so once for each file.
func TestAbsentColumnsAreSaid(t *testing.T) {
	lb := noted(t)
	editCells(t, lb, cutOut("notes", "delay_s"))
	for range 2 {
		if got, err := lb.Slips(""); err != nil || len(got) != 3 {
			t.Fatalf("%d slips, %v", len(got), err)
		}
	}
	if said := fmt.Sprint(lb.Absent()); said != "[slips.csv has no columns delay_s, notes]" {
		t.Errorf("said %s", said)
	}
	if len(lb.Problems()) > 0 {
		t.Errorf("problems: %v", lb.Problems())
	}
}

// Every call of the repair of a column fails in turn: no slip is lost on the way, and
// the next repair brings all of it back.
func TestEachCallOfAColumnsRepairFails(t *testing.T) {
	for _, how := range []string{"short", "none"} {
		for call := 0; ; call += widerInShort(8) {
			lb, m := logOf(t, 6)
			whole, err := lb.Slips("")
			must(t, err)
			rows, err := csv.NewReader(bytes.NewReader(m.names[lb.path(slips.file)].data)).ReadAll()
			must(t, err)
			var cut bytes.Buffer
			must(t, csv.NewWriter(&cut).WriteAll(cutOut("notes")(rows)))
			m.put(lb.path(slips.file), cut.Bytes())
			f := &faulty{fileSystem: m, from: call, until: call + 1, how: how}
			lb.fs = f
			err = lb.Repair(func([]Mend) error { return nil })
			if f.failed == "" {
				must(t, err)
				if call < 20 {
					t.Errorf("a repair of only %d calls", call)
				}
				break
			}
			fresh := onMemory(t, m, lb.dir)
			if got, err := fresh.Slips(""); err != nil || len(got) != len(whole) || len(fresh.Problems()) > 0 && !fresh.cut() {
				t.Errorf("call %d (%s) fails: %d slips, %v, %v", call, f.failed, len(got), err, fresh.Problems())
			}
			repair(t, fresh)
			fresh = onMemory(t, m, lb.dir)
			after, err := fresh.Slips("")
			must(t, err)
			if diff := cmp.Diff(whole, after); diff != "" {
				t.Errorf("call %d (%s) fails, repaired (-before +after):\n%s", call, f.failed, diff)
			}
			noneGrave(t, fresh)
		}
	}
}
