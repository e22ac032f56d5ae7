package predict

import (
	"math"
	"slices"
)

// noiseRuns is how many runs the shape of the noise is worth before they are made, and
// scaleRuns how many its size is, as a share of the ordinary one's variance: cars differ
// in how steady they are before they differ in how. Set by trial on the tuning seasons.
const (
	noiseRuns   = 10
	scaleRuns   = 2
	scaleLikely = 0.9
)

// learnNoise moves the noise towards what the sound runs scatter by: the mean of
// an inverse-Wishart posterior, absent channels filled in by their conditional
// Gaussians, and what the fit itself may be off by added (an EM step). The prior is of
// the size that their last times show.
func (t *fit) learnNoise(p *posterior) {
	last := t.eras[t.nextEra]
	prior := ordinaryNoise(last)
	size, sized := scaleRuns*scaleLikely, float64(scaleRuns)
	now := t.noise[t.nextEra]
	fittedDay, fittedEra := -1, -1
	var cov square
	type pattern [channels]bool
	type scatter struct {
		of  pattern
		sum square
		n   float64
	}
	var scatters []scatter
	for i := range t.samples {
		s := &t.samples[i]
		var sound pattern
		some := false
		for c := range channels {
			sound[c] = s.has[c] && s.weight[c] > 0.5
			some = some || sound[c]
		}
		if !some {
			continue
		}
		e := t.eras[s.era]
		if s.day != fittedDay || s.era != fittedEra {
			cov = p.predictCov(e, s.era, s.laws, s.day)
			fittedDay, fittedEra = s.day, s.era
		}
		launch, engine := p.luckOf(s.day)
		left := s.y.minus(p.static(s.era, s.laws))
		for c := range left {
			left[c] -= launch*e.launch[c] + engine*e.engine[c]
		}
		at := slices.IndexFunc(scatters, func(s scatter) bool { return s.of == sound })
		if at < 0 {
			at = len(scatters)
			scatters = append(scatters, scatter{of: sound})
		}
		x := &scatters[at]
		x.sum.add(&cov, 1)
		x.sum.outer(left, 1)
		x.n++
		for c := channels - 1; c > 0; c-- {
			if sound[c] && !channelOf[c].speed {
				size += (left[c]*left[c] + cov[c][c]) / prior[c][c]
				sized++
				break
			}
		}
	}
	n := float64(noiseRuns)
	var total square
	total.add(&prior, noiseRuns*size/sized)
	for i := range scatters {
		x := &scatters[i]
		filled := fillIn(&now, x.of, &x.sum, x.n)
		total.add(&filled, 1)
		n += x.n
	}
	for e := range t.noise {
		t.noise[e] = square{}
		t.noise[e].add(&total, 1/n)
	}
	t.noiseDF = n
}

// fillIn completes a sum of products over n runs that know only the given
// channels: K S K' + n (R - K R K'), with K the regression of all channels on
// those known, under the noise R.
func fillIn(noise *square, known [channels]bool, sum *square, n float64) (out square) {
	var at []int
	for c, k := range known {
		if k {
			at = append(at, c)
		}
	}
	if len(at) == channels {
		return *sum
	}
	q := len(at)
	// Solve R_kk X = R_k,all by Cholesky, K = X'.
	var low [channels]vec
	for i := range q {
		for j := range i + 1 {
			v := noise[at[i]][at[j]]
			for k := range j {
				v -= low[i][k] * low[j][k]
			}
			if i == j {
				low[i][i] = math.Sqrt(math.Max(v, 1e-14))
			} else {
				low[i][j] = v / low[j][j]
			}
		}
	}
	var k [channels]vec // k[c][i]: weight of known channel i for channel c
	for c := range channels {
		var x vec
		for i := range q {
			v := noise[at[i]][c]
			for j := range i {
				v -= low[i][j] * x[j]
			}
			x[i] = v / low[i][i]
		}
		for i := q - 1; i >= 0; i-- {
			v := x[i]
			for j := i + 1; j < q; j++ {
				v -= low[j][i] * x[j]
			}
			x[i] = v / low[i][i]
		}
		k[c] = x
	}
	for a := range channels {
		for b := range channels {
			v := n * noise[a][b]
			for i := range q {
				for j := range q {
					v += k[a][i] * (sum[at[i]][at[j]] - n*noise[at[i]][at[j]]) * k[b][j]
				}
			}
			out[a][b] = v
		}
	}
	return out
}
