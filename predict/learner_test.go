package predict_test

import (
	"math"
	"math/rand/v2"

	"slipcase/predict/season"
)

// learner is one who is told all that a season's runs could never tell him in time, and has
// to learn from their times at the finish what they could: he knows how much the car's runs
// and days scatter, which runs were clean, the air as it truly was, how cars differ in their
// level and in how they follow the air, and that of whatever is out of the ordinary in the
// season it is there, since when and on which runs; not how large it is on this car. He is a
// Gaussian posterior: from the clean runs' times at the finish no forecast misses by less, on
// the whole. Where he cannot do what is wanted, nobody can who goes by these; splits tell
// more only where few runs are clean to the finish.
type learner struct {
	noise float64 // variances of ln ET
	mean  []float64
	cov   [][]float64
	on    string // the day that the last unknown is of
	day   float64
}

// The unknowns; all are told as what the learner is off by, so that the truth is zero.
const (
	learnLevel   = iota // of the car
	learnAir            // its law
	learnUpgrade        // what the upgrade brought
	learnThing          // what is out of the ordinary
	learnDay
	learned
)

const (
	carsDifferSD = 0.06 // of ET, by Fox's formula: Doubt
	airsDifferSD = 0.25 // of the textbook's law; so the simulators draw it
	usualSlope   = -0.3 // d ln ET / d ln P, where a season has none

	// What the upgrades of the seasons bring, as logs of power: 5 to 40 %, evenly.
	upgradeLikely, upgradeSD = 0.199, 0.083

	slowDay, slowDaySD = 0.04, 0.0115 // 2 to 6 %, evenly
)

// newLearner starts from where such a one may, off by a draw of what he does not know.
func newLearner(s season.Season, thing float64) *learner {
	r := rand.New(rand.NewPCG(s.Seed, 0x1ea47))
	slope := s.Elasticity
	if slope == 0 {
		slope = usualSlope
	}
	l := &learner{noise: s.NoiseSD * s.NoiseSD, day: s.DaySD * s.DaySD, mean: make([]float64, learned)}
	upgrade := math.Abs(slope) * upgradeSD
	l.mean[learnUpgrade] = slope*upgradeLikely - s.TrueChange[s.Finish]
	if s.Sheet {
		upgrade = math.Abs(slope) * 0.02 * math.Sqrt2
		l.mean[learnUpgrade] = slope * (s.SheetError[1] - s.SheetError[0])
	}
	l.mean[learnLevel], l.mean[learnAir] = carsDifferSD*r.NormFloat64(), airsDifferSD*r.NormFloat64()
	l.mean[learnThing] = -thing
	for i, sd := range []float64{carsDifferSD, airsDifferSD, upgrade, thing, s.DaySD} {
		l.cov = append(l.cov, make([]float64, learned))
		l.cov[i][i] = sd * sd
	}
	return l
}

// open starts a new day when the run is of one.
func (l *learner) open(r season.Run) {
	if r.Pass.Day == l.on {
		return
	}
	v := l.day
	l.on, l.mean[learnDay] = r.Pass.Day, 0
	if r.SlowDay {
		l.mean[learnDay] = slowDay
		v += slowDaySD * slowDaySD
	}
	for i := range l.cov {
		l.cov[i][learnDay], l.cov[learnDay][i] = 0, 0
	}
	l.cov[learnDay][learnDay] = v
}

// forecast is ln(next/true mean) of a run on which the unknowns work so, and its standard
// deviation.
func (l *learner) forecast(x []float64) (mean, sd float64) {
	v := l.noise
	for i, by := range x {
		mean += by * l.mean[i]
		for j, too := range x {
			v += by * too * l.cov[i][j]
		}
	}
	return mean, math.Sqrt(v)
}

// learn takes in ln(ET/true mean) of a clean run (Kalman's step).
func (l *learner) learn(x []float64, y float64) {
	gain, v := make([]float64, learned), l.noise
	for i := range x {
		for j, by := range x {
			gain[i] += l.cov[i][j] * by
		}
		v += x[i] * gain[i]
	}
	m, _ := l.forecast(x)
	off := y - m
	for i := range gain {
		l.mean[i] += gain[i] / v * off
		for j := range gain {
			l.cov[i][j] -= gain[i] * gain[j] / v
		}
	}
}

// lesson is how the unknowns work on a run; thing is the share of what is out of the
// ordinary in it.
func lesson(s season.Season, r season.Run, thing float64) []float64 {
	slope, x := s.Elasticity, make([]float64, learned)
	if slope == 0 {
		slope = usualSlope
	}
	m := r.Pass.Machine
	x[learnLevel], x[learnAir], x[learnThing], x[learnDay] = 1, slope*math.Log(
		m.Breathing().PowerRatio(r.Pass.Air),
	), thing, 1
	if r.Setup == 1 {
		x[learnUpgrade] = 1
	}
	return x
}

// things are what is out of the ordinary in each run of a season, in logs of the time at the
// finish: by the same season without it.
func things(s season.Season) (by map[string]float64, size float64) {
	by = map[string]float64{}
	plain := s.Regime
	plain.Hidden, plain.WearS, plain.HeatRun, plain.AwayGrip, plain.LaneS = season.Change{}, 0, 0, 0, 0
	plain.OtherDriver, plain.OtherLb = false, 0
	if plain == s.Regime {
		return by, 0
	}
	without := season.Make(s.Simulator, s.Seed, plain)
	n := 0.
	for i, r := range s.Runs {
		of := math.Log(r.Mean[s.Finish] / without.Runs[i].Mean[s.Finish])
		if by[r.Pass.ID] = of; math.Abs(of) > 1e-9 {
			size, n = size+of*of, n+1
		}
	}
	size = math.Sqrt(size / math.Max(n, 1))
	for id := range by {
		by[id] /= math.Max(size, 1e-9)
	}
	return by, size
}
