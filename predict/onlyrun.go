package predict

import "math"

// A vehicle's only run says how it went, not how the vehicle goes: nothing tells yet whether
// it was a good one. So the next may be as much quicker as spoiled runs are slower.

// Set by trial on the tuning seasons: the chance that an only run of which nothing was noted
// was spoiled, and how much it then lost, logs of the time at the finish, most of it in the
// engine. The law is wider than the losses are, so that the 95 % range holds nearly all.
const (
	onlySpoilt               = 0.1
	onlyLoss, onlyLossSD     = 0.08, 0.06
	onlyLaunchSD, onlyMisfit = 0.02, 4.
)

// only is the run, where there is no other and it counts to the finish.
func (t *fit) only() (s *sample, ok bool) {
	if len(t.samples) != 1 {
		return nil, false
	}
	s = &t.samples[0]
	c := timeAt[t.finish]
	return s, s.has[c] && s.weight[c] > 0.5
}

// afterOnly parts a law that rests on an only run by whether that was sound.
func (a account) afterOnly(p lawPart) []lawPart {
	s, ok := a.only()
	if !ok {
		return []lawPart{p}
	}
	// As much less likely as the racer's note makes it.
	chance := onlySpoilt * math.Min(math.Exp(s.sound[0])/soundTo[0], 1)
	e := a.eras[a.nextEra]
	spoilt := p
	spoilt.mean = p.mean.minus(e.engine.scaled(onlyLoss))
	spoilt.cov.outer(e.engine, onlyLossSD*onlyLossSD)
	spoilt.cov.outer(e.launch, onlyLaunchSD*onlyLaunchSD)
	for c, sd := range noiseMisfit {
		spoilt.cov[c][c] += math.Pow(onlyMisfit*sd, 2)
	}
	spoilt.chance *= chance
	p.chance *= 1 - chance
	return []lawPart{p, spoilt}
}
