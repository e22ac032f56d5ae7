package predict

import "gonum.org/v1/gonum/mat"

// rowSums is what runs of one whitening sum up to, each row by its weight, as far as they differ:
// what the whitening itself does is multiplied in when they are put down, once for all of them.
type rowSums struct {
	weight, seen vec                 // by row
	laws         [laws]vec           // the same
	square       float64             // of what was seen
	seenLaw      [laws]float64       // products, all rows summed up
	lawLaw       [laws][laws]float64 // the same, from the diagonal on
}

// leastWeight is the weight of a row from which on it is summed up.
const leastWeight = 1e-6

// addRun takes a run in. known are the laws that some run tells of.
func (a *rowSums) addRun(s *sample, w *white, known []int) {
	for i := range w.n {
		weight := s.weight[w.channel[i]]
		if weight <= leastWeight {
			continue
		}
		seen := weight * w.seen[i]
		a.weight[i] += weight
		a.seen[i] += seen
		a.square += seen * w.seen[i]
		for n, k := range known {
			law := w.laws[k][i]
			if law == 0 {
				continue
			}
			a.seenLaw[k] += seen * law
			by := weight * law
			a.laws[k][i] += by
			for _, o := range known[n:] {
				a.lawLaw[k][o] += by * w.laws[o][i]
			}
		}
	}
}

func (a *rowSums) add(b *rowSums, known []int) {
	for i := range channels {
		a.weight[i] += b.weight[i]
		a.seen[i] += b.seen[i]
	}
	a.square += b.square
	for n, k := range known {
		a.seenLaw[k] += b.seenLaw[k]
		for i := range channels {
			a.laws[k][i] += b.laws[k][i]
		}
		for _, o := range known[n:] {
			a.lawLaw[k][o] += b.lawLaw[k][o]
		}
	}
}

// tellDay puts down what it says of a day's luck.
func (a *rowSums) tellDay(d *dayRuns, w *whitening, era int, known []int) {
	at := len(known) + channels*era
	launch, engine := d.launch[at:][:channels], d.engine[at:][:channels]
	for i := range w.n {
		l, e := w.launch[i], w.engine[i]
		byL, byE := a.weight[i]*l, a.weight[i]*e
		d.info[0][0] += byL * l
		d.info[0][1] += byL * e
		d.info[1][1] += byE * e
		d.pull[0] += a.seen[i] * l
		d.pull[1] += a.seen[i] * e
		for c, k := range known {
			d.launch[c] += a.laws[k][i] * l
			d.engine[c] += a.laws[k][i] * e
		}
		for c, v := range w.inverse[i][:w.channel[i]+1] {
			launch[c] += byL * v
			engine[c] += byE * v
		}
	}
}

// tell puts down what it says of the unknowns, before luck: information and pull, and the
// square of what was seen.
func (a *rowSums) tell(info *mat.SymDense, pull []float64, w *whitening, known []int) (square float64) {
	raw, bias := info.RawSymmetric(), biasAt(w.era)
	for n, k := range known {
		pull[k] += a.seenLaw[k]
		for _, o := range known[n:] {
			raw.Data[k*raw.Stride+o] += a.lawLaw[k][o]
		}
	}
	for i := range w.n {
		inverse := w.inverse[i][:w.channel[i]+1]
		for c, v := range inverse {
			pull[bias+c] += a.seen[i] * v
			by, row := a.weight[i]*v, raw.Data[(bias+c)*raw.Stride+bias:]
			for o := c; o < len(inverse); o++ {
				row[o] += by * inverse[o]
			}
		}
		for _, k := range known {
			row := raw.Data[k*raw.Stride+bias:]
			for c, v := range inverse {
				row[c] += a.laws[k][i] * v
			}
		}
	}
	return a.square
}
