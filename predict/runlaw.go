package predict

import (
	"math"

	"slipcase/weather"

	"gonum.org/v1/gonum/stat/distuv"
)

// runLaw is the joint predictive law of a run's eight logs. One fit gives a Student-t with
// the mean, the covariance and (by its degrees of freedom) the tails of the mixture that
// the grid of luck makes. Several fits, of several things that may be, give a mixture of
// such laws: mean has then its medians, and cov the spread of its middle, as of one t that
// holds as much in the middle 80 %, with the correlations of the mixture.
type runLaw struct {
	mean  vec
	cov   square // covariance, not the t's scale matrix
	df    float64
	parts []lawPart // of a mixture
}

// lawPart is one law of a mixture and its chance.
type lawPart struct {
	chance float64
	runLaw
}

// minDF keeps the covariance finite and the tails fitted by their fourth moment.
const minDF = 4.5

// airOf is the air of a run and its doubt, as far as the runs bear it out, ft.
func (t *fit) airOf(p *Pass) (weather.Air, float64) {
	air, doubt := t.field.airOf(p)
	return air, doubt * t.airOff
}

// lawOf predicts a run of an era in air of which the logs are known.
func (t *fit) lawOf(p *Pass, eraAt int) (runLaw, error) {
	e := t.eras[eraAt]
	air, doubt := t.airOf(p)
	model, err := e.car.runOf(p, air)
	if err != nil {
		return runLaw{}, err
	}
	noise := t.noise[eraAt]
	noise.outer(e.thin, doubt*doubt)
	noise.outer(e.stopAhead(p, air), 1)
	day, seen := t.days[p.dayKey()]
	if !seen {
		day = -1
	}
	sens := t.sensOf(e, p, air, t.runsOf(day))
	c := timeAt[t.finish]
	var l runLaw
	means := make([]vec, len(t.posteriors))
	covs := make([]square, len(t.posteriors))
	for i, post := range t.posteriors {
		means[i], covs[i] = post.predict(e, eraAt, sens, day)
		covs[i].add(&noise, 1)
		for k := range l.mean {
			l.mean[k] += t.chance[i] * means[i][k]
		}
	}
	// The fourth moment of the mixture at the finish: each part a t by the doubt
	// about the noise.
	df := math.Max(t.noiseDF, noiseRuns)
	fourth := 0.
	for i := range means {
		l.cov.add(&covs[i], t.chance[i])
		d := means[i].minus(l.mean)
		l.cov.outer(d, t.chance[i])
		v := covs[i][c][c]
		fourth += t.chance[i] * (3*v*v*(df-2)/(df-4) + 6*v*d[c]*d[c] + math.Pow(d[c], 4))
	}
	excess := fourth/(l.cov[c][c]*l.cov[c][c]) - 3
	l.df = 1000
	if excess > 0.006 {
		l.df = math.Max(4+6/excess, minDF)
	}
	for k := range l.mean {
		l.mean[k] += model[k]
	}
	return l, nil
}

// mixture joins laws by their chances, which sum to one.
func mixture(parts []lawPart) runLaw {
	if len(parts) == 1 {
		return parts[0].runLaw
	}
	l := runLaw{parts: parts}
	var mean vec
	for i := range parts {
		mean = mean.minus(parts[i].mean.scaled(-parts[i].chance))
		l.df += parts[i].chance * parts[i].df
	}
	for i := range parts {
		l.cov.add(&parts[i].cov, parts[i].chance)
		l.cov.outer(parts[i].mean.minus(mean), parts[i].chance)
	}
	middle := l.tails()[1]
	var shrink vec
	for c := range l.mean {
		m := l.marginal(c)
		l.mean[c] = m.Quantile(0.5)
		shrink[c] = (m.Quantile(0.9) - m.Quantile(0.1)) / 2 / middle / math.Sqrt(l.cov[c][c])
	}
	for i := range l.cov {
		for j := range l.cov {
			l.cov[i][j] *= shrink[i] * shrink[j]
		}
	}
	return l
}

