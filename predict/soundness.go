package predict

import (
	"math"
	"slices"
)

// Each run was sound up to some mark, and not beyond: to none (spoiled at the
// start), to one of the marks, or to the last. The chances of each are weighed by
// Bayes' rule, with the rows of the whitened run as evidence: sound ones are
// Gaussian, the first unsound one lies anywhere on the slow side, the later ones
// follow it loosely (a Cauchy law).

// soundTo are the chances, before looking, of a run whose racer noted nothing:
// nothing sound, sound to 60, 330, 660, 1000 ft, to the end. Set by trial on the tuning
// seasons, as what follows.
var soundTo = [6]float64{0.06, 0.02, 0.02, 0.04, 0.06, 0.80}

const (
	slowRange   = 0.10 // ln time or speed over which an unsound figure may lie
	fastSide    = 0.01 // how much less likely than slow is an unsound figure that is fast
	cauchyScale = 2.
)

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

// weigh sets how surely each channel of the run is sound, and returns the log
// density of the run; scale above 1 forgives more, while the fit is still rough.
func (s *sample) weigh(w *white, residual []float64, scale float64) float64 {
	var log [6]float64
	for k := range log {
		l := s.sound[k]
		broken := false
		for i := range w.n {
			u := residual[i] / scale
			switch {
			case int(channelOf[w.channel[i]].mark) < k:
				l += -u*u/2 - math.Log(scale) - 0.9189385
			case !broken:
				broken = true
				l += math.Log(w.sd[i] / slowRange)
				if u < 0 != channelOf[w.channel[i]].speed {
					l += math.Log(fastSide)
				}
			default:
				l -= math.Log(math.Pi * cauchyScale * (1 + u*u/(cauchyScale*cauchyScale)))
			}
		}
		log[k] = l
	}
	most := slices.Max(log[:])
	sum := 0.
	for k, l := range log {
		log[k] = math.Exp(l - most)
		sum += log[k]
	}
	for c, of := range channelOf {
		s.weight[c] = 0
		for k := int(of.mark) + 1; k < len(log); k++ {
			s.weight[c] += log[k] / sum
		}
	}
	density := most + math.Log(sum)
	for i := range w.n {
		density -= math.Log(w.sd[i])
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
