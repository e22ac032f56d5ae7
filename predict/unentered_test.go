package predict_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// invented is a log of one car in the same air, each day's time at the quarter given;
// launch says that what differs is lost in the first 60 ft.
func invented(days []float64, runs int, launch bool) (all []predict.Pass) {
	r := rand.New(rand.NewPCG(3, 4))
	for d, slower := range days {
		for n := range runs {
			at := time.Date(2026, 4, 4+7*d, 10+n, 0, 0, 0, time.UTC)
			p := predict.Pass{
				ID: fmt.Sprintf("%d-%d", d, n), Time: at, Day: at.Format(time.DateOnly), Track: "home",
				Machine: predict.Machine{Kind: predict.Car, Setup: "only", WeightLb: units.Some(3450), PowerHP: units.Some(312)},
				Air:     weather.Standard, AirKnown: true,
			}
			noise := 0.002 * r.NormFloat64()
			for m, et := range []float64{1.95, 5.5, 8.45, 11.0, 13.2} {
				by := slower * et
				if launch {
					by = slower * 13.2
				}
				p.Splits.ETs[m] = units.Some(et*(1+noise) + by)
			}
			all = append(all, p)
		}
	}
	return all
}

func nextOf(t *testing.T, all []predict.Pass) predict.Forecast {
	t.Helper()
	next := all[len(all)-1]
	f, err := predict.Expect(all[:len(all)-1], next)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// A day on which every run is slower off the line is a slow day, and its runs count; the
// next day is as ever.
func TestSlowDayIsBelieved(t *testing.T) {
	all := invented([]float64{0, 0, 0, 0, 0.03, 0}, 4, true)
	for _, c := range []struct {
		runs int
		want float64
	}{{4*4 + 3, 13.2 * 1.03}, {5*4 + 2, 13.2}} {
		f := nextOf(t, all[:c.runs])
		if got := f.ETs[predict.At1320].Centre; math.Abs(got-c.want) > 0.06 {
			t.Errorf("after %d runs %.3f, want %.3f", c.runs-1, got, c.want)
		}
		if len(f.LeftOut) > 0 {
			t.Errorf("after %d runs %v are left out", c.runs-1, f.LeftOut)
		}
		said, slow := note(f, predict.DayUnlike), c.want > 13.3
		if (said.Kind != "") != slow || slow && math.Abs(said.ByS-0.396) > 0.06 {
			t.Errorf("after %d runs the note is %+v", c.runs-1, said)
		}
	}
}

// A first run of a day that is slow from the start may be the track: the second run's range
// holds that, on a setup's first day as on any other. A lift says nothing of the track.
func TestSlowFirstRunHoldsTheDayOpen(t *testing.T) {
	for _, setup := range []string{"only", "new"} {
		for _, slower := range []float64{0.02, 0.04, 0.06} {
			all := invented([]float64{0, 0, 0, 0, slower}, 4, false)
			for i := 16; i < len(all); i++ {
				all[i].Machine.Setup = setup
			}
			if b := nextOf(t, all[:4*4+2]).ETs[predict.At1320]; b.High95 < 13.2*(1+slower) {
				t.Errorf("setup %s: %.3f to %.3f, want %.3f in it", setup, b.Low95, b.High95, 13.2*(1+slower))
			}
		}
	}
	all := invented([]float64{0, 0, 0, 0, 0}, 4, true)
	lifted := &all[16].Splits.ETs
	lifted[predict.At1000], lifted[predict.At1320] = units.Some(11.2), units.Some(13.8)
	if second := nextOf(t, all[:4*4+2]).ETs[predict.At1320]; second.High95 > 13.2*1.02 {
		t.Errorf("after a lift the second run reaches to %.3f", second.High95)
	}
}

// A quicker car from one day on is followed within four of its runs, and the earlier ones
// are not doubted for it.
func TestChangeNotEnteredIsFollowed(t *testing.T) {
	all := invented([]float64{0, 0, 0, 0, -0.04, -0.04}, 4, false)
	f := nextOf(t, all[:4*4+4])
	if got, want := f.ETs[predict.At1320].Centre, 13.2*0.96; math.Abs(got-want) > 0.06 {
		t.Errorf("fourth run of it %.3f, want %.3f", got, want)
	}
	if f = nextOf(t, all); len(f.LeftOut) > 0 {
		t.Errorf("%v are left out", f.LeftOut)
	}
	if got, want := f.ETs[predict.At1320].Centre, 13.2*0.96; math.Abs(got-want) > 0.03 {
		t.Errorf("in the end %.3f, want %.3f", got, want)
	}
	since := note(f, predict.ChangedSince)
	if !since.Since.Equal(all[16].Time) || math.Abs(since.ByS+0.528) > 0.05 {
		t.Errorf("the note is %+v, want .53 quicker since %v", since, all[16].Time)
	}
}

// A quarter more power stated, and nothing of it on the slips: the first forecast holds
// that too, and three runs settle it.
func TestGainThatDidNotCome(t *testing.T) {
	all := invented([]float64{0, 0, 0, 0, 0}, 4, false)
	for i := 16; i < len(all); i++ {
		all[i].Machine.Setup, all[i].Machine.PowerHP = "more", units.Some(312*1.25)
	}
	first := nextOf(t, all[:17]).ETs[predict.At1320]
	if first.High95 < 13.2 || first.Centre > 12.8 {
		t.Errorf("first run %.3f, to %.3f: want it to follow the sheet, and to hold 13.2", first.Centre, first.High95)
	}
	f := nextOf(t, all[:20])
	if got := f.ETs[predict.At1320].Centre; math.Abs(got-13.2) > 0.06 {
		t.Errorf("fourth run %.3f, want 13.2", got)
	}
	if len(f.LeftOut) > 0 {
		t.Errorf("%v are left out", f.LeftOut)
	}
	if got := note(f, predict.GainNotSeen); math.Abs(got.Share-0.25) > 0.01 {
		t.Errorf("the note is %+v, want 25 %%", got)
	}
}

// note is the first of a kind, zero without one.
func note(f predict.Forecast, kind predict.NoteKind) predict.Note {
	for _, n := range f.Notes {
		if n.Kind == kind {
			return n
		}
	}
	return predict.Note{}
}

// One bad run is no slow day: the next of the day is forecast as ever, the wide end apart.
func TestOneBadRunIsNoSlowDay(t *testing.T) {
	all := invented([]float64{0, 0, 0, 0, 0}, 4, false)
	bad := &all[16].Splits
	for m := range bad.ETs {
		if m > int(predict.At330) {
			bad.ETs[m] = units.Some(bad.ETs[m].Value() + 1.1) // a missed gear
		}
	}
	f := nextOf(t, all[:18])
	if got := f.ETs[predict.At1320].Centre; math.Abs(got-13.2) > 0.04 {
		t.Errorf("%.3f, want 13.2", got)
	}
	if !slices.ContainsFunc(f.LeftOut, func(l predict.LeftOut) bool { return l.ID == "4-0" }) {
		t.Errorf("%v are left out, want 4-0", f.LeftOut)
	}
}
