package predict

import (
	"math"
)

// The columns of a whitened row: the observation itself; the day's launch and engine; and
// what stays the same from day to day, the laws and the era's bias on each channel. The
// biases come last: a row knows those of the channels up to its own, and ends there.
const (
	colSeen = iota
	colLaunch
	colEngine
	firstStatic
	firstBias  = firstStatic + laws
	columns    = firstBias + channels
	staticCols = columns - firstStatic
)

type row [columns]float64

// white is a run as independent observations of unit noise: row j is the part
// of channel j that the channels before it do not tell. A run sound up to some
// mark is the rows up to there.
type white struct {
	*whitening
	rows [channels]row
}

// whitening is what makes a run white: the lower triangle of its noise, by which it is
// divided. It serves all runs of an era with the same channels and as uncertain an air.
type whitening struct {
	channel [channels]int
	n       int
	low     [channels]vec // below its diagonal
	sd      vec           // the diagonal: of channel j, given those before it
	inverse [channels]vec // of the triangle, by row and channel
	// What weighing asks of sd again and again: its log, and what a run spoilt all along
	// scatters by and is told of (soundness.go).
	logSD  vec
	spoilt spoilt
}

// alike reports runs that the same whitening serves.
func (s *sample) alike(o *sample) bool { return s.era == o.era && s.has == o.has && s.doubt == o.doubt }

// newWhitening divides the noise of a run into triangles, with what the air may be off by:
// airOff times its doubt.
func newWhitening(s *sample, e *era, noise *square, airOff float64) *whitening {
	w := new(whitening)
	for c := range channels {
		if s.has[c] {
			w.channel[w.n] = c
			w.n++
		}
	}
	for i := range w.n {
		ci := w.channel[i]
		for j := range i + 1 {
			cj := w.channel[j]
			sum := noise[ci][cj] + airOff*airOff*s.doubt[ci]*s.doubt[cj]
			for k := range j {
				sum -= w.low[i][k] * w.low[j][k]
			}
			if i == j {
				w.sd[i] = math.Sqrt(math.Max(sum, 1e-12))
			} else {
				w.low[i][j] = sum / w.sd[j]
			}
		}
		w.logSD[i] = math.Log(w.sd[i])
		inverse := &w.inverse[i]
		inverse[ci] = 1
		for k := range i {
			for c := range w.channel[k] + 1 {
				inverse[c] -= w.low[i][k] * w.inverse[k][c]
			}
		}
		by := 1 / w.sd[i]
		for c := range ci + 1 {
			inverse[c] *= by
		}
	}
	w.spoilt = newSpoilt(w, e)
	return w
}

// whiten divides a run by its noise.
func (w *whitening) whiten(s *sample, e *era) (out white) {
	out.whitening = w
	for i := range w.n {
		c, r := w.channel[i], &out.rows[i]
		r[colSeen], r[colLaunch], r[colEngine] = s.y[c], e.launch[c], e.engine[c]
		for k := range laws {
			r[firstStatic+k] = s.laws[k][c]
		}
		for k := range i {
			f, before := w.low[i][k], &out.rows[k]
			for at := range firstBias {
				r[at] -= f * before[at]
			}
		}
		by := 1 / w.sd[i]
		for at := range firstBias {
			r[at] *= by
		}
		copy(r[firstBias:], w.inverse[i][:])
	}
	return out
}

// seen is how many columns a row knows.
func (w *whitening) seen(row int) int { return firstBias + w.channel[row] + 1 }

// gram is the sum of the products of rows, of each column with itself and those behind it:
// for an era.
type gram [columns]row

// luckGram are its first columns, which are summed up for each day too.
type luckGram [firstStatic]row

// add takes a row of a day in, of which so many columns are known; what is summed up by day
// goes there alone.
func (g *gram) add(day *luckGram, r *row, known int, weight float64) {
	for i, v := range r[:known] {
		if v == 0 {
			continue
		}
		to := &g[i]
		if i < firstStatic {
			to = &day[i]
		}
		by, from := v*weight, r[i:known]
		sums := to[i:][:len(from)]
		for j, x := range from {
			sums[j] += by * x
		}
	}
}

// addDay takes in what was summed up by day.
func (g *gram) addDay(day *luckGram) {
	for i := range day {
		from := day[i][i:]
		sums := g[i][i:][:len(from)]
		for j, x := range from {
			sums[j] += x
		}
	}
}
