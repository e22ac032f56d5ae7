package season

import (
	"math"
	"math/rand/v2"

	"slipcase/predict"
)

// year is a season being made.
type year struct {
	r          *rand.Rand
	odd        *rand.Rand // for what a regime draws, so that the rest stays the same
	s          *Season
	m          vehicle
	stated     facts // as entered
	gain       float64
	upgradeAt  int
	style      float64 // decides which splits the track prints
	noise, day spread
	elevation  [2]float64
	setup, nth int

	lasting lasting
	stop    Stop
	hidden  bool
}

// begin invents a vehicle and what its year will be like.
func begin(by Simulator, seed, stream uint64, limit Limit, g Regime) *year {
	if by == Second {
		stream += 0x2_00000
	}
	r := rand.New(rand.NewPCG(seed, stream))
	s := &Season{
		Simulator: by,
		Seed:      seed,
		Regime:    g,
		Kind:      predict.Car,
		Finish:    predict.At1320,
		Sheet:     r.Float64() < 0.85,
	}
	target := pick(r, 8, 17)
	if r.Float64() < 0.3 {
		s.Kind, target = predict.Motorcycle, pick(r, 7, 12)
	}
	switch u := r.Float64(); {
	case u < 0.2:
		s.Finish = predict.At660
	case u < 0.3:
		s.Finish = predict.At1000
	}
	s.NoiseSD, s.DaySD = pick(r, 0.002, 0.006), pick(r, 0.001, 0.005)
	gain := pick(r, 1.05, 1.4)
	y := &year{r: r, odd: rand.New(rand.NewPCG(seed, stream+0x0dd)), s: s, gain: gain}
	if by == First {
		m := newMachine(r, s.Kind, target, gain)
		y.m, s.Limit = m, limitOf(m)
	} else {
		if s.Limit = limit; limit == AnyLimit {
			s.Limit = Limit(r.IntN(int(Converter) + 1))
		}
		y.m = newGeared(r, s.Limit, s.Kind)
		s.Kind = y.m.facts().machine.Kind // no motorcycle has a converter
	}
	y.upgradeAt, y.style = 3+r.IntN(3), r.Float64()
	if g.Eighth {
		s.Finish = predict.At660
	}
	if g.NoiseS > 0 {
		s.NoiseSD = g.NoiseS / y.m.run(standardAir, effects{}).et[s.Finish]
	}
	y.noise = newSpread(y.m, r, s.Finish, s.NoiseSD, pick(r, 0.3, 0.8))
	y.day = newSpread(y.m, r, s.Finish, s.DaySD, pick(r, 0.3, 0.8))
	home := pick(r, 0, 5800)
	away := math.Abs(home + 800*r.NormFloat64())
	if r.Float64() < 0.25 {
		away = pick(r, 0, 5800)
	}
	y.elevation = [2]float64{home, min(away, 5800)}
	for i := range s.SheetError {
		s.SheetError[i] = sheetSD * r.NormFloat64()
	}
	y.stated = y.m.facts()
	y.prepare()
	return y
}

// ordinaryAir is that in which changes are told: a mild morning at home.
func (y *year) ordinaryAir() state {
	return sky{morningC: 22, dewC: 12, stationKPa: stationKPa(y.elevation[0])}.at(9)
}
