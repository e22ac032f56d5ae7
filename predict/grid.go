package predict

import "math"

// The variances of the days' luck cannot be solved for in closed form: they are
// tried on a grid, and each guess counts by its evidence and its prior.

var luckSDs = []float64{0.0006, 0.0012, 0.002, 0.0032, 0.005, 0.008}

// luckPrior is the log density of one standard deviation of luck: log-normal
// about 0.2 % of the time, by a factor of two.
func luckPrior(sd float64) float64 {
	z := math.Log(sd/0.002) / math.Log(2)
	return -z * z / 2
}

// average fits the car for every guess at the luck and keeps those that count.
func (t *fit) average() error {
	days := t.daySums()
	var all []*posterior
	var logs []float64
	most := math.Inf(-1)
	for _, launch := range luckSDs {
		for _, engine := range luckSDs {
			p, err := t.biases.solve(days, luck{launch * launch, engine * engine})
			if err != nil {
				return err
			}
			l := p.evidence + luckPrior(launch) + luckPrior(engine)
			all, logs = append(all, p), append(logs, l)
			most = math.Max(most, l)
		}
	}
	const least = 0.005 // of the best guess
	sum := 0.
	for i, l := range logs {
		if w := math.Exp(l - most); w > least {
			t.posteriors = append(t.posteriors, all[i])
			t.chance = append(t.chance, w)
			sum += w
		}
	}
	for i := range t.chance {
		t.chance[i] /= sum
	}
	return nil
}
