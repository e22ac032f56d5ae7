package logbook

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
)

func atTime(lb *Logbook, hhmm string) {
	at, err := time.Parse("2006-01-02 15:04", "2026-05-03 "+hhmm)
	if err != nil {
		panic(err)
	}
	lb.now = func() time.Time { return at }
}

// mergedFrom tells of a merge's conflicts in slips.csv.
func mergedFrom(t testing.TB, into, from *Logbook) []MergeConflict {
	t.Helper()
	all, err := into.Merge(from, nil)
	must(t, err)
	return all[len(all)-1].Conflicts
}

// Two copies amend one slip: on the phone twice, at home once and later. What stands is
// home's, in both, and all that is said agrees; so it is when home's is a void.
func TestTheLaterAmendmentStandsWhateverItsRevision(t *testing.T) {
	for _, void := range []bool{false, true} {
		home := start(t)
		s := slipAt(14, 0, 13.5)
		must(t, home.AddSlips(s))
		phone := onCopy(t, home)
		amend := func(lb *Logbook, at, note string) {
			atTime(lb, at)
			_, err := lb.AmendSlip(s.ID, func(s *Slip) error { s.Notes = note; return nil })
			must(t, err)
		}
		amend(phone, "10:00", "phone")
		amend(phone, "10:01", "phone again")
		amend(home, "12:00", "home")
		if void {
			_, err := home.AmendSlip(s.ID, func(s *Slip) error { s.Status = Void; return nil })
			must(t, err)
		}
		atTime(phone, "13:00")
		atTime(home, "13:00")
		before := onCopy(t, home)
		atTime(before, "13:00")
		if c := mergedFrom(t, home, phone); len(c) == 0 || c[0].Stands != "here" {
			t.Errorf("merging the phone's into home's: %+v", c)
		}
		if c := mergedFrom(t, phone, before); len(c) == 0 || c[0].Stands != "other" {
			t.Errorf("merging home's into the phone's: %+v", c)
		}
		for _, lb := range []*Logbook{home, phone} {
			got, err := lb.Slip(s.ID)
			must(t, err)
			if got.Notes != "home" || (got.Status == Void) != void {
				t.Errorf("what stands is %q, %s", got.Notes, got.Status)
			}
		}
		for _, f := range grave(t, home) {
			row, err := home.read(slips, nil)
			must(t, err)
			line := row.standing(row.of(s.ID)).line
			if f.Kind != Conflict || !strings.Contains(f.What, fmt.Sprintf("line %d stands", line)) {
				t.Errorf("check says %s, line %d stands", f, line)
			}
		}
		// Amending is the word after all of them.
		amended, err := home.AmendSlip(s.ID, func(s *Slip) error { s.Notes, s.Status = "settled", Fact; return nil })
		must(t, err)
		if amended.Rev != 4 {
			t.Errorf("the amendment is revision %d", amended.Rev)
		}
		noneGrave(t, home)
		mergedFrom(t, phone, home)
		if got, err := phone.Slip(s.ID); err != nil || got.Notes != "settled" {
			t.Errorf("the phone shows %q, %v", got.Notes, err)
		}
	}
}

