package predict_test

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/predict/season"
)

// doubter is a learner who is not told how much the car's runs scatter: cars differ in it by a
// factor, as the forecast believes, and his runs have to tell. His ranges and dials show what
// can be held of a car that is steadier or wilder than most; where not even they hold what they
// say, no others do that start from as little.
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

func (d *doubter) forecast(x []float64, mean float64) (b believed) {
	b.mean = mean
	sum := 0.
	for i, l := range d.by {
		m, sd := l.forecast(x)
		b.of, b.chance = append(b.of, distuv.Normal{Mu: m, Sigma: sd}), append(b.chance, math.Exp(d.ln[i]))
		sum += b.chance[i]
	}
	for i := range b.chance {
		b.chance[i] /= sum
	}
	return b
}

func (d *doubter) learn(x []float64, y float64) {
	most := math.Inf(-1)
	for i, l := range d.by {
		m, sd := l.forecast(x)
		d.ln[i] += distuv.Normal{Mu: m, Sigma: sd}.LogProb(y)
		most = math.Max(most, d.ln[i])
		l.learn(x, y)
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
