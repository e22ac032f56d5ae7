package predict

import "math"

// known are the channels that a run has, and Cholesky's factor of the noise R between them:
// by it they tell what the others would have been.
type known struct {
	noise *square
	at    []int
	low   [channels]vec // by the places in at
}

func newKnown(noise *square, has [channels]bool) *known {
	k := &known{noise: noise}
	for c, is := range has {
		if is {
			k.at = append(k.at, c)
		}
	}
	for i, ci := range k.at {
		for j, cj := range k.at[:i+1] {
			v := noise[ci][cj]
			for n := range j {
				v -= k.low[i][n] * k.low[j][n]
			}
			if i == j {
				k.low[i][i] = math.Sqrt(math.Max(v, 1e-14))
			} else {
				k.low[i][j] = v / k.low[j][j]
			}
		}
	}
	return k
}

// solve is R⁻¹ d over the known channels, 0 elsewhere.
func (k *known) solve(d *vec) (x vec) {
	for i, ci := range k.at {
		v := d[ci]
		for j, cj := range k.at[:i] {
			v -= k.low[i][j] * x[cj]
		}
		x[ci] = v / k.low[i][i]
	}
	for i := len(k.at) - 1; i >= 0; i-- {
		v := x[k.at[i]]
		for j := i + 1; j < len(k.at); j++ {
			v -= k.low[j][i] * x[k.at[j]]
		}
		x[k.at[i]] = v / k.low[i][i]
	}
	return x
}

// fillIn completes a sum of products over n runs that know only these channels:
// K S K' + n (R - K R K'), with K the regression of all channels on those known.
func (k *known) fillIn(sum *square, n float64) (out square) {
	if len(k.at) == channels {
		return *sum
	}
	var on [channels]vec // on[c][i]: the weight of known channel i for channel c
	for c := range channels {
		on[c] = k.solve((*vec)(&k.noise[c]))
	}
	for a := range channels {
		for b := range channels {
			v := n * k.noise[a][b]
			for _, i := range k.at {
				for _, j := range k.at {
					v += on[a][i] * (sum[i][j] - n*k.noise[i][j]) * on[b][j]
				}
			}
			out[a][b] = v
		}
	}
	return out
}