// moved is the law of a run that is different by so much in its logs, and with that
// standard deviation on each, whatever else.
func (l runLaw) moved(by, sd vec) runLaw {
	out := l
	out.parts = nil
	for c := range channels {
		out.mean[c] += by[c]
		out.cov[c][c] += sd[c] * sd[c]
	}
	for _, p := range l.parts {
		out.parts = append(out.parts, lawPart{p.chance, p.moved(by, sd)})
	}
	return out
}

// tails are the distances, in standard deviations, that the middle 50, 80 and
// 95 % reach to either side; of a mixture they are not asked.
func (l *runLaw) tails() [3]float64 {
	t := distuv.StudentsT{Mu: 0, Sigma: scaleOf(1, l.df), Nu: l.df}
	return [3]float64{t.Quantile(0.75), t.Quantile(0.90), t.Quantile(0.975)}
}

func (l *runLaw) bandOf(c int, tails [3]float64) Band {
	if len(l.parts) > 0 {
		m := l.marginal(c)
		at := func(p float64) float64 { return math.Exp(m.Quantile(p)) }
		// The centre may be what the setup states, off the mixture's middle (accounts.go): a
		// range holds it all the same.
		centre := math.Exp(l.mean[c])
		low := func(p float64) float64 { return math.Min(at(p), centre) }
		high := func(p float64) float64 { return math.Max(at(p), centre) }
		return Band{centre, low(0.25), high(0.75), low(0.1), high(0.9), low(0.025), high(0.975)}
	}
	sd := math.Sqrt(l.cov[c][c])
	at := func(z float64) float64 { return math.Exp(l.mean[c] + z*sd) }
	return Band{at(0), at(-tails[0]), at(tails[0]), at(-tails[1]), at(tails[1]), at(-tails[2]), at(tails[2])}
}

// scaleOf is the scale of a t of that standard deviation.
func scaleOf(sd, df float64) float64 { return sd * math.Sqrt((df-2)/df) }

// marginal is the law of one channel.
func (l *runLaw) marginal(c int) marginal {
	if len(l.parts) == 0 {
		return marginal{{1, distuv.StudentsT{Mu: l.mean[c], Sigma: scaleOf(math.Sqrt(l.cov[c][c]), l.df), Nu: l.df}}}
	}
	var m marginal
	for i := range l.parts {
		p := &l.parts[i]
		m = append(m, weightedT{p.chance, p.marginal(c)[0].t})
	}
	return m
}

// marginal is a mixture of Student-t laws.
type marginal []weightedT

type weightedT struct {
	chance float64
	t      distuv.StudentsT
}

// CDF is the probability of x or less.
func (m marginal) CDF(x float64) (sum float64) {
	for _, p := range m {
		sum += p.chance * p.t.CDF(x)
	}
	return sum
}

// Quantile inverts CDF, by Newton's steps held between bounds.
func (m marginal) Quantile(p float64) float64 {
	if len(m) == 1 {
		return m[0].t.Quantile(p)
	}
	low, high, x := math.Inf(1), math.Inf(-1), 0.
	for _, part := range m {
		const far = 40
		low, high = math.Min(low, part.t.Mu-far*part.t.Sigma), math.Max(high, part.t.Mu+far*part.t.Sigma)
		x += part.chance * part.t.Mu
	}
	variance := 0.
	for _, part := range m {
		variance += part.chance * (part.t.Variance() + (part.t.Mu-x)*(part.t.Mu-x))
	}
	x += distuv.UnitNormal.Quantile(p) * math.Sqrt(variance) // near enough for few steps
	for range 60 {
		over, slope := -p, 0.
		for _, part := range m {
			over += part.chance * part.t.CDF(x)
			slope += part.chance * part.t.Prob(x)
		}
		if over > 0 {
			high = x
		} else {
			low = x
		}
		if math.Abs(over) < 1e-7 || high-low < 1e-7 {
			break
		}
		if x -= over / slope; !(x > low && x < high) {
			x = (low + high) / 2
		}
	}
	return x
}
