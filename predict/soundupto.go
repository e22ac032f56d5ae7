package predict

import (
	"math"
	"slices"
)

// Each run was sound up to some mark, and not beyond: to none (spoiled at the
// start), to one of the marks, or to the last. The chances of each are weighed by
// Bayes' rule, with the rows of the whitened run as evidence: sound ones are
// Gaussian, the first unsound one lies anywhere on the slow side, the later ones
// follow it loosely (a Cauchy law). A run of which nothing was sound may as well have
// been made as runs are, by a car that launched badly or was short of power all along.

// soundTo are the chances, before looking, of a run whose racer noted nothing:
// nothing sound, sound to 60, 330, 660, 1000 ft, to the end. Set by trial on the tuning
// seasons, as what follows.
var soundTo = [6]float64{0.06, 0.02, 0.02, 0.04, 0.06, 0.80}

const (
	slowRange   = 0.10  // ln time or speed over which an unsound figure may lie
	fastSide    = 0.01  // how much less likely than slow is an unsound figure that is fast
	fastAlong   = 0.001 // and a run that is fast all along: a car goes no quicker by mistake
	cauchyScale = 2.

	// A figure so little on the fast side, in noise sds, is on neither: only a rounding put it
	// there, and what it costs would else be a rounding's to say.
	onLine = 1e-6

	// Of the time at the finish, in logs, what a bad launch and a sick engine cost; how
	// loosely such a run follows, in noiseMisfits.
	badLaunch, sickEngine = 0.03, 0.05
	spoiltLoose           = 4.
)

const logRoot2Pi = 0.9189385 // of a Gaussian

var logSlowRange, logFast, logFastAlong = math.Log(slowRange), math.Log(fastSide), math.Log(fastAlong)

// spoilt is what a run by a car out of sorts is told by: two effects of its own, taken out
// by Woodbury's identity.
type spoilt struct {
	variance       vec // of a whitened row
	launch, engine vec // what the effects do to it, each by its variance
	a, b, c        float64
	log            float64 // of the density where nothing is seen
}

func newSpoilt(w *whitening) (p spoilt) {
	product := 1.
	p.log = -float64(w.n) * logRoot2Pi
	for i := range w.n {
		at := w.channel[i]
		loose := spoiltLoose * noiseMisfit[at] / w.sd[i]
		s2 := 1 + loose*loose
		launch, engine := w.launch[i], w.engine[i]
		p.variance[i], p.launch[i], p.engine[i] = s2, launch/s2, engine/s2
		p.a, p.b, p.c = p.a+launch*launch/s2, p.b+launch*engine/s2, p.c+engine*engine/s2
		product *= s2
	}
	p.a, p.c = p.a+1/(badLaunch*badLaunch), p.c+1/(sickEngine*sickEngine)
	det := p.a*p.c - p.b*p.b // of the two effects, given the run
	p.log -= math.Log(det*(badLaunch*sickEngine*badLaunch*sickEngine)*product) / 2
	return p
}

// allAlong is the log density of a run spoilt so.
func (p *spoilt) allAlong(w *whitening, residual *vec) float64 {
	var x, y, u2 float64
	for i, u := range residual[:w.n] {
		x, y, u2 = x+p.launch[i]*u, y+p.engine[i]*u, u2+u*u/p.variance[i]
	}
	det := p.a*p.c - p.b*p.b
	launch, engine := (p.c*x-p.b*y)/det, (p.a*y-p.b*x)/det
	log := p.log - (u2-x*launch-y*engine)/2
	if launch+engine < -badLaunch*onLine {
		return log + logFastAlong
	}
	return log + math.Ln2 // it is slower, half of that law
}

