package predict

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Reactions are in s after the perfect light, red below 0, so that those of tracks
// with different perfect lights go together.

// latestReactions is how many are looked at: a driver changes.
const latestReactions = 30

func lately(reactions []float64) []float64 {
	return reactions[max(0, len(reactions)-latestReactions):]
}

// What is taken of a driver of whom nothing is known: common practice, no source.
var (
	// RacersReaction is that of one who comes to race: against him a dial is chosen.
	RacersReaction = Spread{Mean: 0.050, SD: 0.030}
	// anyReaction is that of anyone, the first-timer among them: by it a mistyped one
	// is told.
	anyReaction = Spread{Mean: 0.080, SD: 0.070}
)

// Reds counts the red lights; slips print thousandths.
func Reds(reactions []float64) (n int) {
	for _, r := range reactions {
		if r < -0.0005 {
			n++
		}
	}
	return n
}

// awake are the latest reactions without those where the driver slept, or watched the
// tree: further than sleptBy from the middle one, s (common practice, no source).
func awake(reactions []float64) (left []float64) {
	const sleptBy = 0.25
	all := lately(reactions)
	mid, _ := median(all)
	for _, r := range all {
		if math.Abs(r-mid) < sleptBy {
			left = append(left, r)
		}
	}
	return left
}

// UsualReaction is the law of a driver's latest reactions, oldest first; false with fewer
// than five.
func UsualReaction(reactions []float64) (Reactions, bool) {
	const least, fewest = 0.002, 5
	awake := awake(reactions)
	if len(awake) < fewest {
		return Reactions{}, false
	}
	return Reactions{Spread{Mean: stat.Mean(awake, nil), SD: math.Max(stat.StdDev(awake, nil), least)}, awake}, true
}

// Launch is how a driver leaves, from the latest reactions so far.
type Launch struct {
	n        float64
	mean, sd float64
}

// NewLaunch learns a launch from at least three reactions, oldest first.
func NewLaunch(reactions []float64) (Launch, error) {
	r := awake(reactions)
	if len(r) < 3 {
		return Launch{}, errors.New("fewer than three reactions tell nothing of a launch")
	}
	l := Launch{float64(len(r)), stat.Mean(r, nil), stat.StdDev(r, nil)}
	if l.sd == 0 {
		return Launch{}, errors.New("the reactions are all alike: they tell nothing of a launch")
	}
	return l, nil
}

// next is the law of the next reaction: Student-t, the mean and the spread being
// known from so many alone.
func (l Launch) next(shift float64) distuv.StudentsT {
	return distuv.StudentsT{Mu: l.mean + shift, Sigma: l.sd * math.Sqrt(1+1/l.n), Nu: l.n - 1}
}

// Mean is the average reaction when every launch comes later by shift, s.
func (l Launch) Mean(shift float64) float64 { return l.mean + shift }

// Red is the chance of a red light when every launch comes later by shift, s.
func (l Launch) Red(shift float64) float64 { return l.next(shift).CDF(0) }

// ShiftFor is how much later, s, the launches must come to be red with the wanted
// chance (0 to 1).
func (l Launch) ShiftFor(red float64) (float64, error) {
	if !(red > 0 && red < 1) {
		return 0, errors.New("a chance of red is more than 0 and less than 100 in a hundred")
	}
	return -l.next(0).Quantile(red), nil
}

// ShiftTo is how much later, s, the launches must come for an average reaction.
func (l Launch) ShiftTo(reaction float64) float64 { return reaction - l.mean }
