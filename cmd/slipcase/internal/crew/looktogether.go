package crew

import (
	"cmp"
	"context"
	"errors"
	"maps"
	"slices"
	"time"

	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// Looked is a slip of a batch as it was looked at.
type Looked struct {
	Cannot error // it cannot be, alone
	Doubts []Doubt
}

// LookTogether says of each slip of a batch what looks wrong, as if the rest of the batch
// were recorded: each is held against all other runs of its vehicle, by one fit a vehicle.
// The slips have ids. step is told how many of how many are done.
func (s *Session) LookTogether(ctx context.Context, b logbook.Batch, step func(done, of int)) ([]Looked, error) {
	join, err := s.JoinerWith(b)
	if err != nil {
		return nil, err
	}
	out := make([]Looked, len(b.Slips))
	of := map[string][]int{}
	for i, slip := range b.Slips {
		err := s.settleOwn(slip)
		if missing := (*NoOwnColumn)(nil); errors.As(err, &missing) {
			err = nil // it is brought with them
		}
		if out[i].Cannot = cmp.Or(slip.Check(), err); out[i].Cannot == nil {
			of[slip.Vehicle] = append(of[slip.Vehicle], i)
		}
	}
	done := 0
	for _, vehicle := range slices.Sorted(maps.Keys(of)) {
		old, err := s.Slips(vehicle)
		if err != nil {
			return nil, err
		}
		l := &looking{now: s.Now(), before: len(old)}
		for _, slip := range old {
			l.add(join.Run(slip))
		}
		for _, i := range of[vehicle] {
			l.add(join.Run(*b.Slips[i]))
		}
		if err := l.fit(); err != nil {
			return nil, err
		}
		for k, i := range of[vehicle] {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			out[i].Doubts = l.doubts(len(old) + k)
			done++
			step(done, len(b.Slips))
		}
	}
	return out, nil
}

// looking is a vehicle's runs, those of the log first, as they are held against each other.
type looking struct {
	now    time.Time
	before int // so many are of the log
	runs   []Run
	passes []predict.Pass
	peers  *predict.Peers
	days   map[string][]int // runs by their day
	lights []light
}

// light is a reaction of a raced round, by its time.
type light struct {
	track string
	at    time.Time
	s     float64
}

func (l *looking) add(r Run) {
	l.runs, l.passes = append(l.runs, r), append(l.passes, PassOf(r))
}

func (l *looking) fit() (err error) {
	l.days = map[string][]int{}
	for i, r := range l.runs {
		day := r.Slip.Time.Format(time.DateOnly)
		l.days[day] = append(l.days[day], i)
		if s := r.Slip; s.ReactionS.Known() && s.Bye == "" && Raced(s) {
			l.lights = append(l.lights, light{s.Track, s.Time.Time, s.ReactionS.Value()})
		}
	}
	slices.SortStableFunc(l.lights, func(a, b light) int { return a.at.Compare(b.at) })
	l.peers, err = predict.NewPeers(l.passes)
	return err
}

// doubts are those of one run.
func (l *looking) doubts(i int) []Doubt {
	one := &among{car: &car{}, run: l.runs[i], pass: l.passes[i]}
	return one.with(l.weigh(i), l.reactions(one), l.twice(i))
}

// weigh holds the times of a run against its vehicle's others.
func (l *looking) weigh(i int) []Doubt {
	q, ask, told, err := l.peers.Proofread(l.passes[i])
	return weighed(l.runs[i].Slip, l.now, q, ask, told && err == nil)
}

// lightsBefore are so many of a driver's latest reactions that his usual one is told by them.
const lightsBefore = 60

func (l *looking) reactions(one *among) []Doubt {
	slip := one.run.Slip
	at, _ := slices.BinarySearchFunc(
		l.lights,
		slip.Time.Time,
		func(a light, t time.Time) int { return cmp.Compare(a.at.UnixNano(), t.UnixNano()) },
	)
	for k := at - 1; k >= 0 && len(one.others) < lightsBefore; k-- {
		if l.lights[k].track == slip.Track {
			other := slip
			other.Time, other.ReactionS = logbook.Time{Time: l.lights[k].at}, units.Some(l.lights[k].s)
			one.others = append(one.others, other)
		}
	}
	return one.reactionDoubts(one.perfectS())
}

// twice finds the run that a slip is a second copy of: of the log, or before it in the batch.
func (l *looking) twice(i int) []Doubt {
	slip := l.runs[i].Slip
	for _, k := range l.days[slip.Time.Format(time.DateOnly)] {
		if k >= i {
			break
		}
		other := l.runs[k].Slip
		if d, again := twice(slip, other); again {
			if k >= l.before {
				d.TwinID = ""
			}
			return []Doubt{d}
		}
	}
	return nil
}
