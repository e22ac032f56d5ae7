package predict

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// UsualRisk is the chance of breaking out that a dial-in is usually chosen for:
// common practice, no source.
const UsualRisk = 0.15

// Quicker is the probability that the next run takes less than et, s, to the mark.
func (f *Forecast) Quicker(m Mark, et float64) float64 {
	c := timeAt[m]
	return f.law.below((math.Log(et) - f.law.mean[c]) / math.Sqrt(f.law.cov[c][c]))
}

// Dial is the dial-in, s in whole hundredths, at which the next run breaks out
// with at most the given chance, 0 to 1.
func (f *Forecast) Dial(m Mark, risk float64) float64 {
	c := timeAt[m]
	t := distuv.StudentsT{Mu: 0, Sigma: f.law.scaleOf(1), Nu: f.law.df}
	et := math.Exp(f.law.mean[c] + t.Quantile(risk)*math.Sqrt(f.law.cov[c][c]))
	return math.Floor(et*100) / 100
}
