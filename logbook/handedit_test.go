package logbook

import (
	"bytes"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

// handEdit is what a racer does to slips.csv in another program.
type handEdit struct {
	name string
	mlr  []string                  // with Miller, a general CSV tool (Debian package miller)
	hand func(csv []byte) []byte   // or as spreadsheets are known to save
	want func(slips []Slip) []Slip // what the slips are then; nil is no change
	then map[Kind]int              // what a check finds besides missing setups and air
	ends []string                  // what an append must end its row and number in
}

var handEdits = []handEdit{
	{
		name: "a row deleted", mlr: []string{"--csv", "filter", "NR != 2"},
		want: func(s []Slip) []Slip { return slices.Delete(slices.Clone(s), 1, 2) },
		then: map[Kind]int{Lost: 1},
	},
	{name: "a column moved to the end", mlr: []string{"--csv", "reorder", "-e", "-f", "id,vehicle"}},
	{name: "a column added", mlr: []string{"--csv", "put", `$mood = "fine, \"really\""`}},
	{
		name: "a note with a newline and quotes", mlr: []string{"--csv", "put", `NR == 1 {$notes = "he said \"go\"` + "\n" + `and went"}`},
		want: func(s []Slip) []Slip {
			s = slices.Clone(s)
			s[0].Notes = "he said \"go\"\nand went"
			return s
		},
		then: map[Kind]int{Changed: 1},
	},
	{name: "sorted the other way", mlr: []string{"--csv", "sort", "-r", "time"}},
	{name: "everything quoted", mlr: []string{"--csv", "--quote-all", "cat"}},
	{
		name: "numbers with three decimals",
		mlr:  []string{"--csv", "put", `for (k, v in $*) {if (k =~ "_s$" && is_not_empty(v)) {$[k] = fmtnum(v, "%.3f")}}`},
	},
	{
		name: "unused columns cut out",
		mlr:  []string{"--csv", "cut", "-x", "-f", "delay_s,tyre_psi,water_temp_f"},
		then: map[Kind]int{NoColumn: 3},
	},
	{name: "tabs", mlr: []string{"--csv", "--ofs", "tab", "cat"}},
	{
		name: "semicolons and decimal commas", mlr: []string{"--csv", "--ofs", "semicolon", "put", `for (k, v in $*) {if (k =~ "^(et|mph|reaction|dial)_") {$[k] = sub(string(v), "\.", ",")}}`},
		ends: []string{";13,111;", "\n"},
	},
	{
		name: "semicolons and decimal points", mlr: []string{"--csv", "--ofs", "semicolon", "cat"},
		ends: []string{";13.111;", "\n"},
	},
	{
		name: "a row put in", mlr: []string{"--csv", "put", "-q", `emit1 mapsum($*, {}); if (NR == 1) {emit1 mapsum($*, {"id": "mine", "notes": "by hand", "time": "2026-05-03T10:00:00Z"})}`},
		want: func(s []Slip) []Slip {
			mine := s[0]
			mine.ID, mine.Notes = "mine", "by hand"
			must(panics{}, mine.Time.UnmarshalCSV("2026-05-03T10:00:00Z"))
			return append(slices.Clone(s), mine)
		},
		then: map[Kind]int{Unkept: 1},
	},
	{
		name: "BOM and CRLF", hand: func(b []byte) []byte {
			return append([]byte("\xef\xbb\xbf"), bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n"))...)
		},
		ends: []string{",13.111,", "\r\n"},
	},
	{name: "trailing empty columns", hand: eachLine(func(l string) string { return l + ",,," })},
	{name: "trailing empty columns in the rows alone", hand: eachLine(func(l string) string {
		if strings.HasPrefix(l, "id,") {
			return l
		}
		return l + ",,"
	})},
	{name: "trailing empty columns in the header alone", hand: eachLine(func(l string) string {
		if strings.HasPrefix(l, "id,") {
			return l + ",,"
		}
		return l
	})},
	{
		name: "blank lines and rows of commas",
		hand: eachLine(func(l string) string { return l + "\n\n" + strings.Repeat(",", strings.Count(l, ",")) }),
		then: map[Kind]int{Blank: 1},
	},
	{name: "the last row cut within its line end", hand: func(b []byte) []byte {
		return bytes.TrimSuffix(bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n")), []byte("\n"))
	}},
	{name: "no line end behind the last row", hand: func(b []byte) []byte { return bytes.TrimRight(b, "\n") }},
}

func eachLine(f func(string) string) func([]byte) []byte {
	return func(b []byte) []byte {
		var out []string
		for _, l := range strings.Split(strings.TrimRight(string(b), "\n"), "\n") {
			out = append(out, f(l))
		}
		return []byte(strings.Join(out, "\n") + "\n")
	}
}

// panics is a tester where there is none.
type panics struct{}

func (panics) Helper()        {}
func (panics) Fatal(a ...any) { panic(a) }

// What another program makes of the file is read right, appended to in its own
// manner, and not taken for damage.
func TestHandEdits(t *testing.T) {
	mlr, noTool := exec.LookPath("mlr")
	for _, e := range aThird(handEdits) {
		t.Run(e.name, func(t *testing.T) {
			if e.mlr != nil && noTool != nil {
				t.Skip("Miller is not installed")
			}
			lb := start(t)
			lb.newID = NewID
			for i, note := range []string{"plain", "", `a "quoted", word; ü`} {
				s := slipAt(14, i, 13.25+float64(i)/100)
				s.Notes, s.ReactionS, s.DialS = note, units.Some(.04), units.Some(13)
				must(t, lb.AddSlips(s))
			}
			before, err := lb.Slips("")
			must(t, err)
			data, err := os.ReadFile(lb.path(slips.file))
			must(t, err)
			var edited []byte
			if e.mlr != nil {
				c := exec.Command(mlr, append(e.mlr, lb.path(slips.file))...)
				c.Stderr = os.Stderr
				edited, err = c.Output()
				must(t, err)
			} else {
				edited = e.hand(data)
			}
			must(t, os.WriteFile(lb.path(slips.file), edited, 0o600))
			want := before
			if e.want != nil {
				want = e.want(before)
			}
			e.check(t, lb, edited, want)
		})
	}
}

func (e handEdit) check(t *testing.T, lb *Logbook, edited []byte, want []Slip) {
	t.Helper()
	read := func() []Slip {
		got, err := lb.Slips("")
		must(t, err)
		if len(lb.Problems()) > 0 {
			t.Errorf("problems: %v\n%s", lb.Problems(), edited)
		}
		return got
	}
	if diff := cmp.Diff(want, read()); diff != "" {
		t.Fatalf("slips differ (-want +read):\n%s", diff)
	}
	found, err := lb.Check()
	must(t, err)
	kinds := map[Kind]int{}
	for _, f := range found {
		if f.Kind != NoSetup && f.Kind != NoAir {
			kinds[f.Kind]++
		}
	}
	if !cmp.Equal(kinds, e.then) && len(kinds)+len(e.then) > 0 {
		t.Errorf("the check finds %v, want %v: %v", kinds, e.then, found)
	}
	s := slipAt(16, 0, 13.111)
	s.Notes = `a "new" one, with;both` + "\nand a line"
	must(t, lb.AddSlips(s))
	amended, err := lb.AmendSlip(want[0].ID, func(s *Slip) error { s.Lane = "left"; return nil })
	must(t, err)
	after, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	if !bytes.HasPrefix(after, edited) {
		t.Error("the racer's bytes changed")
	}
	appended := string(after[len(edited):])
	for _, part := range e.ends {
		if !strings.Contains(appended, part) {
			t.Errorf("appended %q, want %q in it", appended, part)
		}
	}
	if strings.Contains(string(edited), "mood") && !strings.Contains(appended, "really") {
		t.Errorf("the racer's own cell was not carried over: %q", appended)
	}
	want = slices.Clone(want)
	want[0].Lane, want[0].Rev, want[0].RecordedAt = "left", 2, amended.RecordedAt
	want = append(want, *s)
	slices.SortStableFunc(want, func(a, b Slip) int { return a.Time.Compare(b.Time.Time) })
	if diff := cmp.Diff(want, read()); diff != "" {
		t.Errorf("after appending (-want +read):\n%s", diff)
	}
}