// A phone set to 2099 does not win for 73 years: its stamp is shown and loses, and what
// is amended after it is stamped by the clock.
func TestAStampOfTheFutureLoses(t *testing.T) {
	home := start(t)
	s := slipAt(14, 0, 13.5)
	must(t, home.AddSlips(s))
	phone := onCopy(t, home)
	phone.now = func() time.Time { return time.Date(2099, 1, 1, 0, 0, 0, 0, time.UTC) }
	_, err := phone.AmendSlip(s.ID, func(s *Slip) error { s.Notes = "2099"; return nil })
	must(t, err)
	must(t, phone.AddSlips(marked("typed in 2099", 4)))
	atTime(home, "10:00")
	_, err = home.AmendSlip(s.ID, func(s *Slip) error { s.Notes = "home"; return nil })
	must(t, err)
	if c := mergedFrom(t, home, phone); len(c) != 1 || c[0].Stands != "here" {
		t.Errorf("conflicts: %+v", c)
	}
	got, err := home.Slip(s.ID)
	must(t, err)
	if got.Notes != "home" {
		t.Errorf("%q stands", got.Notes)
	}
	told := 0
	for _, f := range grave(t, home) {
		if f.Kind == Future && f.ID == s.ID {
			told++
		}
	}
	if told != 1 {
		t.Errorf("the stamp is told %d times: %v", told, grave(t, home))
	}
	if last, err := home.Slip("last"); err != nil || last.ID != s.ID {
		t.Errorf("last is %q, %v", last.Notes, err)
	}
	got, err = home.AmendSlip(s.ID, func(s *Slip) error { s.Notes = "settled"; return nil })
	must(t, err)
	if got.RecordedAt.Year() != 2026 {
		t.Errorf("stamped %v", got.RecordedAt)
	}
	if got, err := home.Slip(s.ID); err != nil || got.Notes != "settled" {
		t.Errorf("%q stands, %v", got.Notes, err)
	}
	noneGrave(t, home)
}

// An hour put back does not undo what is amended after it.
func TestAClockPutBack(t *testing.T) {
	lb := start(t)
	atTime(lb, "11:00")
	s := marked("first", 1)
	must(t, lb.AddSlips(s))
	atTime(lb, "10:05")
	_, err := lb.AmendSlip(s.ID, func(s *Slip) error { s.Notes = "corrected"; return nil })
	must(t, err)
	for _, at := range []string{"10:06", "11:30"} {
		atTime(lb, at)
		if got, err := lb.Slip(s.ID); err != nil || got.Notes != "corrected" {
			t.Errorf("at %s %q stands, %v", at, got.Notes, err)
		}
	}
}

// "last" is the entry first recorded last, in whatever order the lines are and however
// long after an earlier one was amended.
func TestLastIsTheOneFirstRecordedLast(t *testing.T) {
	lb := start(t)
	for n := range 6 {
		must(t, lb.AddSlips(marked(fmt.Sprint(n), n))) // while the clock stands still
	}
	must(t, lb.AddSlips(marked("6", 6), marked("7", 7)))
	first, err := lb.Slip("last-7")
	must(t, err)
	for range 3 {
		_, err = lb.AmendSlip(first.ID, func(s *Slip) error { s.Lane = "left"; return nil })
		must(t, err)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		editCells(t, lb, func(rows [][]string) [][]string {
			r.Shuffle(len(rows)-1, func(i, j int) { rows[1+i], rows[1+j] = rows[1+j], rows[1+i] })
			return rows
		})
		for back, want := range []string{"7", "6", "5", "4", "3", "2", "1", "0"} {
			ref := fmt.Sprintf("last-%d", back)
			if got, err := lb.Slip(ref); err != nil || got.Notes != want {
				t.Fatalf("%s is %q, want %q: %v", ref, got.Notes, want, err)
			}
		}
	}
}

// Three copies of a logbook go their own ways, with clocks of their own, and are merged
// to and fro: when all have been, they show the same facts, and every message on the way
// was true. The copies are read by clocks that agree.
func TestHistoriesOfThreeCopies(t *testing.T) {
	conflicts, messages := 0, 0
	for seed := range campaign(40, 1500) {
		h := &threeCopies{r: rand.New(rand.NewPCG(uint64(seed), 9)), t: t, name: fmt.Sprintf("seed %d", seed)}
		h.begin()
		for range 3 + h.r.IntN(12) {
			h.step()
		}
		for _, pair := range [][2]int{{0, 1}, {1, 2}, {2, 0}, {0, 1}, {1, 2}} {
			h.merge(pair[0], pair[1])
		}
		for _, lb := range h.copies {
			lb.now = h.right
		}
		sameFacts(t, h.name+": the first and the second", h.copies[0], h.copies[1])
		sameFacts(t, h.name+": the first and the third", h.copies[0], h.copies[2])
		h.checkIsTrue()
		conflicts, messages = conflicts+h.conflicts, messages+h.messages
		if t.Failed() {
			return
		}
	}
	if conflicts == 0 {
		t.Error("no seed made a conflict")
	}
	t.Logf("%d conflicts told by merges, %d lines of checks", conflicts, messages)
}

