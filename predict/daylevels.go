package predict

import (
	"math"
	"slices"
	"time"
)

// What days have in common: a track's own level, and how the vehicle wears or is cared
// for. The luck of a day is about the sum of those that it shares, each an unknown in
// launch and engine like the luck.

// dayShare is how much of a level is in a day.
type dayShare struct {
	at int // of the level's launch among the unknowns, its engine is the next
	by float64
}

// Set by trial on the tuning seasons, logs of the time at the finish.
const (
	trackLaunchSD, trackEngineSD = 0.006, 0.002
	mostTracks                   = 8
)

// drift is of a random walk, in 30 days.
var drift = level{launch: 0.0012 * 0.0012, engine: 0.0018 * 0.0018}

// wear is what goes on evenly about that walk, in 30 days, and so goes on: a tired engine
// (.02 s a month is .0017 of 12 s).
var wear = level{launch: 0.0006 * 0.0006, engine: 0.0012 * 0.0012}

// driftAges part the past, days before the next run: the walk is straight between them, and
// nothing at the first. Its levels are what it has come to at the others, so that a day
// hangs on two of them, however old it is.
var driftAges = []float64{0, 21, 60, 150, 365, 800, 1600}

// level is one of them, before any run: its variances, or those of the step from the level
// before it.
type level struct {
	launch, engine float64
	step           bool
}

// findLevels lists the tracks, when there are several, and the stretches of time.
func (f *field) findLevels() {
	f.findTracks()
	f.findDrift()
}

func (f *field) findTracks() {
	f.levels, f.ahead, f.dayShares = nil, nil, make([][]dayShare, len(f.days))
	of := make([]string, len(f.days))
	for i := range f.samples {
		of[f.samples[i].day] = f.samples[i].pass.Track
	}
	tracks := map[string]int{f.next.Track: 0}
	for day := len(of) - 1; day >= 0; day-- { // the latest first
		k, known := tracks[of[day]]
		if !known && len(tracks) < mostTracks {
			k, known = len(tracks), true
			tracks[of[day]] = k
		}
		if known {
			f.dayShares[day] = append(f.dayShares[day], dayShare{k, 1})
		}
	}
	if len(tracks) == 1 {
		f.dayShares = make([][]dayShare, len(f.days))
		return
	}
	f.ahead = []dayShare{{0, 1}}
	for range tracks {
		f.levels = append(f.levels, level{launch: trackLaunchSD * trackLaunchSD, engine: trackEngineSD * trackEngineSD})
	}
}

// findDrift lists what the vehicle comes to with time: a walk, and what goes on evenly.
func (f *field) findDrift() {
	f.firstDrift = len(f.levels)
	ages := f.ages()
	knots := 0
	for day, age := range ages {
		k, _ := slices.BinarySearch(driftAges, age) // it lies before this one, or at it
		if k == 0 {
			continue
		}
		k = min(k, len(driftAges)-1)
		before, at := driftAges[k-1], driftAges[k]
		share := (math.Min(age, at) - before) / (at - before)
		if k > 1 && share < 1 {
			f.dayShares[day] = append(f.dayShares[day], dayShare{f.firstDrift + k - 2, 1 - share})
		}
		f.dayShares[day] = append(f.dayShares[day], dayShare{f.firstDrift + k - 1, share})
		knots = max(knots, k)
	}
	if knots == 0 {
		return
	}
	for k := range knots {
		months := (driftAges[k+1] - driftAges[k]) / 30
		f.levels = append(f.levels, level{months * drift.launch, months * drift.engine, k > 0})
	}
	for day, age := range ages {
		if age > 0 {
			f.dayShares[day] = append(f.dayShares[day], dayShare{len(f.levels), -age / 30})
		}
	}
	f.levels = append(f.levels, wear)
}

// ages of the days, in days before the next run; all runs of a day are of one age.
func (f *field) ages() []float64 {
	began, now := f.begins(), f.next.Time
	if day, begun := f.days[f.next.dayKey()]; begun {
		now = began[day]
	}
	if now.IsZero() {
		for i := range f.samples {
			if at := f.samples[i].pass.Time; at.After(now) {
				now = at
			}
		}
	}
	ages := make([]float64, len(began))
	for day, first := range began {
		ages[day] = now.Sub(first).Hours() / 24
	}
	return ages
}

// begins are the times of the first run of each day.
func (f *field) begins() []time.Time {
	began := make([]time.Time, len(f.days))
	for i := range f.samples {
		if s := &f.samples[i]; began[s.day].IsZero() {
			began[s.day] = s.pass.Time
		}
	}
	return began
}

// placed gives shares their places among the unknowns.
func (f *field) placed(shares []dayShare) (list []dayShare) {
	for _, s := range shares {
		list = append(list, dayShare{biasAt(len(f.eras)) + 2*s.at, s.by})
	}
	return list
}
