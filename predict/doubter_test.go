package predict_test

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/predict/season"
)

// doubter is a learner who is not told how much the car's runs scatter, nor the air but as it
// was entered. Cars differ in the one by a factor, as the forecast believes, and his runs have
// to tell; the other he takes to be off by as much as is said of it. His ranges and dials show
// what can be held of a car that is steadier or wilder than most; where not even they hold what
// they say, no others do that start from as little.
type doubter struct {
	by []*learner
	ln []float64 // of the chance of each, up to a constant
}

// The scatter of a car's runs, in logs of the time at the finish: log-normal.
const (
	scatterLikely, scatterFactor = 0.0037, 0.6
	scatterStep                  = 0.6 // standard deviations apart, of those that are tried
)

func newDoubter(s season.Season, thing float64) *doubter {
	d := &doubter{}
	for z := -3.; z <= 2.1; z += scatterStep {
		l := newLearner(s, thing)
		l.noise = math.Pow(scatterLikely*math.Exp(scatterFactor*z), 2)
		d.by, d.ln = append(d.by, l), append(d.ln, -z*z/2)
	}
	return d
}

func (d *doubter) open(r season.Run) {
	for _, l := range d.by {
		l.open(r)
	}
}

// believed is the law of ln(ET/true mean) of a run, and that mean, s.
type believed struct {
	of     []distuv.Normal
	chance []float64
	mean   float64
}

// airOf is what the air as it was entered takes the time to be off by, in logs, and the
// standard deviation of what it may be off by as it is said.
func airOf(s season.Season, r season.Run) (off, sd float64) {
	slope := s.Elasticity
	if slope == 0 {
		slope = usualSlope
	}
	breathes := r.Pass.Machine.Breathing()
	off = slope * math.Log(breathes.PowerRatio(r.Pass.Air)/breathes.PowerRatio(r.Air))
	return off, slope * thinsPerFt * r.Pass.AirDoubtFt
}

// thinsPerFt is how much thinner the standard atmosphere is a foot higher, near sea level
// (ISO 2533).
const thinsPerFt = 2.9e-5

func (d *doubter) forecast(s season.Season, r season.Run, x []float64) (b believed) {
	b.mean = r.Mean[s.Finish]
	off, air := airOf(s, r)
	sum := 0.
	for i, l := range d.by {
		m, sd := l.forecast(x)
		b.of = append(b.of, distuv.Normal{Mu: m + off, Sigma: math.Hypot(sd, air)})
		b.chance = append(b.chance, math.Exp(d.ln[i]))
		sum += b.chance[i]
	}
	for i := range b.chance {
		b.chance[i] /= sum
	}
	return b
}

func (d *doubter) learn(s season.Season, r season.Run, x []float64, y float64) {
	off, air := airOf(s, r)
	y -= off
	most := math.Inf(-1)
	for i, l := range d.by {
		m, sd := l.forecast(x)
		d.ln[i] += distuv.Normal{Mu: m, Sigma: math.Hypot(sd, air)}.LogProb(y)
		most = math.Max(most, d.ln[i])
		own := l.noise
		l.noise += air * air
		l.learn(x, y)
		l.noise = own
	}
	for i := range d.ln {
		d.ln[i] -= most
	}
}

// under is the chance of a quicker run.
func (b *believed) under(et float64) (p float64) {
	for i, of := range b.of {
		p += b.chance[i] * of.CDF(math.Log(et/b.mean))
	}
	return p
}

// dial is the whole hundredth whose chance of a quicker run is nearest to the risk.
func (b *believed) dial(risk float64) float64 {
	low, high := b.mean*math.Exp(-1), b.mean*math.Exp(1)
	for high-low > 1e-6 {
		if mid := (low + high) / 2; b.under(mid) < risk {
			low = mid
		} else {
			high = mid
		}
	}
	under := math.Floor(low*100) / 100
	if over := under + 0.01; b.under(over)-risk < risk-b.under(under) {
		return math.Round(over*100) / 100
	}
	return under
}