type threeCopies struct {
	t                   *testing.T
	name                string
	r                   *rand.Rand
	copies              [3]*Logbook
	clock               time.Time
	wrong               [3]time.Duration
	conflicts, messages int
}

func (h *threeCopies) right() time.Time { return h.clock }

func (h *threeCopies) begin() {
	first, m := logOf(h.t, 1+h.r.IntN(3))
	h.clock = heldOptions().Now().Add(time.Hour)
	h.copies[0] = first
	for i := 1; i < 3; i++ {
		h.copies[i] = onMemory(h.t, m.copy(), h.t.TempDir())
		for path, n := range m.names {
			h.copies[i].fs.(*memory).put(h.copies[i].path(path[len(first.dir)+1:]), n.data)
		}
	}
	for i := range h.copies {
		h.wrong[i] = []time.Duration{
			0, 0, time.Second, -time.Hour, 3 * time.Hour, 30 * 365 * 24 * time.Hour,
			-24 * 30 * time.Hour,
		}[h.r.IntN(7)]
		h.copies[i].newID = NewID
	}
}

// step does one thing on one copy, by its own clock.
func (h *threeCopies) step() {
	h.clock = h.clock.Add([]time.Duration{0, time.Microsecond, time.Second, time.Minute, 2 * time.Hour}[h.r.IntN(5)])
	i := h.r.IntN(3)
	lb := h.copies[i]
	lb.now = func() time.Time { return h.clock.Add(h.wrong[i]) }
	c, err := lb.read(slips, nil)
	must(h.t, err)
	id := c.rows[h.r.IntN(len(c.rows))].id
	note := fmt.Sprintf("copy %d at %v", i, h.clock)
	switch h.r.IntN(6) {
	case 0:
		must(h.t, lb.AddSlips(marked(note, h.r.IntN(4000))))
	case 1:
		_, err = lb.AmendSlip(id, func(s *Slip) error {
			s.Status = []Status{Fact, Void}[h.r.IntN(2)]
			return nil
		})
	case 2, 3, 4:
		_, err = lb.AmendSlip(id, func(s *Slip) error { s.Notes = note; return nil })
		if got, gerr := lb.Slip(id); gerr != nil || err == nil && got.Notes != note {
			h.t.Errorf("%s: amended to %q, and shows %q: %v", h.name, note, got.Notes, gerr)
		}
	case 5:
		h.merge(i, (i+1+h.r.IntN(2))%3)
	}
	must(h.t, err)
}

// merge merges one copy into another and holds what is said against what is shown.
func (h *threeCopies) merge(into, from int) {
	a, b := h.copies[into], h.copies[from]
	a.now, b.now = h.right, h.right
	before, other := everything(h.t, a), everything(h.t, b)
	for _, c := range mergedFrom(h.t, a, b) {
		h.conflicts++
		stands, err := a.Slip(c.ID)
		must(h.t, err)
		content := fmt.Sprintf("%+v", stands)
		here, there := slices.Contains(before, content), slices.Contains(other, content)
		if c.Stands == "here" && !here || c.Stands == "other" && (here || !there) {
			h.t.Errorf("%s: %+v, and what stands is here %v, there %v: %s", h.name, c, here, there, content)
		}
	}
	// What was shown before and is not any more has given way to something recorded later.
	for _, f := range grave(h.t, a) {
		if f.Kind != Conflict && f.Kind != Future {
			h.t.Errorf("%s: %s", h.name, f)
		}
	}
}

// everything is all revisions of all slips, as they read.
func everything(t *testing.T, lb *Logbook) (list []string) {
	t.Helper()
	c, err := lb.read(slips, nil)
	must(t, err)
	records, _, _ := decode[Slip](c, c.rows)
	for _, s := range records {
		list = append(list, fmt.Sprintf("%+v", s))
	}
	return list
}

