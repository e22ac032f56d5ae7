package predict

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Figure is a statistic with the interval that holds it in 95 of a hundred samples;
// the interval is infinite where there are too few values for one.
type Figure struct{ Value, Low, High float64 }

// Steady is how alike the values of a sample are.
type Steady struct {
	N      int
	Median Figure
	SD     Figure // standard deviation
}

const sure = 0.95

// NewSteady describes a sample. The median's interval is by order statistics, which
// asks nothing of the law of the values (binomial, as in Conover, Practical
// Nonparametric Statistics, section 3.2); that of the standard deviation by the
// chi-squared law of normal values.
func NewSteady(values []float64) (Steady, error) {
	n := len(values)
	if n == 0 {
		return Steady{}, errors.New("no values")
	}
	v := slices.Sorted(slices.Values(values))
	m, _ := median(v)
	s := Steady{N: n, Median: Figure{m, math.Inf(-1), math.Inf(1)}, SD: Figure{math.NaN(), 0, math.Inf(1)}}
	// The largest k with P(fewer than k of n below the median) at most 2.5 %.
	count := distuv.Binomial{N: float64(n), P: 0.5}
	k := 0
	for count.CDF(float64(k)) <= (1-sure)/2 {
		k++
	}
	if k > 0 {
		s.Median.Low, s.Median.High = v[k-1], v[n-k]
	}
	if n > 1 {
		sd := stat.StdDev(v, nil)
		df := float64(n - 1)
		chi := distuv.ChiSquared{K: df}
		s.SD = Figure{sd, sd * math.Sqrt(df/chi.Quantile((1+sure)/2)), sd * math.Sqrt(df/chi.Quantile((1-sure)/2))}
	}
	return s, nil
}

// Share is how many of n, with the exact interval of Clopper and Pearson
// (Biometrika 26 (1934) 404).
func Share(k, n int) Figure {
	f := Figure{float64(k) / float64(n), 0, 1}
	if k > 0 {
		f.Low = distuv.Beta{Alpha: float64(k), Beta: float64(n - k + 1)}.Quantile((1 - sure) / 2)
	}
	if k < n {
		f.High = distuv.Beta{Alpha: float64(k + 1), Beta: float64(n - k)}.Quantile((1 + sure) / 2)
	}
	return f
}

// Differ is the difference of two means, a - b, by Welch's t (Biometrika 34 (1947)
// 28); shown is false where the interval holds 0, or there are fewer than two values
// on a side.
func Differ(a, b []float64) (d Figure, shown bool) {
	if len(a) == 0 || len(b) == 0 {
		return Figure{math.NaN(), math.Inf(-1), math.Inf(1)}, false
	}
	d = Figure{stat.Mean(a, nil) - stat.Mean(b, nil), math.Inf(-1), math.Inf(1)}
	if len(a) < 2 || len(b) < 2 {
		return d, false
	}
	na, nb := float64(len(a)), float64(len(b))
	va, vb := stat.Variance(a, nil)/na, stat.Variance(b, nil)/nb
	if va+vb == 0 {
		d.Low, d.High = d.Value, d.Value
		return d, d.Value != 0
	}
	df := (va + vb) * (va + vb) / (va*va/(na-1) + vb*vb/(nb-1))
	t := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile((1 + sure) / 2)
	half := t * math.Sqrt(va+vb)
	d.Low, d.High = d.Value-half, d.Value+half
	return d, d.Low > 0 || d.High < 0
}

// Slope is the least-squares change of y with x, with its 95 % interval; shown is
// false where that holds 0 or there are fewer than four points.
func Slope(x, y []float64) (f Figure, shown bool) {
	f = Figure{math.NaN(), math.Inf(-1), math.Inf(1)}
	n := float64(len(x))
	if len(x) < 4 || len(x) != len(y) {
		return f, false
	}
	sxx := stat.Variance(x, nil) * (n - 1)
	if sxx == 0 {
		return f, false
	}
	a, b := stat.LinearRegression(x, y, nil, false)
	rest := 0.
	for i := range x {
		e := y[i] - a - b*x[i]
		rest += e * e
	}
	half := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile((1+sure)/2) * math.Sqrt(rest/(n-2)/sxx)
	return Figure{b, b - half, b + half}, b-half > 0 || b+half < 0
}
