package predict

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// law is the joint predictive law of a run's eight logs: a Student-t with the
// mean, the covariance and (by its degrees of freedom) the tails of the mixture
// that the grid of luck makes.
type runLaw struct {
	mean vec
	cov  square // covariance, not the t's scale matrix
	df   float64
}

// minDF keeps the covariance finite and the tails fitted by their fourth moment.
const minDF = 4.5

// lawOf predicts a run of an era in air of which the logs are known.
func (t *fit) lawOf(p *Pass, eraAt int) (runLaw, error) {
	e := t.eras[eraAt]
	air, doubt := t.airOf(p)
	model, err := e.car.run(air, windShare*headwind(p))
	if err != nil {
		return runLaw{}, err
	}
	sens := e.sens(p, air)
	day, seen := t.days[p.dayKey()]
	if !seen {
		day = -1
	}
	noise := t.noise[eraAt]
	noise.outer(e.thin, doubt*doubt)
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

// scaleOf is the t's scale of a standard deviation.
func (l *runLaw) scaleOf(sd float64) float64 { return sd * math.Sqrt((l.df-2)/l.df) }

// tails are the distances, in standard deviations, that the middle 50, 80 and
// 95 % reach to either side.
func (l *runLaw) tails() [3]float64 {
	t := distuv.StudentsT{Mu: 0, Sigma: l.scaleOf(1), Nu: l.df}
	return [3]float64{t.Quantile(0.75), t.Quantile(0.90), t.Quantile(0.975)}
}

// below is the probability of a value z standard deviations above the mean or less.
func (l *runLaw) below(z float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: l.scaleOf(1), Nu: l.df}.CDF(z)
}
