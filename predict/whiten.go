package predict

import (
	"math"
)

// The columns of a whitened row: the era's bias on each channel and the laws,
// which stay the same from day to day; the day's launch and engine; the
// observation itself.
const (
	staticCols = channels + laws
	colLaunch  = staticCols
	colEngine  = staticCols + 1
	colSeen    = staticCols + 2
	columns    = staticCols + 3
)

type row [columns]float64

// white is a run as independent observations of unit noise: row j is the part
// of channel j that the channels before it do not tell. A run sound up to some
// mark is the rows up to there.
type white struct {
	rows    [channels]row
	sd      vec // of channel j, given those before it
	channel [channels]int
	n       int
	// What weighing asks of sd again and again: its log, and the squares and the sum of the
	// logs of what a run spoilt all along scatters by.
	logSD  vec
	spoilt vec
	logs   float64
}

// whiten divides a run by the lower triangle of its noise, and of what the air may be off by,
// airOff times its doubt.
func whiten(s *sample, e *era, noise *square, airOff float64) (w white) {
	for c := range channels {
		if s.has[c] {
			w.channel[w.n] = c
			w.n++
		}
	}
	var low [channels][channels]float64
	product := 1.
	for i := range w.n {
		ci := w.channel[i]
		for j := range i + 1 {
			cj := w.channel[j]
			sum := noise[ci][cj] + airOff*airOff*s.doubt[ci]*s.doubt[cj]
			for k := range j {
				sum -= low[i][k] * low[j][k]
			}
			if i == j {
				low[i][i] = math.Sqrt(math.Max(sum, 1e-12))
			} else {
				low[i][j] = sum / low[j][j]
			}
		}
		r := &w.rows[i]
		r[ci] = 1
		for k := range laws {
			r[channels+k] = s.laws[k][ci]
		}
		r[colLaunch], r[colEngine], r[colSeen] = e.launch[ci], e.engine[ci], s.y[ci]
		for k := range i {
			if f := low[i][k]; f != 0 {
				for c, v := range &w.rows[k] {
					r[c] -= f * v
				}
			}
		}
		inv := 1 / low[i][i]
		for c := range r {
			r[c] *= inv
		}
		w.sd[i], w.logSD[i] = low[i][i], math.Log(low[i][i])
		loose := spoiltLoose * noiseMisfit[ci] / w.sd[i]
		w.spoilt[i] = 1 + loose*loose
		product *= w.spoilt[i]
	}
	w.logs = math.Log(product) / 2
	return w
}

// gram is the sum of the products of rows, one for each day and era.
type gram [columns]row

// add takes a row in. Half of its columns are zero, as those of the channels that it does
// not have: they are passed over.
func (g *gram) add(r *row, weight float64) {
	var at [columns]int
	n := 0
	for i, v := range r {
		if v == 0 {
			continue
		}
		at[n] = i
		n++
		to, by := &g[i], v*weight
		for _, j := range at[:n] {
			to[j] += by * r[j]
		}
	}
}
