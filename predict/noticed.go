package predict

import (
	"math"
	"slices"
	"time"
)

// noticed are the things not entered that are likelier than not and touch the next run.
func noticed(all []account) (notes []Note) {
	best := all[0]
	for _, s := range best.supposed {
		if chanceOf(all, s) < 0.5 {
			continue
		}
		if n, some := best.noticed(s); some {
			notes = append(notes, n)
		}
	}
	return notes
}

// chanceOf a supposition is the share of the accounts that have it.
func chanceOf(all []account, s supposition) (chance float64) {
	sum := 0.
	for _, a := range all {
		w := math.Exp(a.log - all[0].log)
		sum += w
		if slices.ContainsFunc(a.supposed, s.same) {
			chance += w
		}
	}
	return chance / sum
}

func (a account) noticed(s supposition) (Note, bool) {
	at := a.nextEra
	c := a.eras[at].change
	by := a.finishBias(at) - a.finishBias(c.from)
	n := Note{Since: a.begun(s.day)}
	switch {
	case c.kind != s.kind || s.kind == notCame && s.era != at:
		return n, false
	case s.kind == notCame:
		n.Kind, n.Share, n.Since = GainNotSeen, math.Expm1(c.power), time.Time{}
		return n, true
	case s.kind == oddDay:
		n.Kind = DayUnlike
	case s.kind == changed:
		n.Kind = ChangedSince
	}
	if c.from != s.era {
		return n, false
	}
	car, err := a.eras[at].car.run(a.usual, 0)
	n.ByS = math.Exp(car[timeAt[a.finish]]) * math.Expm1(by)
	return n, err == nil
}

// finishBias is an era's bias at the finish.
func (t *fit) finishBias(era int) float64 {
	sum := 0.
	for i, p := range t.posteriors {
		sum += t.chance[i] * p.mean[biasAt(era)+timeAt[t.finish]]
	}
	return sum
}

// begun is when the first run of a day was made.
func (t *fit) begun(day int) (first time.Time) {
	for i := range t.samples {
		if s := &t.samples[i]; s.day == day && (first.IsZero() || s.pass.Time.Before(first)) {
			first = s.pass.Time
		}
	}
	return first
}
