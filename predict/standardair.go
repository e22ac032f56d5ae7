package predict

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/weather"
)

// Corrector puts a car's runs into standard air by what the car itself has shown
// of how the air works on it, up to its last run.
type Corrector struct{ fit *fit }

// Corrected is one run as it would have been in weather.Standard and still air.
type Corrected struct {
	ETs, MPHs [Marks]Band // zero where the slip has none; the doubt is the correction's alone
	Formula   Splits      // by the formulas' cube-root law, as Correct gives it
}

// NewCorrector learns from the runs of one vehicle: it is that of the forecast of the last.
func NewCorrector(history []Pass) (*Corrector, error) {
	if len(history) == 0 {
		return &Corrector{}, nil
	}
	f, err := Expect(history, lastOf(history))
	return f.Corrector(), err
}

// Corrector corrects by what the forecast has learned of the car.
func (f *Forecast) Corrector() *Corrector { return &Corrector{f.fit} }

func lastOf(history []Pass) Pass {
	last := &history[0]
	for i := range history {
		if history[i].Time.After(last.Time) {
			last = &history[i]
		}
	}
	return *last
}

// Law is how strongly the air works on this car, as a multiple of the textbook's
// law for its aspiration, and the standard deviation that remains.
func (c *Corrector) Law() (multiple, doubt float64) {
	if c.fit == nil {
		return 1, airLawSD
	}
	return c.fit.law()
}

func (t *fit) law() (multiple, doubt float64) {
	own, doubt := t.lawOwn(lawOfAir)
	return 1 + own, doubt
}

// lawOwn is how far the car is from the usual of a law, and the standard deviation that
// remains.
func (t *fit) lawOwn(law int) (own, doubt float64) {
	second := 0.
	for i, p := range t.posteriors {
		column := make([]float64, len(p.mean)) // of the covariance
		column[law] = 1
		p.factor.solveVec(column)
		own += t.chance[i] * p.mean[law]
		second += t.chance[i] * (column[law] + p.mean[law]*p.mean[law])
	}
	return own, math.Sqrt(math.Max(second-own*own, 0))
}

// Correct gives the run in standard air; false when its air is not known.
func (c *Corrector) Correct(run Pass) (Corrected, bool) {
	formula, known := Correct(run)
	if !known {
		return Corrected{Formula: formula}, false
	}
	t := c.fit
	if t == nil {
		return Corrected{Formula: formula}, false
	}
	e := t.eraOf(&run)
	was, err := e.car.runOf(&run, run.Air)
	if err != nil {
		return Corrected{Formula: formula}, false
	}
	would, err := e.car.run(weather.Standard, 0)
	if err != nil {
		return Corrected{Formula: formula}, false
	}
	would = e.car.stop.slowed(&run, would)
	multiple, doubt := t.law()
	sens := e.sens(&run, run.Air)
	extra := vec{} // of the wind, by the car's own share of it
	for i, p := range t.posteriors {
		for k := range extra {
			extra[k] += t.chance[i] * p.mean[lawOfWind] * sens[lawOfWind][k]
		}
	}
	y, has := run.Splits.logs()
	normal := distuv.UnitNormal
	tails := [3]float64{normal.Quantile(0.75), normal.Quantile(0.9), normal.Quantile(0.975)}
	l := runLaw{mean: y}
	out := Corrected{Formula: formula}
	for i := range y {
		if !has[i] {
			continue
		}
		l.mean[i] += would[i] - was[i] - (multiple-1)*sens[lawOfAir][i] - extra[i]
		l.cov[i][i] = math.Pow(
			doubt*sens[lawOfAir][i],
			2,
		) + math.Pow(
			windShareSD*sens[lawOfWind][i],
			2,
		) + math.Pow(
			e.thin[i]*run.AirDoubtFt,
			2,
		)
		if of := channelOf[i]; of.speed {
			out.MPHs[of.mark] = l.bandOf(i, tails)
		} else {
			out.ETs[of.mark] = l.bandOf(i, tails)
		}
	}
	return out, true
}

// eraOf is the state the vehicle was in, the latest for one not seen.
func (t *fit) eraOf(p *Pass) *era {
	for i := len(t.eras) - 1; i >= 0; i-- {
		if t.eras[i].machine.sameEra(p.Machine) {
			return t.eras[i]
		}
	}
	return t.eras[t.nextEra]
}
