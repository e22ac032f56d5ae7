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
	slowRange   = 0.10 // ln time or speed over which an unsound figure may lie
	fastSide    = 0.01 // how much less likely than slow is an unsound figure that is fast
	cauchyScale = 2.

	// Of the time at the finish, in logs, what a bad launch and a sick engine cost; how
	// loosely such a run follows, in noiseMisfits.
	badLaunch, sickEngine = 0.03, 0.05
	spoiltLoose           = 4.
)

const logRoot2Pi = 0.9189385 // of a Gaussian

var logSlowRange, logFast = math.Log(slowRange), math.Log(fastSide)

// spoiltAllAlong is the log density of a run by a car out of sorts: two effects of its
// own, taken out by Woodbury's identity.
func (w *white) spoiltAllAlong(residual []float64) float64 {
	var a, b, c, x, y, u2 float64
	for i, u := range residual {
		s2 := w.spoilt[i]
		l, e := w.rows[i][colLaunch], w.rows[i][colEngine]
		a, b, c = a+l*l/s2, b+l*e/s2, c+e*e/s2
		x, y, u2 = x+l*u/s2, y+e*u/s2, u2+u*u/s2
	}
	a, c = a+1/(badLaunch*badLaunch), c+1/(sickEngine*sickEngine)
	det := a*c - b*b // of the two effects, given the run
	launch, engine := (c*x-b*y)/det, (a*y-b*x)/det
	log := -(u2-x*launch-y*engine)/2 - math.Log(det*(badLaunch*sickEngine*badLaunch*sickEngine))/2 -
		w.logs - float64(w.n)*logRoot2Pi
	if launch+engine < 0 {
		return log + logFast
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
func (s *sample) weigh(w *white, residual []float64, scale float64) float64 {
	logScale := math.Log(scale)
	var sound, first, later vec // of each figure: as sound, as the first unsound one, as one behind it
	for i := range w.n {
		u := residual[i] / scale
		sound[i] = -u*u/2 - logScale - logRoot2Pi
		first[i] = w.logSD[i] - logSlowRange
		if u < 0 != channelOf[w.channel[i]].speed {
			first[i] += logFast
		}
		later[i] = -math.Log(math.Pi * cauchyScale * (1 + u*u/(cauchyScale*cauchyScale)))
	}
	var log [6]float64
	for k := range log {
		log[k] = s.sound[k]
		broken := false
		for i := range w.n {
			switch {
			case int(channelOf[w.channel[i]].mark) < k:
				log[k] += sound[i]
			case !broken:
				broken = true
				log[k] += first[i]
			default:
				log[k] += later[i]
			}
		}
	}
	log[0] = logSum([]float64{log[0], s.sound[0] + w.spoiltAllAlong(residual)}) - math.Ln2
	most := slices.Max(log[:])
	sum := 0.
	for k, l := range log {
		log[k] = math.Exp(l - most)
		sum += log[k]
	}
	for k := range log {
		s.upTo[k] = log[k] / sum
	}
	for c, of := range channelOf {
		s.weight[c] = 0
		for k := int(of.mark) + 1; k < len(log); k++ {
			s.weight[c] += log[k] / sum
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
