package crew

import (
	"errors"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// begun is a logbook with a vehicle, opened twice as two programs would.
func begun(t *testing.T) (own, other *Session) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "log")
	lb, err := logbook.Init(dir, logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := lb.AddVehicle(&logbook.Vehicle{
		Entry: logbook.Entry{ID: "heron"}, Kind: "car", Aspiration: "natural",
	}); err != nil {
		t.Fatal(err)
	}
	var ss [2]*Session
	for i := range ss {
		if lb, err = logbook.Open(dir, logbook.Options{}); err != nil {
			t.Fatal(err)
		}
		ss[i] = NewSession(lb, time.Now)
	}
	return ss[0], ss[1]
}

// slipAt is a slip of an hour of the day.
func slipAt(hour int, et float64) *Slip {
	return &Slip{
		Vehicle: "heron",
		ET1320S: units.Some(et),
		Time:    Time{Time: time.Date(2026, 5, 2, hour, 0, 0, 0, time.UTC)},
	}
}

func add(t *testing.T, s *Session, recs ...*Slip) {
	t.Helper()
	if err := s.AddSlips(recs...); err != nil {
		t.Fatal(err)
	}
}

// wantHours holds the runs that a session has, by their hours.
func wantHours(t *testing.T, s *Session, want ...int) {
	t.Helper()
	runs, err := s.Runs("heron")
	if err != nil {
		t.Fatal(err)
	}
	var got []int
	for _, r := range runs {
		got = append(got, r.Slip.Time.UTC().Hour())
	}
	if !slices.Equal(got, want) {
		t.Errorf("runs of %v o'clock, want %v", got, want)
	}
	c := s.cars["heron"]
	for i, p := range c.passes {
		if p.ID != c.runs[i].Slip.ID {
			t.Errorf("pass %d is of slip %s, the run of %s", i, p.ID, c.runs[i].Slip.ID)
		}
	}
}

// What a session records itself it knows at once, by its time, without reading again.
func TestOwnSlips(t *testing.T) {
	s, _ := begun(t)
	add(t, s, slipAt(12, 13.2))
	wantHours(t, s, 12)
	held := s.cars["heron"]
	add(t, s, slipAt(14, 13.3), slipAt(10, 13.4))
	wantHours(t, s, 10, 12, 14)
	s.Refresh()
	wantHours(t, s, 10, 12, 14)
	if s.cars["heron"] != held {
		t.Error("its own slips were read again")
	}
}

// What another program records is seen on Refresh, and at the latest when the session
// records itself: its own append must not hide it.
func TestOthersSlips(t *testing.T) {
	s, other := begun(t)
	add(t, s, slipAt(12, 13.2))
	wantHours(t, s, 12)
	add(t, other, slipAt(13, 13.25))
	wantHours(t, s, 12)
	add(t, s, slipAt(14, 13.3))
	wantHours(t, s, 12, 13, 14)
	add(t, other, slipAt(15, 13.25))
	s.Refresh()
	wantHours(t, s, 12, 13, 14, 15)
	runs, err := s.Runs("heron")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := other.AmendSlip(runs[0].Slip.ID, func(s *Slip) error { s.Status = Void; return nil }); err != nil {
		t.Fatal(err)
	}
	s.Refresh()
	wantHours(t, s, 13, 14, 15)
}

// A run looked at before it is recorded and judged after it is forecast once.
func TestExpectedOnce(t *testing.T) {
	s, _ := begun(t)
	for i := range 3 {
		add(t, s, slipAt(10+i, 13.2+float64(i)/100))
	}
	next := slipAt(14, 13.21)
	m, err := s.among(*next)
	if err != nil {
		t.Fatal(err)
	}
	before, err := m.expect()
	if err != nil {
		t.Fatal(err)
	}
	add(t, s, next)
	for _, c := range []struct {
		add  *Slip
		same bool
	}{{nil, true}, {slipAt(15, 13.2), true}, {slipAt(9, 13.2), false}} {
		if c.add != nil {
			add(t, s, c.add)
		}
		if m, err = s.among(*next); err != nil {
			t.Fatal(err)
		}
		after, err := m.expect()
		if err != nil {
			t.Fatal(err)
		}
		if (after == before) != c.same {
			t.Errorf("after %v: the same forecast %v, want %v", c.add, after == before, c.same)
		}
	}
}

// One slip typed in two windows at once: both were looked at before either was recorded. The
// second is refused, and looked at again it is a second copy; another run is not.
func TestOneSlipInTwoWindows(t *testing.T) {
	for _, test := range []struct {
		name  string
		slip  *Slip
		doubt DoubtKind // of the slip in the second window, once it is looked at again
	}{
		{"the same moment", slipAt(12, 13.2), TwiceMade},
		{"another run", slipAt(14, 13.4), ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			own, other := begun(t)
			first := slipAt(12, 13.2)
			for s, slip := range map[*Session]*Slip{own: first, other: test.slip} {
				if ds, err := s.Look(slip); len(ds) > 0 || err != nil {
					t.Fatal(ds, err)
				}
			}
			add(t, own, first)
			err := other.AddSlips(test.slip)
			if refused := errors.Is(err, logbook.ErrRecordedMeanwhile); refused != (test.doubt != "") {
				t.Errorf("recorded meanwhile: %v", err)
			}
			if test.doubt == "" {
				wantHours(t, own, 12)
				own.Refresh()
				wantHours(t, own, 12, 14)
				return
			}
			other.Refresh()
			ds, err := other.Look(test.slip)
			if err != nil || len(ds) != 1 || ds[0].Kind != test.doubt || ds[0].TwinID != first.ID {
				t.Fatalf("looked at again: %+v, %v", ds, err)
			}
			add(t, other, test.slip) // kept as typed
			wantHours(t, other, 12, 12)
		})
	}
}
