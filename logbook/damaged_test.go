package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

// logOf makes a logbook in memory with so many slips, some of them amended, and
// notes with all that CSV finds hard.
func logOf(t testing.TB, rows int) (*Logbook, *memory) {
	t.Helper()
	lb, m := startInMemory(t)
	must(t, lb.AddSetup(&Setup{Vehicle: "heron", From: Time{lb.now().AddDate(0, 0, -2)}, WeightLb: units.Some(3450)}))
	hard := []string{"plain", `a "quoted", word`, "two\nlines", "", "tail;", `back\slash`, "ünïcode"}
	var last *Slip
	for n := range rows {
		if n%5 == 4 {
			_, err := lb.AmendSlip(last.ID, func(s *Slip) error { s.ReactionS = units.Some(.04); return nil })
			must(t, err)
			continue
		}
		last = marked(fmt.Sprintf("%d %s", n, hard[n%len(hard)]), n)
		if hard[n%len(hard)] == "" {
			last.Notes = ""
		}
		must(t, lb.AddSlips(last))
	}
	return lb, m
}

// damagedCopy is a logbook on a copy of the files, one of them with other contents.
func damagedCopy(t testing.TB, lb *Logbook, m *memory, path string, data []byte) (*Logbook, *memory) {
	t.Helper()
	c := m.copy()
	c.put(path, data)
	fresh := onMemory(t, c, lb.dir)
	fresh.newID = NewID
	return fresh, c
}

// dataFiles are the paths of the files that matter, in order.
func dataFiles(m *memory, lb *Logbook) []string {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(m.names)), func(p string) bool { return p == lb.path(lockFile) })
}

// Each file is cut at each byte: whole rows stay, the next append works, and a
// repair brings the rest back.
func TestCutAtEveryByte(t *testing.T) {
	leftToFullRun(t)
	lb, m := logOf(t, 60)
	whole, err := lb.Slips("")
	must(t, err)
	step := campaign(61, 1)
	cuts := 0
	for _, path := range dataFiles(m, lb) {
		data := m.names[path].data
		for cut := 0; cut < len(data); cut += step {
			cuts++
			name := fmt.Sprintf("%s cut at byte %d of %d", path[len(lb.dir)+1:], cut, len(data))
			cutLog(t, name, lb, m, path, data[:cut], whole)
			if t.Failed() {
				return
			}
		}
	}
	t.Logf("%d cuts", cuts)
}

func cutLog(t *testing.T, name string, lb *Logbook, m *memory, path string, data []byte, whole []Slip) {
	t.Helper()
	d, files := damagedCopy(t, lb, m, path, data)
	if err := d.readVersion(); err != nil {
		if !errors.Is(err, ErrNoVersion) {
			t.Errorf("%s: opening: %v", name, err)
		}
		must(t, d.repairVersion())
		must(t, d.readVersion())
	}
	isSlips := path == lb.path(slips.file)
	rowsBefore := 0 // whole physical rows of slips.csv that are left
	if isSlips {
		rowsBefore = max(0, bytes.Count(data, []byte("\n"))-1)
		c, err := d.read(slips, nil)
		var cutHeader *fileError
		switch {
		case errors.As(err, &cutHeader) && cutHeader.headerCut && rowsBefore == 0:
		case err != nil:
			t.Errorf("%s: %v", name, err)
		case len(c.rows) < rowsBefore || len(c.rows) > rowsBefore+1:
			t.Errorf("%s: %d rows read, %d are whole", name, len(c.rows), rowsBefore)
		}
	}
	extra := marked("after the cut", 4000)
	appended := d.AddSlips(extra) == nil
	if !appended && !(isSlips && rowsBefore == 0) {
		t.Errorf("%s: the next append failed: %v", name, d.AddSlips(extra))
	}
	if isSlips && appended {
		// What was torn off stands in a file of its own.
		kept := []byte{}
		for n, b := range files.files() {
			if strings.HasPrefix(n, slips.file+".torn-") {
				kept = b
			}
		}
		if after := files.files()[slips.file]; !bytes.HasPrefix(
			append(after[:len(data)-len(kept):len(data)-len(kept)], kept...),
			data,
		) {
			t.Errorf("%s: bytes were lost when the tail was set aside", name)
		}
	}
	repair(t, d)
	if !appended {
		must(t, d.AddSlips(extra))
	}
	noneGrave(t, d)
	got, err := d.Slips("")
	must(t, err)
	if diff := cmp.Diff(append(slices.Clone(whole), *extra), got); diff != "" {
		t.Errorf("%s: after the repair:\n%s", name, diff)
	}
}

// Each bit of each file is flipped: nothing panics, and what has changed is told
// or confined to the cell it hit.
func TestEveryBitFlipped(t *testing.T) {
	lb, m := logOf(t, 20)
	sound, err := lb.Slips("")
	must(t, err)
	before, err := lb.Check()
	must(t, err)
	step := campaign(97, 1)
	flips, told := 0, 0
	for _, path := range dataFiles(m, lb) {
		data := m.names[path].data
		for bit := 0; bit < 8*len(data); bit += step {
			flips++
			name := fmt.Sprintf("%s byte %d bit %d", path[len(lb.dir)+1:], bit/8, bit%8)
			bad := slices.Clone(data)
			bad[bit/8] ^= 1 << (bit % 8)
			d, _ := damagedCopy(t, lb, m, path, bad)
			if err := d.readVersion(); err != nil {
				told++
				continue
			}
			after, err := d.Check()
			if err != nil || !cmp.Equal(before, after) {
				told++
				continue
			}
			got, err := d.Slips("")
			if err != nil {
				told++
				continue
			}
			if changed := changedCells(sound, got); changed > 1 {
				t.Errorf("%s: %d cells changed and nothing is told", name, changed)
			}
		}
	}
	t.Logf("%d flips, %d told", flips, told)
}

