package predict_test

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"slipcase/predict"
	"slipcase/predict/season"
	"slipcase/weather"
	"slipcase/weather/units"
)

// steady is the season of a car of which every run was clean.
func steady(seed uint64) (predict.Mark, []predict.Pass) {
	s := season.New(seed)
	var clean []predict.Pass
	for _, r := range s.Runs {
		if r.Clean && r.Setup == 0 {
			clean = append(clean, r.Pass)
		}
	}
	return s.Finish, clean
}

func expect(t *testing.T, history []predict.Pass, next predict.Pass) predict.Forecast {
	t.Helper()
	f, err := predict.Expect(history, next)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func width80(b predict.Band) float64 { return b.High80 - b.Low80 }

func TestForecastNarrowsWithRuns(t *testing.T) {
	t.Parallel()
	m, runs := steady(20)
	last := math.Inf(1)
	for _, n := range []int{0, 1, 4} {
		w := width80(expect(t, runs[:n], runs[n]).ETs[m])
		if w >= last {
			t.Errorf("after %d runs the 80 %% interval is %.3f wide, no narrower than %.3f", n, w, last)
		}
		last = w
	}
}

func TestNewDayIsWiderThanTheFifthRunOfThisOne(t *testing.T) {
	t.Parallel()
	m, runs := steady(20)
	next := runs[len(runs)-1]
	history := runs[:len(runs)-1]
	today := expect(t, history, next)
	next.Day = "another"
	if a, b := width80(today.ETs[m]), width80(expect(t, history, next).ETs[m]); b <= a {
		t.Errorf("a new day %.4f wide, this one %.4f", b, a)
	}
}

func noted(notes []predict.Note, kind predict.NoteKind) bool {
	return slices.ContainsFunc(notes, func(n predict.Note) bool { return n.Kind == kind })
}

func TestChangeOfSetupWidensByItsSize(t *testing.T) {
	t.Parallel()
	m, runs := steady(20)
	next := runs[len(runs)-1]
	next.Day = "another"
	hp := next.Machine.PowerHP.Value()
	last := expect(t, runs, next)
	for _, gain := range []float64{1.02, 1.15, 1.40} {
		next.Machine.Setup = fmt.Sprint("x", gain)
		next.Machine.PowerHP = units.Some(hp * gain)
		f := expect(t, runs, next)
		if f.ETs[m].Centre >= last.ETs[m].Centre || width80(f.ETs[m]) <= width80(last.ETs[m]) {
			t.Errorf("power x %g: %.3f, %.3f wide; before %.3f, %.3f wide", gain,
				f.ETs[m].Centre, width80(f.ETs[m]), last.ETs[m].Centre, width80(last.ETs[m]))
		}
		if !noted(f.Notes, predict.NewSetup) {
			t.Errorf("%+v do not speak of the new setup", f.Notes)
		}
		last = f
	}
}

// The run model carries an upgrade whose power is known exactly: its predicted
// change in time against the true one of vehicles that it does not know.
func TestUpgradeIsCarried(t *testing.T) {
	leftToFullRun(t)
	n, miss, bias, change := 0., 0., 0., 0.
	for seed := uint64(6001); n < 12; seed++ {
		s := season.New(seed)
		if !s.Sheet {
			continue
		}
		var before []predict.Pass
		i := 0
		for ; s.Runs[i].Setup == 0; i++ {
			before = append(before, s.Runs[i].Pass)
		}
		was, is := s.Runs[i].Pass, s.Runs[i].Pass
		was.Machine = s.Runs[0].Pass.Machine
		is.Machine.PowerHP = units.Some(is.Machine.PowerHP.Value() * math.Exp(s.SheetError[0]-s.SheetError[1]))
		got := math.Log(expect(t, before, is).ETs[s.Finish].Centre / expect(t, before, was).ETs[s.Finish].Centre)
		want := s.TrueChange[s.Finish]
		n++
		miss += math.Abs(got - want)
		bias += got - want
		change += math.Abs(want)
	}
	t.Logf(
		"changes of %.1f %% of the time missed by %.2f %%, on average by %+.2f %%",
		100*change/n,
		100*miss/n,
		100*bias/n,
	)
	if miss > 0.25*change || math.Abs(bias) > 0.15*change {
		t.Errorf(
			"changes of %.1f %% of the time missed by %.2f %%, on average by %+.2f %%",
			100*change/n,
			100*miss/n,
			100*bias/n,
		)
	}
}

func TestDoubtAboutTheAirWidens(t *testing.T) {
	t.Parallel()
	m, runs := steady(20)
	next, history := runs[len(runs)-1], runs[:len(runs)-1]
	last := 0.
	for _, doubt := range []float64{0, 300, 900} {
		next.AirDoubtFt = doubt
		w := width80(expect(t, history, next).ETs[m])
		if w <= last {
			t.Errorf("doubt of %g ft: %.4f wide, no wider than %.4f", doubt, w, last)
		}
		last = w
	}
	next.AirKnown = false
	f := expect(t, history, next)
	if w := width80(f.ETs[m]); w <= last {
		t.Errorf("air not known: %.4f wide, with a doubt of 900 ft %.4f", w, last)
	}
	if !noted(f.Notes, predict.AirAssumed) {
		t.Errorf("%+v do not speak of the air", f.Notes)
	}
}

func TestThinAirIsSlower(t *testing.T) {
	t.Parallel()
	m, runs := steady(20)
	next := runs[len(runs)-1]
	here := expect(t, runs, next).ETs[m].Centre
	next.Air.StationInHg -= 1
	if thin := expect(t, runs, next).ETs[m].Centre; thin <= here {
		t.Errorf("an inch of mercury less: %.3f, not slower than %.3f", thin, here)
	}
}

// A run lifted at 900 ft and one spoiled at the start must not move the forecast
// by more than a sound run can, and must be named.
func TestSpoiledRunsAreNamedAndLeftOut(t *testing.T) {
	t.Parallel()
	m, runs := steady(20)
	next, history := runs[len(runs)-1], runs[:len(runs)-1]
	want := expect(t, history, next).ETs[m].Centre
	spoil := func(flag predict.Effort, full units.Number) []predict.Pass {
		h := slices.Clone(history)
		for _, i := range []int{len(h) - 2, len(h) / 2} {
			for k := range h[i].Splits.ETs {
				mark := predict.Mark(k)
				if et := h[i].Splits.ETs[k]; et.Known() && mark.Ft() >= 1000 {
					h[i].Splits.ETs[k] = units.Some(et.Value() * 1.03)
				}
				if mph := h[i].Splits.MPHs[k]; mph.Known() && mark.Ft() >= 1000 {
					h[i].Splits.MPHs[k] = units.Some(mph.Value() * 0.9)
				}
			}
			h[i].ID, h[i].Effort, h[i].FullFt = "bad", flag, full
		}
		return h
	}
	to660, to900 := units.Some(660), units.Some(900)
	for name, c := range map[string]struct {
		history []predict.Pass
		want    predict.LeftOut
	}{
		"not noted":         {spoil("", units.Number{}), predict.LeftOut{Why: predict.OutOfLine, CountsFt: to660}},
		"lifted":            {spoil(predict.Lifted, units.Number{}), predict.LeftOut{Why: predict.Noted, Effort: predict.Lifted, CountsFt: to660}},
		"lifted at 900 ft":  {spoil(predict.Lifted, to900), predict.LeftOut{Why: predict.Noted, Effort: predict.Lifted, FullFt: to900, CountsFt: to660}},
		"spun":              {spoil(predict.Spun, units.Number{}), predict.LeftOut{Why: predict.Noted, Effort: predict.Spun}},
		"noted full to 900": {spoil("", to900), predict.LeftOut{Why: predict.Noted, FullFt: to900, CountsFt: to660}},
	} {
		c.want.ID = "bad"
		f := expect(t, c.history, next)
		if d := f.ETs[m].Centre - want; math.Abs(d) > 0.02 {
			t.Errorf("%s: the forecast moved by %+.3f s", name, d)
		}
		named := 0
		for _, l := range f.LeftOut {
			if l == c.want {
				named++
			}
		}
		if named != 2 {
			t.Errorf("%s: left out %v, want both bad runs as %+v", name, f.LeftOut, c.want)
		}
	}
}

func TestForecastDoesNotLookAhead(t *testing.T) {
	t.Parallel()
	_, runs := steady(20)
	next, history := runs[10], runs[:10]
	want := expect(t, history, next)
	shuffled := slices.Clone(runs) // later runs, and the run itself, in any order
	slices.Reverse(shuffled)
	blind := next
	blind.Splits = predict.Splits{}
	got := expect(t, shuffled, blind)
	if d := cmp.Diff(want, got, cmpopts.IgnoreUnexported(predict.Forecast{}), cmpopts.EquateApprox(0, 1e-9)); d != "" {
		t.Error(d)
	}
}

func TestForecastOfLittle(t *testing.T) {
	at := time.Date(2026, 5, 2, 14, 0, 0, 0, time.UTC)
	bare := predict.Pass{Time: at}
	slip := func(mark predict.Mark, et float64) predict.Pass {
		p := predict.Pass{ID: "only", Time: at.Add(-time.Hour)}
		p.Splits.ETs[mark] = units.Some(et)
		return p
	}
	bike := predict.Pass{Time: at, Machine: predict.Machine{Kind: predict.Motorcycle}}
	for _, c := range []struct {
		name      string
		history   []predict.Pass
		next      predict.Pass
		mark      predict.Mark
		low, high float64 // must lie within the 95 % interval
	}{
		{"nothing at all", nil, bare, predict.At1320, 9, 16},
		{"a motorcycle, nothing else", nil, bike, predict.At1320, 9, 13},
		{"one eighth-mile time", []predict.Pass{slip(predict.At660, 8.4)}, bare, predict.At660, 8.3, 8.5},
		{"an eighth tells the quarter", []predict.Pass{slip(predict.At660, 8.4)}, bare, predict.At1320, 12.9, 13.4},
		{"one quarter-mile time, no power, no air", []predict.Pass{slip(predict.At1320, 11.2)}, bare, predict.At1320, 11.1, 11.3},
	} {
		f := expect(t, c.history, c.next)
		if b := f.ETs[c.mark]; b.Low95 > c.low || b.High95 < c.high {
			t.Errorf("%s: %.3f (95 %%: %.3f to %.3f), want %g to %g within", c.name, b.Centre, b.Low95, b.High95, c.low, c.high)
		}
		if f.Basis.Kind == "" || len(f.Notes) == 0 {
			t.Errorf("%s: basis %+v, notes %+v", c.name, f.Basis, f.Notes)
		}
	}
}

// Whatever a racer types, the bands are finite and in order.
func TestForecastOfAnything(t *testing.T) {
	number := func(t *rapid.T, name string, low, high float64) units.Number {
		if rapid.Bool().Draw(t, name+" known") {
			return units.Some(rapid.Float64Range(low, high).Draw(t, name))
		}
		return units.Number{}
	}
	at := time.Date(2026, 5, 2, 14, 0, 0, 0, time.UTC)
	pass := func(t *rapid.T) predict.Pass {
		p := predict.Pass{
			Time: at.Add(-time.Duration(rapid.IntRange(0, 1e6).Draw(t, "age")) * time.Second),
			Day:  rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "day"),
			Machine: predict.Machine{
				Kind: rapid.SampledFrom([]predict.Kind{predict.Car, predict.Motorcycle, ""}).Draw(t, "kind"),
				Aspiration: rapid.SampledFrom([]predict.Aspiration{
					predict.Natural, predict.Supercharged,
					predict.Turbocharged, "",
				}).
					Draw(t, "aspiration"),
				Setup:    rapid.SampledFrom([]string{"one", "two", ""}).Draw(t, "setup"),
				WeightLb: number(t, "weight", 100, 8000),
				PowerHP:  number(t, "power", 5, 6000),
			},
			Effort: rapid.SampledFrom([]predict.Effort{"", predict.FullPower, predict.Lifted, predict.Broke}).
				Draw(t, "effort"),
			FullFt: number(t, "full", 0, 1500),
			Air: weather.Air{
				TempF:       rapid.Float64Range(-20, 120).Draw(t, "temp"),
				StationInHg: rapid.Float64Range(22, 31).Draw(t, "station"),
			},
			AirKnown:    rapid.Bool().Draw(t, "air"),
			AirDoubtFt:  rapid.Float64Range(0, 3000).Draw(t, "doubt"),
			HeadwindMPH: rapid.Float64Range(-40, 40).Draw(t, "wind"),
			WindKnown:   rapid.Bool().Draw(t, "wind known"),
		}
		for m := range predict.Marks {
			p.Splits.ETs[m] = number(t, "et", 0, 60)
			p.Splits.MPHs[m] = number(t, "mph", 0, 400)
		}
		return p
	}
	rapid.Check(t, func(t *rapid.T) {
		history := rapid.SliceOfN(rapid.Custom(pass), 0, 8).Draw(t, "history")
		f, err := predict.Expect(history, pass(t))
		if err != nil {
			t.Fatal(err)
		}
		for m := range predict.Marks {
			for _, b := range []predict.Band{f.ETs[m], f.MPHs[m]} {
				ends := []float64{b.Low95, b.Low80, b.Low50, b.Centre, b.High50, b.High80, b.High95}
				if b != (predict.Band{}) && (!slices.IsSorted(ends) || !(b.Low95 > 0) || math.IsInf(b.High95, 0)) {
					t.Fatalf("%g ft: %+v", m.Ft(), b)
				}
			}
		}
	})
}
