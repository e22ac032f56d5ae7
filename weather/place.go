package weather

import (
	"math"
	"slices"
	"sync"
	"time"

	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"

	"slipcase/weather/units"
)

// Place is the readings of one place, each made out once, and what was worked out of them
// for one moment kept for the next: the air at each of many runs costs little more than the
// air at one.
type Place struct {
	day         []Timed // by time
	elevationFt units.Number

	mu      sync.Mutex
	made    []made   // by reading
	samples []sample // room for those around a moment
	to      mat.VecDense
	share   mat.VecDense
	rest    mat.VecDense
	more    mat.VecDense
	last    among
}

// made is a reading made out, and its hour in a zone.
type made struct {
	is   bool
	air  Air
	daFt float64 // density altitude of air
	note Note
	err  error
	zone *time.Location
	hour
	usual dayAt
}

func makeOut(r Reading, elevationFt units.Number) made {
	m := made{is: true}
	if m.air, m.note, m.err = r.resolve(elevationFt); m.err == nil {
		m.daFt = m.air.DensityAltitudeFt()
	}
	return m
}

// dayAt is the air of a race day at an elevation, ft, at the hour of a reading.
type dayAt struct {
	elevationFt float64
	swing       float64
	air         Air
}

// among is how alike the departures of some readings are, and the inverse of that with
// repeatFt on each.
type among struct {
	of      []int // the readings
	zone    *time.Location
	alike   *mat.SymDense // each with each
	inverse *mat.SymDense
}

// NewPlace takes readings in the order of time.
func NewPlace(day []Timed, elevationFt units.Number) *Place {
	return &Place{day: day, elevationFt: elevationFt, made: make([]made, len(day))}
}

// At is the air at t for a run already made, from the readings before and after it. An
// impossible one is left out, and a note names it.
func (p *Place) At(t time.Time) Estimate { return p.by(t, len(p.day)) }

// Forecast is the air at t as it can be forecast at now: readings taken later than
// now, or than t itself, are not looked at.
func (p *Place) Forecast(now, t time.Time) Estimate {
	if now.After(t) {
		now = t
	}
	return p.by(t, firstAfter(p.day, now))
}

// by goes by the first so many readings.
func (p *Place) by(t time.Time, upTo int) Estimate {
	p.mu.Lock()
	defer p.mu.Unlock()
	samples, bad := p.around(t, upTo)
	e := p.estimate(samples, t)
	e.Notes = append(e.Notes, bad...)
	return e
}

// sample makes out a reading, seen from a time.
func (p *Place) sample(i int, t time.Time) (s sample, err error) {
	m := &p.made[i]
	if !m.is {
		*m = makeOut(p.day[i].Reading, p.elevationFt)
	}
	if m.err != nil {
		return s, m.err
	}
	if m.zone != t.Location() {
		m.zone, m.hour = t.Location(), hourOf(p.day[i].Time, t.Location())
	}
	return sample{&p.day[i], m, i, m.hour.from(p.day[i].Time.Sub(t))}, nil
}

// around makes out the nearest readings on either side of t, in order of time, good until
// the next time, and names the impossible ones.
func (p *Place) around(t time.Time, upTo int) (samples []sample, bad []Note) {
	take := func(i int) bool {
		s, err := p.sample(i, t)
		if err == nil {
			samples = append(samples, s)
		} else if r := p.day[i]; r.Time.Sub(t).Abs() <= named {
			bad = append(bad, Note{Kind: Impossible, ReadingID: r.ID, Err: err})
		}
		return err == nil
	}
	samples = p.samples[:0]
	split := firstAfter(p.day[:upTo], t)
	for i, taken := split-1, 0; i >= 0 && taken < most; i-- {
		if take(i) {
			taken++
		}
	}
	slices.Reverse(samples)
	defer func() { p.samples = samples }()
	for i, taken := split, 0; i < upTo && taken < most; i++ {
		if take(i) {
			taken++
		}
	}
	return samples, bad
}