func changedCells(a, b []Slip) int {
	if len(a) != len(b) {
		return 1000
	}
	n := 0
	for i := range a {
		x, err := textsOf(slips.schema, &a[i], nil)
		y, err2 := textsOf(slips.schema, &b[i], nil)
		if err != nil || err2 != nil {
			return 1000
		}
		n += len(slips.schema.diff(x, y))
	}
	return n
}

// A spreadsheet that had the file open saves its stale copy over newer slips.
func TestStaleCopySavedOver(t *testing.T) {
	times := campaign(10, 200)
	for n := range times {
		r := rand.New(rand.NewPCG(uint64(n), 4))
		lb, m := logOf(t, 1+r.IntN(30))
		path := lb.path(slips.file)
		stale := m.names[path].data
		older, err := lb.Slips("")
		must(t, err)
		for i := range 1 + r.IntN(20) {
			if r.IntN(3) == 0 && len(older) > 0 {
				_, err := lb.AmendSlip(
					older[r.IntN(len(older))].ID,
					func(s *Slip) error { s.Lane, s.Meet = "right", fmt.Sprint(i); return nil },
				)
				must(t, err)
				continue
			}
			must(t, lb.AddSlips(marked(fmt.Sprintf("newer %d", i), 1000+i)))
		}
		want, err := lb.Slips("")
		must(t, err)
		lostRows := bytes.Count(m.names[path].data, []byte("\n")) - bytes.Count(stale, []byte("\n"))
		if r.IntN(2) == 0 { // as some spreadsheets save
			stale = bytes.ReplaceAll(append([]byte("\xef\xbb\xbf"), stale...), []byte("\n"), []byte("\r\n"))
		}
		m.put(path, stale)
		if r.IntN(2) == 0 { // and the racer goes on before he notices
			s := marked("after", 3000)
			must(t, lb.AddSlips(s))
			want = append(want, *s)
		}
		found := grave(t, lb)
		if len(found) != lostRows {
			t.Errorf("%d: %d rows are lost, the check names %d: %v", n, lostRows, len(found), found)
		}
		repair(t, lb)
		noneGrave(t, lb)
		got, err := lb.Slips("")
		must(t, err)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%d: after the repair:\n%s", n, diff)
		}
	}
	t.Logf("%d stale copies", times)
}

// The racer's own amendment, made on the stale copy, does not hide the lost one.
func TestStaleCopyThenAmendedAgain(t *testing.T) {
	lb, m := logOf(t, 3)
	path := lb.path(slips.file)
	stale := m.names[path].data
	amendLane := func(lane string) {
		_, err := lb.AmendSlip("last", nil)
		if err == nil {
			t.Fatal("last is no id")
		}
		s, err := lb.Slip("last")
		must(t, err)
		_, err = lb.AmendSlip(s.ID, func(s *Slip) error { s.Lane = lane; return nil })
		must(t, err)
	}
	amendLane("left")
	m.put(path, stale)
	amendLane("right")
	found := grave(t, lb)
	if len(found) != 1 || found[0].Kind != Lost {
		t.Fatalf("found %v, want the amendment that was lost", found)
	}
	repair(t, lb)
	if found = grave(t, lb); len(found) != 1 || found[0].Kind != Conflict {
		t.Errorf("after the repair %v, want the conflict to be told", found)
	}
	amendLane("left")
	noneGrave(t, lb)
}

func TestAMissingFileIsMadeAnew(t *testing.T) {
	lb := start(t)
	must(t, lb.AddSlips(slipAt(14, 0, 13.5)))
	want, err := lb.Slips("")
	must(t, err)
	must(t, os.Remove(lb.path(slips.file)))
	if _, err := lb.Slips(""); !errors.Is(err, ErrMissing) {
		t.Errorf("reading without the file: %v", err)
	}
	repair(t, lb)
	got, err := lb.Slips("")
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// A row of thousands of separators costs its own entry, and says why.
func TestCrowdedRow(t *testing.T) {
	const head = "id,rev,status,time,vehicle,notes\n"
	good := "s2,1,fact,2026-05-02T14:25:00Z,heron,\"" + strings.Repeat(",", 2000) + "\"\n"
	for _, row := range []string{
		"s1,1,fact,2026-05-02T14:25:00Z,heron," + strings.Repeat(",", 4000) + "\n",
		"s1,1,fact,2026-05-02T14:25:00Z,heron,\"two\nlines\"" + strings.Repeat(",", 4000) + "\n",
	} {
		c, err := scan(slips.file, slips.schema, []byte(head+row+good), nil)
		must(t, err)
		if len(c.rows) != 1 || c.rows[0].id != "s2" || !c.damaged["s1"] {
			t.Errorf("%.60q: rows %v, damaged %v", row, c.rows, c.damaged)
		}
		p := c.problems[len(c.problems)-1]
		for _, q := range c.problems {
			if q.Line == 2 {
				p = q
			}
		}
		if p.Line != 2 || p.ID != "s1" || p.What != "4006 cells: no more than 500 are read" {
			t.Errorf("%.60q: %v", row, p)
		}
	}
}
