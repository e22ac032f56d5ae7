package predict

import (
	"math"
	"slices"
)

// What may have happened that nobody entered, and that the runs can tell: a day out of
// the ordinary, a change to the vehicle, a stated gain that did not come. Each is a state
// of the vehicle like a setup's, an era, that the runs of a day, or those from a day on,
// belong to.

// unentered is a kind of what was not entered.
type unentered int

const (
	asEntered unentered = iota
	oddDay              // the track was cold or slick
	changed             // something was done to the vehicle
	notCame             // the power of the setup is not what was stated
)

// supposition is one such thing, at one place of the log.
type supposition struct {
	kind unentered
	day  int     // oddDay: which; changed: from which on
	era  int     // the era that it parts, or that did not come
	step float64 // changed: by how much slower, as the days stand; log of the time at the finish
}

// What is believed of it, before any run.
const (
	// Chances of a day, and of a setup with more power; set by trial on the tuning seasons.
	// The next day is odd with oddAhead until the car's own days tell, as many as oddDays, and
	// follows a change with changedAhead: of a day that is out of line these are the likelier
	// explanations.
	oddChance     = 0.12
	oddAhead      = 0.02
	oddDays       = 12
	changedChance = 0.04
	changedAhead  = 0.015
	byOneRun      = 0.3 // times the chance of either, where one slow run alone tells: it is likelier spoiled
	notCameChance = 0.12

	// An odd day is usually slower: most of it at the launch, logs of the time at the
	// finish (common practice, no source); what neither launch nor engine explains, in
	// noiseMisfits.
	oddSlower, oddLaunchSD, oddEngineSD, oddMisfit = 0.035, 0.015, 0.006, 4.
	// A change that was forgotten may be anything, as one that is told by name alone; it is
	// explained less well the larger it is, for the run model's slopes are of a small one:
	// noiseMisfits by the square of what it comes to, and at least so many; what it would come
	// to that is not seen yet.
	changedMisfit, leastMisfit, changedStep = 800., 0.5, 0.075
	// Of a gain that did not come some may have: shares of it; noiseMisfits.
	cameLikely, cameSD, cameMisfit = 0.15, 0.25, 3.
)

// same reports whether both are the same thing, however large.
func (s supposition) same(o supposition) bool {
	return s.kind == o.kind && s.day == o.day && s.era == o.era
}

func (k unentered) chance() float64 {
	switch k {
	case oddDay:
		return oddChance
	case changed:
		return changedChance
	case notCame:
		return notCameChance
	}
	return 1
}

func (k unentered) logOdds() float64 { return math.Log(k.chance() / (1 - k.chance())) }

// logOdds of a supposition, before its runs are looked at.
func (f *field) logOdds(s supposition) float64 {
	odds, runs := s.kind.logOdds(), 0
	for i := range f.samples {
		if day := f.samples[i].day; day == s.day || s.kind == changed && day > s.day {
			runs++
		}
	}
	if (s.kind == oddDay || s.kind == changed && s.step > 0) && runs == 1 {
		odds += math.Log(byOneRun)
	}
	return odds
}

// unenteredDoubt is the covariance of what was not entered.
func (d *eraChange) unenteredDoubt(e *era) (s square) {
	misfit := 0.
	switch d.kind {
	case oddDay:
		s.outer(e.launch, oddLaunchSD*oddLaunchSD)
		s.outer(e.engine, oddEngineSD*oddEngineSD)
		misfit = oddMisfit
	case changed:
		s.outer(e.power, untoldPowerSD*untoldPowerSD)
		s.outer(e.grip, untoldGripSD*untoldGripSD)
		misfit = math.Max(leastMisfit, changedMisfit*d.step*d.step)
	case notCame:
		entered := *d
		entered.kind = asEntered
		of := *e
		of.change = entered
		s = changeDoubt(&of)
		s.outer(d.shift, cameSD*cameSD/(1-cameLikely)/(1-cameLikely))
		misfit = cameMisfit
	}
	for c := range channels {
		s[c][c] += math.Pow(misfit*noiseMisfit[c], 2)
	}
	return s
}

// supposing is the field as it is if that happened; false where it makes no difference.
func (f *field) supposing(s supposition) (*field, bool) {
	out := *f
	out.eras = slices.Clone(f.eras)
	out.samples = slices.Clone(f.samples)
	if s.kind == notCame {
		return &out, out.withoutGain(s.era)
	}
	of := *f.eras[s.era]
	of.change = eraChange{from: s.era, kind: s.kind, step: s.step, sameSetup: true}
	if s.kind == oddDay {
		of.change.shift = of.launch.scaled(oddSlower)
	}
	at, moved, stay := len(out.eras), 0, 0
	out.eras = append(out.eras, &of)
	for i := range out.samples {
		if x := &out.samples[i]; x.era == s.era {
			if x.day == s.day || s.kind == changed && x.day > s.day {
				x.era = at
				moved++
			} else {
				stay++
			}
		}
	}
	last, seen := f.days[f.next.dayKey()]
	switch {
	case f.nextEra != s.era:
	case s.kind == changed || seen && last == s.day:
		out.nextEra = at
	}
	if s.kind == changed {
		out.followOn(s, at)
	}
	return &out, moved > 0 && (stay > 0 || s.day > 0 || s.kind == oddDay)
}

// followOn lets the eras that came after a change start from it.
func (f *field) followOn(s supposition, at int) {
	for i, e := range f.eras {
		if i == at || i == 0 || e.change.from != s.era || f.firstDay(i) < s.day {
			continue
		}
		later := *e
		later.change.from = at
		f.eras[i] = &later
	}
}

// firstDay of an era; beyond all days for one not raced yet.
func (f *field) firstDay(era int) int {
	first := len(f.days)
	for i := range f.samples {
		if s := &f.samples[i]; s.era == era {
			first = min(first, s.day)
		}
	}
	return first
}

// withoutGain takes most of what the stated power adds to an era off again.
func (f *field) withoutGain(era int) bool {
	e := *f.eras[era]
	without := e.car
	was := f.eras[e.change.from].car.model
	without.model.PowerHP, without.model.GripG = was.PowerHP, was.GripG
	slower, err := without.run(f.usual, 0)
	if err != nil {
		return false
	}
	is, err := e.car.run(f.usual, 0)
	if err != nil {
		return false
	}
	e.change.kind = notCame
	e.change.shift = slower.minus(is).scaled(1 - cameLikely)
	f.eras[era] = &e
	return true
}
