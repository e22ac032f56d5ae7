package logbook

import (
	"errors"
	"testing"
)

// Two windows that bring the same file at once each find nothing of it in the log: the
// second to get the lock brings nothing, and says so.
func TestTwoImportsOfOneFile(t *testing.T) {
	lb := start(t)
	from := func(minute int, source string) *Slip {
		s := slipAt(14, minute, 13.2)
		s.Source = source
		return s
	}
	must(t, lb.AddAll(Batch{Slips: []*Slip{from(0, "import iaaaaaaaaa r1"), from(5, "import iaaaaaaaaa r2")}}))
	err := lb.AddAll(Batch{Slips: []*Slip{from(10, "import ibbbbbbbbb r3"), from(5, "import ibbbbbbbbb r2")}})
	if !errors.Is(err, ErrRecordedMeanwhile) {
		t.Errorf("the second import: %v", err)
	}
	must(t, lb.AddAll(Batch{Slips: []*Slip{from(10, "import ibbbbbbbbb r3")}}))
	got, err := lb.Slips("")
	must(t, err)
	if len(got) != 3 {
		t.Errorf("%d slips, want the three rows once each", len(got))
	}
	for source, want := range map[string]string{
		"import iaaaaaaaaa r1": "import r1", "printed": "printed", "from Ann": "from Ann", "": "",
	} {
		if row := SourceRow(source); row != want {
			t.Errorf("the row of %q is %q", source, row)
		}
	}
}
