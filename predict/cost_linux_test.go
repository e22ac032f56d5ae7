package predict_test

import (
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"slipcase/predict"
)

// spent is the quickest of a few tries, in the processor's time of the whole test.
func spent(t *testing.T, tries int, what func() error) (best time.Duration) {
	t.Helper()
	now := func() time.Duration {
		var u unix.Rusage
		if err := unix.Getrusage(unix.RUSAGE_SELF, &u); err != nil {
			t.Fatal(err)
		}
		return time.Duration(u.Utime.Nano() + u.Stime.Nano())
	}
	for try := range tries {
		began := now()
		if err := what(); err != nil {
			t.Fatal(err)
		}
		if took := now() - began; try == 0 || took < best {
			best = took
		}
	}
	return best
}

// TestForecastCost: a forecast of 300 runs within 30 ms of the processor, of 1,000 within
// 60; the back-test of 300 within 3 s, of 1,000, in a campaign, within 20.
func TestForecastCost(t *testing.T) {
	leftToFullRun(t)
	for _, c := range []struct {
		runs int
		most time.Duration
	}{{300, 30 * time.Millisecond}, {1000, 60 * time.Millisecond}} {
		runs := years(c.runs + 1)
		took := spent(t, 9, func() error {
			_, err := predict.Expect(runs[:c.runs], runs[c.runs])
			return err
		})
		if t.Logf("forecast of %d runs: %v", c.runs, took); took > c.most {
			t.Errorf("a forecast of %d runs took %v, want at most %v", c.runs, took, c.most)
		}
	}
	for _, c := range []struct {
		runs int
		most time.Duration
	}{{300, 3 * time.Second}, {1000, 20 * time.Second}} {
		if c.runs > 300 && campaignSize(0, 0, 1) == 0 {
			continue
		}
		runs := years(c.runs)
		took := spent(t, 1, func() error {
			_, err := predict.RunBacktest(t.Context(), runs, runs, nil)
			return err
		})
		if t.Logf("back-test of %d runs: %v", c.runs, took); took > c.most {
			t.Errorf("a back-test of %d runs took %v, want at most %v", c.runs, took, c.most)
		}
	}
}
