package predict

import (
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// lights is the law of a reaction, parted into green and red.
type lights struct {
	normal distuv.Normal
	share  float64 // of the normal law
	seen   []float64
	red    float64 // its chance
}

func newLights(r Reactions) lights {
	l := lights{normal: distuv.Normal{Mu: r.Mean, Sigma: r.SD}, seen: slices.Sorted(slices.Values(r.Seen))}
	l.share = usualReactions / float64(usualReactions+len(l.seen))
	l.red = l.before(0)
	return l
}

// before is the chance of a reaction quicker than x.
func (l lights) before(x float64) float64 {
	p := l.share * l.normal.CDF(x)
	if len(l.seen) > 0 {
		n, _ := slices.BinarySearch(l.seen, x)
		p += (1 - l.share) * float64(n) / float64(len(l.seen))
	}
	return p
}

// points are the red reactions, or the green ones, with weights that sum to their chance.
func (l lights) points(red bool) (at, weight []float64) {
	from, to := l.normal.CDF(0), 1.
	if red {
		from, to = 0, from
	}
	at, weight = make([]float64, nodes), make([]float64, nodes)
	if to-from > 1e-12 {
		quad.Legendre{}.FixedLocations(at, weight, from, to)
		for i, p := range at {
			at[i] = l.normal.Quantile(p)
			weight[i] *= l.share
		}
	}
	for _, r := range l.seen {
		if r < 0 == red {
			at, weight = append(at, r), append(weight, (1-l.share)/float64(len(l.seen)))
		}
	}
	return at, weight
}
