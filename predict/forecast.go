package predict

import (
	"fmt"
	"math"
	"slices"

	"slipcase/weather/units"
)

// Band is a forecast figure: its centre, and the intervals that should hold it
// in 50, 80 and 95 runs of a hundred.
type Band struct {
	Centre                                      float64
	Low50, High50, Low80, High80, Low95, High95 float64
}

// LeftOut is an earlier run that does not count, or only in part, and why.
type LeftOut struct{ ID, Why string }

// Forecast is what the next run of a vehicle should be at full power.
type Forecast struct {
	ETs      [Marks]Band // s
	MPHs     [Marks]Band // mph over the last 66 ft; zero at 60 and 330 ft
	Finish   Mark        // the distance that the vehicle usually races to
	RunsUsed int         // earlier runs that count, wholly or up to a mark
	LeftOut  []LeftOut
	Basis    string // a plain sentence
	Warnings []string

	law runLaw
	fit *fit
}

// Expect forecasts the next run of one vehicle from the runs made before it: by
// the run model, calibrated on them. Without any it rests on Fox's formula for
// weight and power, and widely. The order of history does not matter; runs at or
// after next.Time do not count. Splits that next may hold are not looked at.
//
// A change of setup is carried by the run model and the stated weight and power,
// and widens the intervals by its size; a day not raced before is wider than a
// later run of the same day; how strongly the air works on this car is learned.
// Runs noted as not at full power count as far as they were; of the others, those
// out of line count by the chance that they were sound.
func Expect(history []Pass, next Pass) (Forecast, error) {
	next.Splits = Splits{}
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
		b := l.bandOf(c, tails)
		if of.speed {
			out.MPHs[of.mark] = b
		} else {
			out.ETs[of.mark] = b
		}
	}
	out.report()
	return out, nil
}

// Centre are the centres of the bands as a slip would have them.
func (f *Forecast) Centre() Splits {
	return f.splitsOf(func(b Band, _ bool) float64 { return b.Centre })
}

// Quick is the quick end of the 95 % bands: what safety equipment goes by.
func (f *Forecast) Quick() Splits {
	return f.splitsOf(func(b Band, speed bool) float64 {
		if speed {
			return b.High95
		}
		return b.Low95
	})
}

func (f *Forecast) splitsOf(of func(b Band, speed bool) float64) (s Splits) {
	for m := range Marks {
		s.ETs[m] = units.Some(of(f.ETs[m], false))
		if speedAt[m] >= 0 {
			s.MPHs[m] = units.Some(of(f.MPHs[m], true))
		}
	}
	return s
}

func (l *runLaw) bandOf(c int, tails [3]float64) Band {
	sd := math.Sqrt(l.cov[c][c])
	at := func(z float64) float64 { return math.Exp(l.mean[c] + z*sd) }
	return Band{at(0), at(-tails[0]), at(tails[0]), at(-tails[1]), at(tails[1]), at(-tails[2]), at(tails[2])}
}

// report says what the forecast rests on.
func (f *Forecast) report() {
	t := f.fit
	same := 0
	for i := range t.samples {
		s := &t.samples[i]
		if _, some := s.soundFt(); some {
			f.RunsUsed++
			if s.era == t.nextEra {
				same++
			}
		}
	}
	f.LeftOut = t.leftOut()
	f.Basis = t.basis(f.RunsUsed, same)
	f.Warnings = t.warnings(f.RunsUsed, same)
}

func (t *fit) basis(used, same int) string {
	m := t.next.Machine
	_, power := m.clutchHP()
	_, weight := m.knownWeightLb()
	switch {
	case used == 0 && power && weight:
		return fmt.Sprintf("%s's formula for its weight and power, less the %.1f %% that road cars ran under it: no earlier full-power run",
			Fox.Name, 100*(1-formulaRunsSlow))
	case used == 0:
		return "what its kind usually runs: no earlier full-power run, and weight or power is not known"
	case same == used:
		return fmt.Sprintf("the run model fitted to %s", runs(used))
	case same == 0:
		return fmt.Sprintf("the run model fitted to %s with other setups, carried to this one", runs(used))
	}
	return fmt.Sprintf("the run model fitted to %s, %d of them with this setup", runs(used), same)
}

func runs(n int) string {
	if n == 1 {
		return "1 run"
	}
	return fmt.Sprintf("%d runs", n)
}

// farFromRaced is how far, in ft of density altitude, the air may lie outside
// what the car has raced in before the forecast says so.
const (
	farFromRacedFt = 1000
	doubtfulAirFt  = 200
)

func (t *fit) warnings(used, same int) []string {
	var w []string
	m := t.next.Machine
	_, power := m.clutchHP()
	_, weight := m.knownWeightLb()
	if !weight {
		w = append(w, "the weight of this setup is not known: an ordinary one is taken, and the intervals are wide until runs tell")
	}
	switch {
	case power:
		w = append(w, m.StatedPower().Remarks(t.next.AirKnown || t.next.airAssumed())...)
	case used == 0:
		w = append(w, "the power of this setup is not known: the intervals are wide until runs tell")
	}
	if used > 0 && same == 0 {
		w = append(w, "no run with this setup yet: wider by how large the change is")
	}
	switch {
	case t.next.airAssumed():
		w = append(w, "no air known: an assumed one is taken, and it is wider for it")
	case !t.next.AirKnown:
		w = append(w, "no air known: taken as the usual air of the runs, and wider for it")
	case t.next.AirDoubtFt > doubtfulAirFt:
		w = append(w, fmt.Sprintf("the air is uncertain by %s of density altitude: wider for it", feet(t.next.AirDoubtFt)))
	}
	if low, high, some := t.raced(); some && t.next.AirKnown {
		da := t.next.Air.DensityAltitudeFt()
		if da < low-farFromRacedFt || da > high+farFromRacedFt {
			w = append(w, fmt.Sprintf("this air, %s, is unlike any it has raced in: %s of density altitude",
				feet(da), feetRange(low, high)))
		}
	}
	airless := 0
	for i := range t.samples {
		if !t.samples[i].pass.AirKnown {
			airless++
		}
	}
	if airless > 0 {
		w = append(w, fmt.Sprintf("%d of the earlier runs have no known air: they count for less", airless))
	}
	return w
}

// feet writes a length in both units: a remark does not know which are shown.
func feet(ft float64) string {
	return fmt.Sprintf("%s ft (%s m)", thousands(ft), thousands(units.Length.In(units.Metric, ft)))
}

func feetRange(low, high float64) string {
	m := func(ft float64) string { return thousands(units.Length.In(units.Metric, ft)) }
	return fmt.Sprintf("%s to %s ft (%s to %s m)", thousands(low), thousands(high), m(low), m(high))
}

func thousands(v float64) string { return units.Group(fmt.Sprintf("%.0f", v)) }

// raced is the range of density altitude of the runs, ft.
func (t *fit) raced() (low, high float64, some bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range t.samples {
		if p := t.samples[i].pass; p.AirKnown {
			da := p.Air.DensityAltitudeFt()
			low, high, some = math.Min(low, da), math.Max(high, da), true
		}
	}
	return low, high, some
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
