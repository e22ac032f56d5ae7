package predict

import (
	"cmp"
	"math"
	"slices"
)

// The log is fitted as it was entered, and again with what may have happened and was not
// entered, one thing after another while they explain the runs better. Each fit counts by
// the chance of what it supposes and by how well it explains the runs.

// account is a fit and what it supposes.
type account struct {
	*fit
	supposed []supposition
	log      float64 // of its chance, up to a constant
}

const (
	mostAccounts = 14
	leastAccount = 0.02 // chance beside the likeliest
)

// weighAccounts gives the accounts that count, the likeliest first, their runs weighed and
// the luck of their days not averaged over yet; base is the log as entered.
func weighAccounts(base *fit) ([]account, error) {
	if err := base.climb(cell{1, 0}, cell{-1, 0}, cell{0, 1}, cell{0, -1}); err != nil {
		return nil, err
	}
	log, err := base.settleAgain(func(*sample) bool { return false })
	if err != nil {
		return nil, err
	}
	all := []account{{base, nil, log}}
	for best := 0; best >= 0; {
		from := all[best]
		best = -1
		for _, s := range from.suspects() {
			if len(all) == mostAccounts {
				break
			}
			a, ok, err := from.with(s)
			if err != nil {
				return nil, err
			}
			if !ok {
				continue
			}
			all = append(all, a)
			if a.log > from.log && (best < 0 || a.log > all[best].log) {
				best = len(all) - 1
			}
		}
	}
	keepOpen(all)
	slices.SortStableFunc(all, func(a, b account) int { return cmp.Compare(b.log, a.log) })
	least := all[0].log + math.Log(leastAccount)
	all = slices.DeleteFunc(all, func(a account) bool { return a.log < least })
	return all, nil
}

// with fits the log again, one thing more supposed; false where it cannot have been.
func (a account) with(s supposition) (account, bool, error) {
	f, ok := a.supposing(s)
	if !ok {
		return account{}, false, nil
	}
	t := &fit{field: f, weighedBy: a.weighedBy, noise: slices.Clone(a.noise), noiseDF: a.noiseDF, airOff: a.airOff}
	for len(t.noise) < len(f.eras) {
		t.noise = append(t.noise, a.noise[s.era])
	}
	var err error
	if t.biases, err = newBelievedBiases(f); err != nil {
		return account{}, false, err
	}
	of := s.era
	if s.kind == oddDay {
		of = len(f.eras) - 1
	}
	log, err := t.settleAgain(func(x *sample) bool { return x.era == of || x.era >= len(a.eras) })
	if err != nil {
		return account{}, false, err
	}
	if f.firstDay(of) == len(f.days) {
		log = a.log // no run can tell
		for _, s := range a.supposed {
			log -= a.logOdds(s)
		}
	}
	out := account{t, append(slices.Clone(a.supposed), s), log}
	for _, s := range out.supposed {
		out.log += t.logOdds(s)
	}
	return out, true, nil
}

// settleAgain weighs the runs anew, some of them from the middle of their own era, and
// returns the bound.
func (t *fit) settleAgain(own func(*sample) bool) (float64, error) {
	if t.whites == nil {
		t.whiten()
	}
	t.firstWeights(starts[0], make([]int, len(t.eras)), own)
	for i, scale := range []float64{2, 1, 1} {
		if i == 2 { // what was not entered had passed for luck
			if err := t.climb(cell{-1, 0}, cell{0, -1}); err != nil {
				return 0, err
			}
		}
		p, err := t.biases.solve(t.daySums(), t.weighedBy)
		if err != nil {
			return 0, err
		}
		if i > 0 {
			t.learnNoise(p)
			t.whiten()
		}
		t.reweigh(p, scale)
	}
	return t.bound()
}

// bound is a lower bound of the log density of all runs, weights and biases averaged
// over: by it fits of one log are compared. (The mean-field bound; see e.g. C. M. Bishop,
// Pattern Recognition and Machine Learning (2006), ch. 10.)
func (t *fit) bound() (float64, error) {
	p, err := t.biases.solve(t.daySums(), t.weighedBy)
	if err != nil {
		return 0, err
	}
	sum := p.evidence + t.luckPrior(math.Sqrt(t.weighedBy.launch)) + t.luckPrior(math.Sqrt(t.weighedBy.engine))
	for i := range t.samples {
		sum += t.samples[i].rest
	}
	return sum, nil
}

// lawOfAll is the law of the next run, each account by its chance. Before the first run of
// a day, that it will be an odd one, or that a change was made since the last, counts too.
func lawOfAll(all []account) (runLaw, error) {
	sum := 0.
	for _, a := range all {
		sum += math.Exp(a.log - all[0].log)
	}
	var parts []lawPart
	for _, a := range all {
		l, err := a.lawOf(a.next, a.nextEra)
		if err != nil {
			return l, err
		}
		for _, p := range a.ahead(l, math.Exp(a.log-all[0].log)/sum) {
			parts = append(parts, a.afterOnly(p)...)
		}
	}
	return mixture(parts), nil
}

// asStated is the middle of a setup without runs by what it states: the middle of the
// vehicle as it was, by the accounts that its runs tell of, and the run model's change.
func asStated(all []account) (mean vec, err error) {
	told := slices.DeleteFunc(slices.Clone(all), func(a account) bool {
		return slices.ContainsFunc(a.supposed, func(s supposition) bool { return s.kind == notCame && !a.eras[s.era].raced })
	})
	if len(told) == 0 {
		told = all
	}
	for i := range told {
		was := *told[i].fit
		f := *was.field
		f.nextEra = f.eras[f.nextEra].change.from // the setup before, or what became of it
		was.field = &f
		told[i].fit = &was
	}
	l, err := lawOfAll(told)
	if err != nil {
		return mean, err
	}
	a := all[0]
	air, _ := a.airOf(a.next)
	before, err := a.eras[a.eras[a.nextEra].change.from].car.runOf(a.next, air)
	if err != nil {
		return mean, err
	}
	after, err := a.eras[a.nextEra].car.runOf(a.next, air)
	mean = l.mean.minus(before.minus(after))
	if now := a.eras[a.nextEra].change; now.forPower {
		mean = mean.plus(now.shift)
	}
	return mean, err
}

// ahead parts the law of the next run by what its day may bring.
func (a account) ahead(l runLaw, chance float64) []lawPart {
	if len(a.samples) == 0 || a.told(a.next.dayKey()) {
		return []lawPart{{chance, l}}
	}
	e := a.eras[a.nextEra]
	part := func(c eraChange, share float64) lawPart {
		p := lawPart{chance * share, l}
		doubt := c.unenteredDoubt(e)
		p.cov.add(&doubt, 1)
		p.mean = p.mean.plus(c.shift)
		return p
	}
	odd := a.oddNext()
	return []lawPart{
		{chance * (1 - odd - changedAhead), l},
		part(eraChange{kind: oddDay, shift: e.launch.scaled(oddSlower)}, odd),
		part(eraChange{kind: changed, step: changedStep}, changedAhead),
	}
}

// told reports whether a run of the day tells what the day is like.
func (t *fit) told(key string) bool {
	day, begun := t.days[key]
	return begun && slices.ContainsFunc(t.dayLevels(), func(d dayLevel) bool { return d.day == day })
}

// oddNext is the chance that the next day will be odd, as the days so far had it.
func (a account) oddNext() float64 {
	odd := 0.
	for _, s := range a.supposed {
		if s.kind == oddDay {
			odd++
		}
	}
	return (oddAhead*oddDays + odd) / (oddDays + float64(len(a.days)))
}