// shares solves for what the departure of each sample counts at the time asked for, and
// the variance, ft², that is left. The nearest sample is taken at its word, so that at its own
// minute the air is what was read; the others are off from it by repeatFt. How alike the
// samples are among themselves is the same for all moments between two readings: what they
// all being off gives is taken from there, and the nearest set right in it (from memory: W. W. Hager,
// "Updating the inverse of a matrix", SIAM Review 31 (1989) 221, the Sherman-Morrison formula).
func (p *Place) shares(samples []sample, asked moment, zone *time.Location) (share []float64, left float64) {
	left = departure(asked, asked)
	if len(samples) == 0 {
		return nil, left
	}
	if !p.last.are(samples, zone) {
		p.last = p.last.moved(samples, zone)
	}
	p.to.Reset()
	p.to.ReuseAsVec(len(samples))
	for i := range samples {
		p.to.SetVec(i, departure(samples[i].moment, asked))
	}
	near := nearest(samples)
	p.last.solve(&p.share, &p.to, near)
	// What rounding left of it, solved for once more: the nearest alone may be close to telling all.
	rest := &p.rest
	rest.Reset()
	rest.MulVec(p.last.alike, &p.share)
	for i := range samples {
		is := rest.AtVec(i)
		if i != near {
			is += repeatFt * repeatFt * p.share.AtVec(i)
		}
		rest.SetVec(i, p.to.AtVec(i)-is)
	}
	p.last.solve(&p.more, rest, near)
	p.share.AddVec(&p.share, &p.more)
	return p.share.RawVector().Data, math.Max(0, left-mat.Dot(&p.share, &p.to))
}

// solve takes a vector by the inverse of what the readings are like, the nearest not off.
func (a *among) solve(x, of *mat.VecDense, near int) {
	const repeat = repeatFt * repeatFt
	x.Reset()
	x.MulVec(a.inverse, of)
	off := repeat * x.AtVec(near) / (1 - repeat*a.inverse.At(near, near))
	for i := range of.Len() {
		x.SetVec(i, x.AtVec(i)+off*a.inverse.At(i, near))
	}
}

func (a *among) are(samples []sample, zone *time.Location) bool {
	return a.zone == zone && slices.EqualFunc(a.of, samples, func(i int, s sample) bool { return i == s.at })
}

// moved is the same for other readings, with what is known of those that were among them.
func (a *among) moved(samples []sample, zone *time.Location) among {
	n := len(samples)
	m := among{of: make([]int, n), zone: zone, alike: mat.NewSymDense(n, nil), inverse: mat.NewSymDense(n, nil)}
	was := make([]int, n) // their places among the former ones
	for i, s := range samples {
		m.of[i] = s.at
		if was[i] = slices.Index(a.of, s.at); a.zone != zone {
			was[i] = -1
		}
	}
	for i, s := range samples {
		for j, o := range samples[:i+1] {
			if was[i] >= 0 && was[j] >= 0 {
				m.alike.SetSym(i, j, a.alike.At(was[i], was[j]))
			} else {
				m.alike.SetSym(i, j, departure(s.moment, o.moment))
			}
		}
	}
	m.inverse.CopySym(m.alike)
	for i := range n {
		m.inverse.SetSym(i, i, m.alike.At(i, i)+repeatFt*repeatFt)
	}
	// By LAPACK itself: gonum's Cholesky estimates a condition number besides, for half of the time.
	factor, positive := lapack64.Potrf(m.inverse.RawSymmetric())
	if positive {
		_, positive = lapack64.Potri(factor)
	}
	if !positive {
		panic("weather: the likeness of moments is not positive") // powered exponentials are
	}
	return m
}

// usual is raceDayAir at the moment of a sample.
func (p *Place) usual(s sample, elevationFt float64) Air {
	u := &p.made[s.at].usual
	if u.air == (Air{}) || u.elevationFt != elevationFt || u.swing != s.swing {
		*u = dayAt{elevationFt, s.swing, raceDayAir(elevationFt, s.moment)}
	}
	return u.air
}
