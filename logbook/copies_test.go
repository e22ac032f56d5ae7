package logbook

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

// slipless is a copy of a logbook as it was before its slips.
func slipless(t *testing.T, lb *Logbook) *Logbook {
	t.Helper()
	c := onCopy(t, lb)
	must(t, os.WriteFile(c.path(slips.file), slips.header(), 0o600))
	must(t, os.WriteFile(c.path(journalFile), nil, 0o600))
	return c
}

// What was lost in the other copy comes over from its journal, from a folder as from a zip.
func TestMergeReadsTheOtherJournal(t *testing.T) {
	for _, tc := range aThird([]struct {
		name   string
		damage func(lb *Logbook)
	}{
		{"a row deleted", func(lb *Logbook) {
			editCells(t, lb, func(rows [][]string) [][]string { return append(rows[:2], rows[3:]...) })
		}},
		{"a value emptied", func(lb *Logbook) { editCells(t, lb, emptied("notes")) }},
		{"a column cut out", func(lb *Logbook) { editCells(t, lb, cutOut("notes", "lane")) }},
		{"a row shifted", func(lb *Logbook) {
			editCells(t, lb, func(rows [][]string) [][]string {
				rows[2] = append(append(rows[2][:12:12], rows[2][13:]...), "")
				return rows
			})
		}},
		{"a row cut short", func(lb *Logbook) {
			data, err := os.ReadFile(lb.path(slips.file))
			must(t, err)
			must(t, os.WriteFile(lb.path(slips.file), data[:len(data)-9], 0o600))
		}},
		{"a cell that does not read", func(lb *Logbook) {
			data, err := os.ReadFile(lb.path(slips.file))
			must(t, err)
			must(t, os.WriteFile(lb.path(slips.file), bytes.Replace(data, []byte(",13.26,"), []byte(",13.2x,"), 1), 0o600))
		}},
		{"the heading gone", func(lb *Logbook) {
			data, err := os.ReadFile(lb.path(slips.file))
			must(t, err)
			must(t, os.WriteFile(lb.path(slips.file), data[lineEnd(data, 0):], 0o600))
		}},
		{"the file gone", func(lb *Logbook) { must(t, os.Remove(lb.path(slips.file))) }},
	}) {
		t.Run(tc.name, func(t *testing.T) {
			other := noted(t)
			want, err := other.Slips("")
			must(t, err)
			folder, unzipped := slipless(t, other), slipless(t, other)
			tc.damage(other)
			zip := filepath.Join(t.TempDir(), "other.zip")
			_, err = other.Backup(zip, false)
			must(t, err)
			for name, merge := range map[*Logbook]func() ([]Merged, error){
				folder:   func() ([]Merged, error) { return folder.Merge(other, nil) },
				unzipped: func() ([]Merged, error) { return unzipped.RestoreMerge(zip, nil) },
			} {
				result, err := merge()
				must(t, err)
				m := result[len(result)-1]
				if len(m.LeftOut) > 0 || len(m.Conflicts) > 0 {
					t.Errorf("left out %v, conflicts %v", m.LeftOut, m.Conflicts)
				}
				got, err := name.Slips("")
				must(t, err)
				if diff := cmp.Diff(want, got); diff != "" {
					t.Errorf("merged (-want +got):\n%s", diff)
				}
				noneGrave(t, name)
			}
		})
	}
}

// A row that does not read in either copy is no row: it is not brought in but named, and
// a good one of its revision is not contained in it.
func TestMergeOfRowsThatDoNotRead(t *testing.T) {
	lb := start(t)
	must(t, os.Remove(lb.path(journalFile))) // nothing makes it good
	const head = "id,rev,status,recorded_at,vehicle,time,et_1320_s,mph_1320\n"
	row := func(id, et string) string {
		return id + ",1,fact,2026-05-02T14:26:00Z,heron,2026-05-02T14:25:00Z," + et + ",105.8\n"
	}
	other := onCopy(t, lb)
	must(
		t,
		os.WriteFile(
			other.path(slips.file),
			[]byte(head+row("sgood", "13.5")+row("sbad", "13.x")+row("shere", "13.2")),
			0o600,
		),
	)
	must(t, os.WriteFile(lb.path(slips.file), []byte(head+row("shere", "13.z")), 0o600))
	result, err := lb.Merge(other, nil)
	must(t, err)
	m := result[len(result)-1]
	if m.Added != 2 || len(m.LeftOut) != 1 || !strings.Contains(m.LeftOut["sbad"], `"13.x" is not a plain number`) {
		t.Errorf("%d rows added, left out %v", m.Added, m.LeftOut)
	}
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	if bytes.Contains(data, []byte("13.x")) {
		t.Errorf("brought in: %s", data)
	}
	if s, err := lb.Slip("shere"); err != nil || s.ET1320S != units.Some(13.2) {
		t.Errorf("shere is %v, %v", s.ET1320S, err)
	}
}

// 20,000 contents of one revision are merged, read and checked in seconds.
func TestCrowdedRevisionIsMerged(t *testing.T) {
	contents := campaign(2_000, 20_000)
	lb := start(t)
	other := onCopy(t, lb)
	const head = "id,rev,status,recorded_at,vehicle,time,et_1320_s,notes\n"
	write := func(lb *Logbook, mark string) {
		var b strings.Builder
		b.WriteString(head)
		for n := range contents {
			fmt.Fprintf(&b, "s1,1,fact,2026-05-02T14:26:00Z,heron,2026-05-02T14:25:00Z,13.5,%s %d\n", mark, n)
		}
		must(t, os.WriteFile(lb.path(slips.file), []byte(b.String()), 0o600))
	}
	write(lb, "here")
	write(other, "there")
	began := time.Now()
	c := mergedFrom(t, lb, other)
	t.Logf("%d contents merged in %v", 2*contents, time.Since(began))
	if len(c) != 1 || c[0].Stands != "other" {
		t.Errorf("conflicts: %v", c)
	}
	got, err := lb.Slips("")
	must(t, err)
	greatest := ""
	for n := range contents {
		greatest = max(greatest, fmt.Sprintf("there %d", n))
	}
	if len(got) != 1 || got[0].Notes != greatest {
		t.Errorf("%d slips, the first %q, want %q", len(got), got[0].Notes, greatest)
	}
	must(t, lb.Repair(func([]Mend) error { return nil }))
}
