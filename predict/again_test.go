package predict_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"slipcase/predict"
	"slipcase/predict/season"
	"slipcase/weather/units"
)

// TestAgain holds the forecast by a fit that there is against one made from the runs alone:
// to the last digit, in the other lane, later and in other air.
func TestAgain(t *testing.T) {
	leftToFullRun(t)
	tried := 0
	for seed := uint64(400_001); seed < 400_001+4; seed++ {
		var runs []predict.Pass
		for _, r := range season.New(seed).Runs {
			runs = append(runs, r.Pass)
		}
		for n := 1; n < len(runs); n += 3 {
			history, next := runs[:n], runs[n]
			if next.Day != runs[n-1].Day {
				continue
			}
			first, then := next, next
			then.Time = next.Time.Add(90 * time.Minute)
			then.Lane = map[string]string{"left": "right"}[next.Lane]
			then.Air.TempF += 9
			then.AirKnown, then.AirDoubtFt = true, 140
			then.HeadwindMPH, then.WindKnown = 7, true
			f, err := predict.Expect(history, first)
			if err != nil {
				t.Fatal(err)
			}
			again, ok, err := f.Again(then)
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				continue
			}
			want, err := predict.Expect(history, then)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want, again, cmpopts.IgnoreUnexported(predict.Forecast{})); diff != "" {
				t.Fatalf("seed %d, run %d: %s", seed, n, diff)
			}
			tried++
		}
	}
	if tried < 20 {
		t.Errorf("only %d forecasts were made by a fit that there was", tried)
	}
}

// TestAgainNot is what asks for a fit of its own.
func TestAgainNot(t *testing.T) {
	t.Parallel()
	var runs []predict.Pass
	for _, r := range season.New(400_009).Runs {
		runs = append(runs, r.Pass)
	}
	n := 12
	for runs[n].Day != runs[n-1].Day {
		n++
	}
	f, err := predict.Expect(runs[:n], runs[n])
	if err != nil {
		t.Fatal(err)
	}
	later := func(change func(p *predict.Pass)) predict.Pass {
		p := runs[n]
		p.Time = p.Time.Add(time.Hour)
		change(&p)
		return p
	}
	for what, next := range map[string]predict.Pass{
		"the next day":       later(func(p *predict.Pass) { p.Day, p.Time = "2031-01-01", p.Time.AddDate(0, 0, 1) }),
		"another track":      later(func(p *predict.Pass) { p.Track = "elsewhere" }),
		"another weight":     later(func(p *predict.Pass) { p.Machine.WeightLb = units.Some(2900.) }),
		"a throttle stop":    later(func(p *predict.Pass) { p.StopFromS, p.StopS = 1, 1.2 }),
		"a run before these": later(func(p *predict.Pass) { p.Time = runs[n-1].Time }),
	} {
		if _, ok, err := f.Again(next); ok || err != nil {
			t.Errorf("%s: taken for the same fit (%v)", what, err)
		}
	}
	if _, ok, err := f.Again(later(func(*predict.Pass) {})); !ok || err != nil {
		t.Errorf("an hour later it is not taken for the same fit (%v)", err)
	}
}
