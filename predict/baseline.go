package predict

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"slipcase/weather/units"
)

// ErrNoBasis says that there is nothing to expect a run from.
var ErrNoBasis = errors.New("nothing to go by: want the setup's weight and power, or an earlier full-power run with the same setup")

// Expectation is what a run should be in its air; it knows only the marks that
// the formula or the car's own runs tell.
type Expectation struct {
	Splits  Splits
	Basis   string // a plain sentence
	Runs    int    // full-power runs behind it, at the farthest mark that any of them reached
	LeftOut []LeftOut
	Remarks []string // what had to be assumed
}

// LeftOut is an earlier run that does not count, or only in part, and why.
type LeftOut struct{ ID, Why string }

// Expect says what the next run of one vehicle should be: Fox's formula for its
// weight, power and air, scaled at every mark by the median ratio of the car's
// earlier full-power runs to the formula for their own weight, power and air; the
// bare formula before the first. A mark that the car has never reached takes the
// scale of the nearest one. The 60 and 330 ft times are the car's median share of
// a farther time. Without weight and power, earlier runs of the same setup,
// carried to this air, take the formula's place.
//
// The order of history does not matter; runs at or after next.Time do not count.
// A run that was not at full power counts as far as it was. Where one of two runs
// has no known air, they are compared as in the same air. Wind is not counted.
func Expect(history []Pass, next Pass) (Expectation, error) {
	y := newYardstick(next)
	reading, err := y.read(next)
	if err != nil {
		return Expectation{}, err
	}
	var e Expectation
	runs := e.measure(earlier(history, next.Time), y)
	e.Splits = runs.scale(reading, y.formula)
	if _, some := e.Splits.Finish(); !some {
		return e, ErrNoBasis
	}
	e.Basis, e.Runs = runs.basis(y.formula)
	return e, nil
}

// earlier returns the runs made before the time, oldest first.
func earlier(history []Pass, t time.Time) []Pass {
	runs := slices.DeleteFunc(slices.Clone(history), func(p Pass) bool { return !p.Time.Before(t) })
	slices.SortStableFunc(runs, func(a, b Pass) int { return a.Time.Compare(b.Time) })
	return runs
}

// measure holds the full-power part of every run against the yardstick, and
// notes which runs do not count and what was assumed.
func (e *Expectation) measure(history []Pass, y yardstick) *measured {
	var runs measured
	usual := UsualPulls(history)
	airless := 0
	for _, p := range history {
		full, why := fullSplits(p, usual)
		reading, err := y.read(p)
		switch mark, some := full.Finish(); {
		case err != nil:
			why = err.Error()
		case !some && why == "":
			why = "no time on the slip"
		case some:
			runs.add(full, reading)
			if why != "" {
				why += fmt.Sprintf("; counted to %g ft", mark.Ft())
			}
			if !p.AirKnown {
				airless++
			}
		}
		if why != "" {
			e.LeftOut = append(e.LeftOut, LeftOut{p.ID, why})
		}
	}
	e.Remarks = y.remarks(airless)
	return &runs
}

// measured holds the car's full-power runs as multiples of the yardstick.
type measured struct {
	ets, mphs [Marks][]float64
	shares    [At660][Marks][]float64 // the time at an early mark over that at a farther one
}

func (r *measured) add(full, reading Splits) {
	for m := range Marks {
		if et := full.ETs[m]; et.Known() && reading.ETs[m].Known() {
			r.ets[m] = append(r.ets[m], et.Value()/reading.ETs[m].Value())
		}
		if mph := full.MPHs[m]; mph.Known() && reading.MPHs[m].Known() {
			r.mphs[m] = append(r.mphs[m], mph.Value()/reading.MPHs[m].Value())
		}
		for far := At660; m < At660 && far < Marks; far++ {
			if full.ETs[m].Known() && full.ETs[far].Known() {
				r.shares[m][far] = append(r.shares[m][far], full.ETs[m].Value()/full.ETs[far].Value())
			}
		}
	}
}

// scale turns the yardstick's reading of the next run into the expected splits.
func (r *measured) scale(reading Splits, formula bool) Splits {
	var s Splits
	for m := At660; m < Marks; m++ {
		if k, ok := scaleAt(r.ets, m, formula); ok {
			s.ETs[m] = units.Some(k * reading.ETs[m].Value())
		}
		if k, ok := scaleAt(r.mphs, m, formula); ok {
			s.MPHs[m] = units.Some(k * reading.MPHs[m].Value())
		}
	}
	for m := At60; m < At660; m++ {
		for far := At1320; far >= At660; far-- { // the nearest mark has the last word
			if share, ok := median(r.shares[m][far]); ok && s.ETs[far].Known() {
				s.ETs[m] = units.Some(share * s.ETs[far].Value())
			}
		}
	}
	return s
}

// scaleAt is the car's median at the mark. A formula can be scaled by the nearest
// mark that has runs, the farther of two alike, or stand bare.
func scaleAt(ratios [Marks][]float64, m Mark, formula bool) (float64, bool) {
	k, ok := median(ratios[m])
	for away := Mark(1); formula && !ok && away < Marks; away++ {
		for _, other := range []Mark{m + away, m - away} {
			if !ok && other >= At660 && other < Marks {
				k, ok = median(ratios[other])
			}
		}
	}
	if formula && !ok {
		return 1, true
	}
	return k, ok
}

func (r *measured) basis(formula bool) (text string, runs int) {
	for m := At1320; m >= At660; m-- {
		k, ok := median(r.ets[m])
		if !ok {
			continue
		}
		runs = len(r.ets[m])
		counted := fmt.Sprintf("%d full-power runs", runs)
		if runs == 1 {
			counted = "1 full-power run"
		}
		if m != At1320 {
			counted += fmt.Sprintf(" to %g ft", m.Ft())
		}
		if formula {
			return fmt.Sprintf("%s's formula x %.3f, the median of %s", Fox.Name, k, counted), runs
		}
		return fmt.Sprintf("the median of %s with this setup, carried to this air", counted), runs
	}
	return Fox.Name + "'s formula alone: no earlier full-power run", 0
}

// Difference is how one figure of a run differs from what was expected: a time
// in s or, where Speed, a speed in mph.
type Difference struct {
	Mark                   Mark
	Speed                  bool
	Actual, Expected, Diff float64 // Diff is Actual - Expected
}

// Against compares the figures that both the slip and the expectation have.
func (e Expectation) Against(actual Splits) []Difference {
	var diffs []Difference
	compare := func(m Mark, speed bool, a, x units.Number) {
		if a.Known() && x.Known() {
			diffs = append(diffs, Difference{m, speed, a.Value(), x.Value(), a.Value() - x.Value()})
		}
	}
	for m := range Marks {
		compare(m, false, actual.ETs[m], e.Splits.ETs[m])
		compare(m, true, actual.MPHs[m], e.Splits.MPHs[m])
	}
	return diffs
}

// median is false when there is nothing to take it of.
func median(values []float64) (float64, bool) {
	n := len(values)
	if n == 0 {
		return 0, false
	}
	s := slices.Sorted(slices.Values(values))
	return (s[(n-1)/2] + s[n/2]) / 2, true
}