// checkIsTrue holds the lines that a check says to stand against those that are shown.
func (h *threeCopies) checkIsTrue() {
	lb := h.copies[0]
	c, err := lb.read(slips, nil)
	must(h.t, err)
	all, err := lb.Check()
	must(h.t, err)
	for _, f := range all {
		_, rest, says := strings.Cut(f.What, "line ")
		var line int
		if says && f.Kind == Future {
			fmt.Sscanf(rest, "%d stands", &line)
		} else if i := strings.LastIndex(f.What, ": line "); i >= 0 && f.Kind == Conflict {
			fmt.Sscanf(f.What[i:], ": line %d stands", &line)
		}
		if line == 0 {
			continue
		}
		h.messages++
		shown, err := lb.Slip(f.ID)
		must(h.t, err)
		for _, r := range c.of(f.ID) {
			if rec, _, _ := decode[Slip](c, []rowRef{r}); r.line == line &&
				fmt.Sprintf("%+v", rec[0]) != fmt.Sprintf("%+v", shown) {
				h.t.Errorf("%s: check says %s, shown is revision %d", h.name, f, shown.Rev)
			}
		}
	}
}

// The one order: by when recorded, by revision, by content, with a future stamp before
// all and none at all right after the lower revisions.
func TestWhatStands(t *testing.T) {
	const head = "id,rev,status,recorded_at,vehicle,time,et_1320_s,notes\n"
	row := func(rev int, at, note string) string {
		return fmt.Sprintf("s1,%d,fact,%s,heron,2026-05-02T14:25:00Z,13.5,%s\n", rev, at, note)
	}
	for _, tc := range []struct {
		rows []string
		want string
	}{
		{[]string{row(1, "2026-05-02T10:00:00Z", "a"), row(2, "2026-05-02T11:00:00Z", "b")}, "b"},
		{[]string{row(2, "2026-05-02T11:00:00Z", "b"), row(1, "2026-05-02T12:00:00Z", "a")}, "a"},
		{[]string{row(2, "2026-05-02T11:00:00.000002Z", "b"), row(2, "2026-05-02T11:00:00.000001Z", "a")}, "b"},
		{[]string{row(2, "2026-05-02T13:00:00+02:00", "b"), row(2, "2026-05-02T11:30:00Z", "a")}, "a"},
		{[]string{row(1, "2026-05-02T10:00:00Z", "a"), row(2, "2099-05-02T11:00:00Z", "b")}, "a"},
		{[]string{row(1, "2099-05-02T10:00:00Z", "a"), row(2, "2099-05-02T11:00:00Z", "b")}, "b"},
		{[]string{row(1, "2026-05-02T10:00:00Z", "a"), row(2, "", "by hand")}, "by hand"},
		{[]string{row(1, "", "by hand"), row(2, "2026-05-02T10:00:00Z", "b")}, "b"},
		{[]string{row(2, "", "by hand"), row(1, "2026-05-02T10:00:00Z", "a"), row(3, "2026-05-02T10:00:01Z", "c")}, "c"},
		{[]string{row(1, "2026-05-02T10:00:00Z", ""), row(1, "2026-05-02T10:00:00Z", "fuller")}, "fuller"},
		{[]string{row(1, "2026-05-02T10:00:00Z", "greater"), row(1, "2026-05-02T10:00:00Z", "aless")}, "greater"},
	} {
		for _, turned := range []bool{false, true} {
			rows := slices.Clone(tc.rows)
			if turned {
				slices.Reverse(rows)
			}
			lb := start(t)
			must(t, os.WriteFile(lb.path(slips.file), []byte(head+strings.Join(rows, "")), 0o600))
			got, err := lb.Slips("")
			must(t, err)
			if len(got) != 1 || got[0].Notes != tc.want {
				t.Errorf("%q: read %v, want %q", rows, got, tc.want)
			}
			if one, err := lb.Slip("s1"); err != nil || one.Notes != tc.want {
				t.Errorf("%q: shown %q, want %q", rows, one.Notes, tc.want)
			}
		}
	}
}
