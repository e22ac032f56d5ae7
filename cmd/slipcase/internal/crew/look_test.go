package crew

import (
	"errors"
	"testing"
	"time"

	"slipcase/weather/units"
)

// lookedAt is a session at four in the afternoon with three runs of 13.2 behind it.
func lookedAt(t *testing.T) *Session {
	t.Helper()
	s, _ := begun(t)
	s.Now = func() time.Time { return time.Date(2026, 5, 2, 16, 0, 0, 0, time.UTC) }
	for i := range 3 {
		add(t, s, whole(10+i, usualET(i)))
	}
	return s
}

func usualET(i int) float64 { return 13.2 + float64(i)/100 }

// whole is a quarter-mile slip with its usual figures up to 1000 ft.
func whole(hour int, et float64) *Slip {
	s := slipAt(hour, et)
	off := et - 13.2
	for at, v := range map[*units.Number]float64{
		&s.ET60S: 1.912 + off/7, &s.ET330S: 5.437 + off/3, &s.ET660S: 8.412 + off/2, &s.MPH660: 83.77,
		&s.ET1000S: 10.98 + off, &s.MPH1320: 105.84,
	} {
		*at = units.Some(v)
	}
	return s
}

// TestLook makes one thing wrong with a slip at a time; what is said to have been meant
// first, applied, leaves nothing to ask.
func TestLook(t *testing.T) {
	s := lookedAt(t)
	for _, c := range []struct {
		kind  DoubtKind
		wrong func(*Slip)
		meant MeantKind // of the likeliest reading, "" without
	}{
		{"", func(*Slip) {}, ""},
		{InFuture, func(s *Slip) { s.Time.Time = s.Time.Add(24 * time.Hour) }, ""},
		{Misread, func(s *Slip) { s.ET1320S = units.Some(14.21) }, MeantFigure},
		{Misread, func(s *Slip) { s.ET60S, s.ET330S = s.ET330S, s.ET60S }, ""},
		{ReactionOdd, func(s *Slip) { s.Round, s.ReactionS = "E1", units.Some(4.2) }, MeantReaction},
		{ReactionOdd, func(s *Slip) { s.Round, s.OpponentReactionS = "E1", units.Some(4.2) }, MeantReaction},
		{DialOff, func(s *Slip) { s.DialS = units.Some(3.2) }, MeantDial},
		{UnderDial, func(s *Slip) { s.OpponentETS, s.OpponentDialS = units.Some(12.21), units.Some(13.2) }, MeantET},
		{TwiceMade, func(s *Slip) { s.Time.Time = s.Time.Add(-2*time.Hour + 30*time.Second) }, ""},
		{TwiceFigures, func(s *Slip) { *s = *whole(14, usualET(2)) }, ""},
		{ResultAgainst, func(s *Slip) {
			s.Result, s.ReactionS, s.OpponentReactionS = "won", units.Some(-0.012), units.Some(0.05)
		}, ""},
	} {
		slip := whole(14, 13.215)
		c.wrong(slip)
		ds, err := s.Look(slip)
		if err != nil {
			var cannot *Impossible
			if !errors.As(err, &cannot) || c.kind != Misread {
				t.Errorf("%s: %v", c.kind, err)
			}
		}
		switch {
		case c.kind == "" && len(ds) == 0:
			continue
		case len(ds) == 0 || ds[0].Kind != c.kind:
			t.Errorf("%s: asked %+v", c.kind, ds)
			continue
		case c.meant == "":
			continue
		case len(ds[0].Readings) == 0 || ds[0].Readings[0].Kind != c.meant:
			t.Errorf("%s: meant %+v, want %s", c.kind, ds[0].Readings, c.meant)
			continue
		}
		ds[0].Readings[0].Apply(slip)
		if ds, err = s.Look(slip); err != nil || len(ds) > 0 {
			t.Errorf("%s: after its reading %+v, %v", c.kind, ds, err)
		}
	}
}

// Without a weight and power that a forecast can be made of nothing speaks against a
// figure but the slip itself.
func TestLookAlone(t *testing.T) {
	now := time.Date(2026, 5, 2, 16, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		kind DoubtKind
		s    func(*Slip)
	}{
		{FarOff, func(s *Slip) { s.ET1320S = units.Some(50) }},
		{FarOff, func(s *Slip) { s.MPH1320 = units.Some(372.8) }},
		{TimesLong, func(s *Slip) { s.MPH1320 = units.Some(205.84) }},
		{SpeedLow, func(s *Slip) { s.MPH1320 = units.Some(85.84) }},
	} {
		s := whole(14, 13.2)
		c.s(s)
		found := false
		for _, ds := range [][]Doubt{pastBelief(*s, now), timesTooLong(*s), speedsLow(*s)} {
			for _, d := range ds {
				found = found || d.Kind == c.kind
			}
		}
		if !found {
			t.Errorf("%s: not asked", c.kind)
		}
		if s.FullPower = "lifted"; c.kind == SpeedLow && len(speedsLow(*s)) > 0 {
			t.Error("a low speed is asked about on a run that was lifted")
		}
	}
}

// TestOnlyWhatCanBeIsOffered: whatever is typed in a figure's place, on the first slip of a
// car as on a later one, what is said to have been meant leaves a slip that looks right.
func TestOnlyWhatCanBeIsOffered(t *testing.T) {
	first, _ := begun(t)
	first.Now = func() time.Time { return time.Date(2026, 5, 2, 16, 0, 0, 0, time.UTC) }
	every, least := 1, 10
	if testing.Short() {
		every, least = 3, 1
	}
	for name, s := range map[string]*Session{"first": first, "fourth": lookedAt(t)} {
		offered := 0
		for cell := 1; cell < 9; cell += every {
			for _, wrong := range []func(v float64) float64{
				func(v float64) float64 { return v * 10 }, func(v float64) float64 { return v / 10 },
				func(v float64) float64 { return v + 30 },
			} {
				slip := whole(14, 13.215)
				cells, _ := TimeCells(slip)
				if !cells[cell].Known() {
					continue
				}
				*cells[cell] = units.Some(wrong(cells[cell].Value()))
				m, err := s.among(*slip)
				if err != nil {
					t.Fatal(err)
				}
				for _, d := range m.weigh(s.Now()) {
					for _, r := range d.Readings {
						offered++
						meant := *slip
						if r.Apply(&meant); meant.Check() != nil || len(m.as(meant).weigh(s.Now())) > 0 {
							t.Errorf("%s: cell %d as %v: offered %+v", name, cell, *cells[cell], r)
						}
					}
				}
			}
		}
		if offered < least {
			t.Errorf("%s: only %d readings were offered", name, offered)
		}
	}
}
