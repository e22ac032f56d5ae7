package predict

import (
	"errors"
	"math"
	"slices"
)

// The variances of the days' luck cannot be solved for in closed form: they are
// tried on a grid, and each guess counts by its evidence and its prior.

var luckSDs = []float64{0.0006, 0.0012, 0.002, 0.0032, 0.005, 0.008, 0.013}

// luckPrior is the log density of one standard deviation of luck: log-normal
// about 0.17 % of the time, by a factor of two; about 0.5 % where it has the days'
// air in it. Set by trial on the tuning seasons.
func (f *field) luckPrior(sd float64) float64 {
	z := math.Log(sd/f.usualLuckSD()) / math.Log(2)
	return -z * z / 2
}

func (f *field) usualLuckSD() float64 {
	if f.airless {
		return 0.005
	}
	return 0.0017
}

// middlingLuck is the guess that the runs are weighed by.
func (f *field) middlingLuck() luck {
	sd := f.usualLuckSD()
	return luck{sd * sd, sd * sd}
}

// cell is one guess at the luck of launch and engine.
type cell struct{ launch, engine int }

// leastChance is how likely, beside the best, a guess must be to count.
const leastChance = 0.005

// average fits the car for every guess at the luck that counts: from the middle
// of the grid to the neighbours of whatever is likely enough.
func (t *fit) average() error {
	days := t.daySums()
	tried := map[cell]bool{}
	var posteriors []*posterior
	var logs []float64
	most := math.Inf(-1)
	const middle = 2
	for queue := []cell{{middle, middle}}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		if !at.known() || tried[at] {
			continue
		}
		tried[at] = true
		p, l, err := t.guess(days, at)
		if err != nil {
			return err
		}
		posteriors, logs = append(posteriors, p), append(logs, l)
		most = math.Max(most, l)
		if l > most+math.Log(leastChance) {
			for _, step := range []cell{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				queue = append(queue, cell{at.launch + step.launch, at.engine + step.engine})
			}
		}
	}
	t.count(posteriors, logs)
	sum := 0.
	for _, l := range logs {
		sum += math.Exp(l - most)
	}
	t.evidence = most + math.Log(sum)
	return nil
}

// climb takes the guess at the luck that the runs are weighed by along steps on the grid, for as
// long as that explains the days better.
func (t *fit) climb(steps ...cell) error {
	days, best, most := t.daySums(), cellOf(t.weighedBy), math.Inf(-1)
	try := func(at cell) (better bool, err error) {
		if !at.known() {
			return false, nil
		}
		p, log, err := t.guess(days, at)
		if err != nil || log <= most {
			return false, err
		}
		best, most, t.weighedBy = at, log, p.luck
		return true, nil
	}
	better, err := try(best)
	for better && err == nil {
		better = false
		for _, by := range steps {
			farther, failed := try(cell{best.launch + by.launch, best.engine + by.engine})
			better, err = better || farther, errors.Join(err, failed)
		}
	}
	return err
}

// guess is the car by a guess at the luck, and the log of how well that explains the days.
func (t *fit) guess(days *daySums, at cell) (*posterior, float64, error) {
	launch, engine := luckSDs[at.launch], luckSDs[at.engine]
	p, err := t.biases.solve(days, luck{launch * launch, engine * engine})
	if err != nil {
		return nil, 0, err
	}
	return p, p.evidence + t.luckPrior(launch) + t.luckPrior(engine), nil
}

// known reports a place on the grid.
func (c cell) known() bool {
	return min(c.launch, c.engine) >= 0 && max(c.launch, c.engine) < len(luckSDs)
}

// count keeps the guesses that are likely enough, and their chances.
func (t *fit) count(posteriors []*posterior, logs []float64) {
	t.posteriors, t.chance = nil, nil
	most, sum := slices.Max(logs), 0.
	for i, l := range logs {
		if w := math.Exp(l - most); w > leastChance {
			t.posteriors = append(t.posteriors, posteriors[i])
			t.chance = append(t.chance, w)
			sum += w
		}
	}
	for i := range t.chance {
		t.chance[i] /= sum
	}
}

// cellOf is where a guess stands on the grid.
func cellOf(l luck) (c cell) {
	for i, sd := range luckSDs {
		if sd*sd <= l.launch*1.01 {
			c.launch = i
		}
		if sd*sd <= l.engine*1.01 {
			c.engine = i
		}
	}
	return c
}

// likeliest is the guess at the luck that counts most.
func (t *fit) likeliest() *posterior {
	best := 0
	for i, c := range t.chance {
		if c > t.chance[best] {
			best = i
		}
	}
	return t.posteriors[best]
}
