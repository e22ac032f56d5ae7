package predict

import (
	"math"
)

// The unknowns that stay the same from day to day: the laws, and behind them the era's bias on
// each channel.
const staticCols = laws + channels

// white is a run as independent observations of unit noise: row j is the part of channel j
// that the channels before it do not tell. A run sound up to some mark is the rows up to there.
// Row by row it is what was seen, and what one more of each law would do; what a day's luck and
// the biases do is the whitening's.
type white struct {
	*whitening
	seen vec
	laws [laws]vec
}

// whitening is what makes a run white: the lower triangle of its noise, by which it is
// divided. It serves all runs of an era with the same channels and as uncertain an air.
type whitening struct {
	era, place     int // place among the fit's
	channel        [channels]int
	n              int
	low            [channels]vec // below its diagonal
	sd             vec           // the diagonal: of channel j, given those before it
	inverse        [channels]vec // of the triangle, by row and channel: what the biases do
	launch, engine vec           // what a day's do
	// What weighing asks of sd again and again: its log, and what a run spoilt all along
	// scatters by and is told of (soundupto.go).
	logSD  vec
	spoilt spoilt
}

// whitenedBy is what runs have in common that one whitening serves.
type whitenedBy struct {
	era   int
	has   [channels]bool
	doubt vec
}

// newWhitening divides the noise of a run into triangles, with what the air may be off by:
// airOff times its doubt.
func newWhitening(s *sample, e *era, noise *square, airOff float64) *whitening {
	w := &whitening{era: s.era}
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
	w.launch, w.engine = w.of(&e.launch), w.of(&e.engine)
	w.spoilt = newSpoilt(w)
	return w
}

// of divides what each channel has by the noise.
func (w *whitening) of(v *vec) (out vec) {
	for i := range w.n {
		sum := 0.
		for c, by := range w.inverse[i][:w.channel[i]+1] {
			sum += by * v[c]
		}
		out[i] = sum
	}
	return out
}

// whiten divides a run by its noise.
func (w *whitening) whiten(s *sample) (out white) {
	out.whitening, out.seen = w, w.of(&s.y)
	for k := range laws {
		if s.laws[k] != (vec{}) {
			out.laws[k] = w.of(&s.laws[k])
		}
	}
	return out
}

// residuals are the whitened run less what explains it: the day's luck, what the car is off the
// laws by, and its biases, whitened.
func (w *white) residuals(launch, engine float64, off *[laws]float64, bias *vec) (u vec) {
	for i := range w.n {
		u[i] = w.seen[i] - bias[i] - launch*w.launch[i] - engine*w.engine[i]
	}
	for k, by := range off {
		if by != 0 {
			for i := range w.n {
				u[i] -= by * w.laws[k][i]
			}
		}
	}
	return u
}
