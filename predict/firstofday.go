package predict

import (
	"math"
	"slices"
)

// The first run of a day, when it is slow from the start: the track may be slick, and then
// so is the next run, or it went wrong alone. The two look alike, and the laws of them are
// both rough: that the day is odd is held open whatever a single run seems to say.

const (
	// oddOpen is the least chance of an odd day, beside that of a run gone wrong on an ordinary
	// one. Set by trial on the tuning seasons: of slow days' second runs the 95 % range holds 91
	// and 81 in a hundred (first and second simulator) where it held 84 and 72; ordinary
	// seasons miss by 0.7 and 0.2 % more.
	oddOpen = 0.5
	// oddOpenSDs bounds it: how many standard deviations over oddSlower a day may be.
	oddOpenSDs = 3
)

// keepOpen gives the accounts of an odd day their least chance.
func keepOpen(all []account) {
	for i := range all {
		last := len(all[i].supposed) - 1
		if last < 0 {
			continue
		}
		s := all[i].supposed[last]
		if s.kind != oddDay || !all[i].isNext(s.day) {
			continue
		}
		from := slices.IndexFunc(all, func(a account) bool { return slices.Equal(a.supposed, all[i].supposed[:last]) })
		if by, slow := all[from].slowAlone(s.day); slow && by < oddSlower+oddOpenSDs*oddLaunchSD {
			all[i].log = math.Max(all[i].log, all[from].log+math.Log(oddOpen))
		}
	}
}

// isNext reports whether the next run is of that day.
func (t *fit) isNext(day int) bool {
	at, begun := t.days[t.next.dayKey()]
	return begun && at == day
}

// slowAlone is by how much, in logs, the only run of a day was slower than those of other
// days, of which nothing is taken for sound; false where there are others, or some of it is.
func (t *fit) slowAlone(day int) (by float64, slow bool) {
	c, sound := timeAt[t.finish], false
	var own, others []float64
	for i := range t.samples {
		s := &t.samples[i]
		switch {
		case !s.has[c] || math.IsInf(s.sound[5], -1): // the racer noted what it was
		case s.day == day:
			own = append(own, s.y[c])
			_, sound = s.soundFt()
		default: // against the run model, which carries changes of setup
			others = append(others, s.y[c])
		}
	}
	usual, some := median(others)
	if len(own) != 1 || !some {
		return 0, false
	}
	by = own[0] - usual
	return by, !sound && by > 0
}