// soundChances takes the racer's note into account.
func soundChances(p *Pass) (log [6]float64) {
	chance := soundTo
	finish, _ := p.Splits.Finish()
	switch {
	case p.FullFt.Known() && p.FullFt.Value() < finish.Ft():
		for m := At60; m < Marks; m++ {
			if m.Ft() > p.FullFt.Value() {
				chance[m+1] = 0
			}
		}
	case p.Effort == FullPower:
		chance[5] *= 5
	case p.Effort == "":
	case p.Effort == Lifted || p.Effort == Braked:
		// Not noted where: anywhere before the finish.
		for m := finish; m < Marks; m++ {
			chance[m+1] = 0
		}
		chance[finish] *= 4
	default:
		chance = [6]float64{1}
	}
	sum := 0.
	for _, c := range chance {
		sum += c
	}
	for i, c := range chance {
		log[i] = math.Log(c / sum)
	}
	return log
}

// habitRuns is how many runs the usual chances of soundness are worth against the driver's
// own habits; set by trial on the tuning seasons.
const habitRuns = 12

// learnHabits moves what is believed of runs of which nothing was noted, before looking,
// towards how far the driver's runs were sound.
func (t *fit) learnHabits() {
	n, sum := 0., [6]float64{}
	for i := range t.samples {
		if s := &t.samples[i]; s.unnoted() && s.pass.Splits.ETs[t.finish].Known() {
			n++
			for k, p := range s.upTo {
				sum[k] += p
			}
		}
	}
	var log [6]float64
	for k, p := range soundTo {
		log[k] = math.Log((habitRuns*p + sum[k]) / (habitRuns + n))
	}
	for i := range t.samples {
		if s := &t.samples[i]; s.unnoted() {
			s.sound = log
		}
	}
}

func (s *sample) unnoted() bool { return s.pass.Effort == "" && !s.pass.FullFt.Known() }

// weigh sets how surely each channel of the run is sound, and returns the log
// density of the run; scale above 1 forgives more, while the fit is still rough.
func (s *sample) weigh(w *white, residual *vec, scale float64) float64 {
	logScale := math.Log(scale)
	// Of each figure: the log of its density if sound; one over that of it and those behind it,
	// the run unsound before it.
	var sound vec
	var loose [channels + 1]float64
	loose[w.n] = 1
	for i := w.n - 1; i >= 0; i-- {
		u := residual[i] / scale
		sound[i] = -u*u/2 - logScale - logRoot2Pi
		loose[i] = loose[i+1] * math.Pi * cauchyScale * (1 + u*u/(cauchyScale*cauchyScale))
	}
	// Of the run sound up to k: the log of its density, but for what is loose.
	var log, behind [6]float64
	upTo, first := 0., 0 // the sound figures; the first that is not
	for k := range log {
		for ; first < w.n && int(channelOf[w.channel[first]].mark) < k; first++ {
			upTo += sound[first]
		}
		log[k], behind[k] = s.sound[k]+upTo, 1
		if first < w.n {
			log[k] += w.logSD[first] - logSlowRange
			fast := -residual[first]
			if channelOf[w.channel[first]].speed {
				fast = residual[first]
			}
			if fast > onLine {
				log[k] += logFast
			}
			behind[k] = loose[first+1]
		}
	}
	allAlong := s.sound[0] + w.spoilt.allAlong(w.whitening, residual)
	most := math.Max(slices.Max(log[:]), allAlong)
	sum := 0.
	for k, l := range log {
		s.upTo[k] = math.Exp(l-most) / behind[k]
		if k == 0 {
			s.upTo[0] = (s.upTo[0] + math.Exp(allAlong-most)) / 2
		}
		sum += s.upTo[k]
	}
	for k := range s.upTo {
		s.upTo[k] /= sum
	}
	for c, of := range channelOf {
		s.weight[c] = 0
		for k := int(of.mark) + 1; k < len(log); k++ {
			s.weight[c] += s.upTo[k]
		}
	}
	density := most + math.Log(sum)
	s.rest = density
	for i := range w.n {
		density -= w.logSD[i]
		s.rest += s.weight[w.channel[i]]*residual[i]*residual[i]/2 - w.logSD[i]
	}
	return density
}

// soundFt is how far the run is more likely sound than not.
func (s *sample) soundFt() (ft float64, some bool) {
	for m := At1320; m >= At60; m-- {
		if c := timeAt[m]; s.has[c] && s.weight[c] > 0.5 {
			return m.Ft(), true
		}
	}
	return 0, false
}
