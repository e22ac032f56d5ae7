package predict

import (
	"errors"
	"math"
	"slices"
)

// Outcome is what a change promised against what it brought, at one mark and in
// the same air for both.
type Outcome struct {
	Mark     Mark
	Promised Range  // ET after less before, s, from the runs before the change alone
	Claimed  Range  // the gain as a share of power that the promise rests on
	Came     []Came // empty before there is a full-power run with it to the finish
}

// Came is what the first runs with the change brought.
type Came struct {
	Runs    int
	ETGain  Range  // their median, less what the vehicle would have run before
	Implied *Range // the gain in power, as a share, that would explain it; nil when none would
}

// outcomeRuns are the numbers of runs after which it is looked at.
var outcomeRuns = []int{1, 3, 10}

// medianCost is the variance of the median of 1 to 10 values of a normal law over that
// of their mean. The test draws them.
var medianCost = [...]float64{1, 1, 1.346, 1.192, 1.434, 1.288, 1.473, 1.348, 1.495, 1.385}

// JudgeChange holds a change against the first ten runs made with it. Each run is
// compared with what the vehicle as it was would have run in that air, by the runs
// before alone. One not at full power to the finish, noted or as all runs together show,
// is left out, as a forecast leaves it out; of the others the median counts. The
// interval joins the runs' own luck, less with each, and what they share: the day and
// how well the vehicle was known before.
func JudgeChange(before, after []Pass, c Change) (Outcome, error) {
	if len(before) == 0 {
		return Outcome{}, errors.New("no run from before the change: nothing to hold it against")
	}
	leftOut, err := leftOutOf(slices.Concat(before, after))
	if err != nil {
		return Outcome{}, err
	}
	var p *Prospect
	var out Outcome
	var diffs []float64
	var own, shared float64
	for i, run := range after {
		if _, left := leftOut[len(before)+i]; left {
			continue
		}
		as := run
		as.Machine = before[len(before)-1].Machine
		q, err := NewProspect(before, as)
		if err != nil {
			return out, err
		}
		et := run.Splits.ETs[q.Finish]
		if !et.Known() {
			continue
		}
		if p == nil {
			p = q
			u, err := p.Try(c)
			if err != nil {
				return out, err
			}
			out.Mark, out.Promised, out.Claimed = p.Finish, u.ETGain[p.Finish], c.Gain
		}
		k := timeAt[p.Finish]
		noise := q.Before.fit.noise[q.Before.fit.nextEra][k][k]
		diffs = append(diffs, math.Log(et.Value())-q.Before.law.mean[k])
		own += math.Min(noise, q.Before.law.cov[k][k])
		shared += math.Max(q.Before.law.cov[k][k]-noise, 0)
		mid, _ := median(diffs)
		n := float64(len(diffs))
		came := p.brought(c, len(diffs), mid, math.Sqrt(medianCost[len(diffs)-1]*own/(n*n)+shared/n))
		if k := len(out.Came); k > 0 && !slices.Contains(outcomeRuns, out.Came[k-1].Runs) {
			out.Came[k-1] = came // the last so far stands for those that have not come yet
		} else {
			out.Came = append(out.Came, came)
		}
		if len(diffs) == outcomeRuns[len(outcomeRuns)-1] {
			break
		}
	}
	if p == nil {
		return promiseOf(before, c)
	}
	return out, nil
}

// promiseOf is a change that has not been raced yet, in the air of the last run
// before it.
func promiseOf(before []Pass, c Change) (Outcome, error) {
	p, err := NewProspect(before, before[len(before)-1])
	if err != nil {
		return Outcome{}, err
	}
	u, err := p.Try(c)
	return Outcome{Mark: p.Finish, Promised: u.ETGain[p.Finish], Claimed: c.Gain}, err
}

// brought turns a mean difference in logs into s, and into the power behind it.
func (p *Prospect) brought(c Change, runs int, mean, sd float64) Came {
	was := p.Before.ETs[p.Finish].Centre
	at := func(z float64) float64 { return was * math.Expm1(mean+z*sd) }
	out := Came{Runs: runs, ETGain: Range{at(-z80), at(0), at(z80)}}
	// More power is a quicker run: the low end of the gain is the slow end of the ET.
	var ends [3]float64
	for i, z := range []float64{z80, 0, -z80} {
		gain, ok := p.gainBehind(c, mean+z*sd)
		if !ok {
			return out
		}
		ends[i] = gain
	}
	out.Implied = &Range{ends[0], ends[1], ends[2]}
	return out
}

// gainBehind is the gain, as a share of power, that with the change's weight and
// grip moves the log of the ET by so much; false beyond half to three times.
func (p *Prospect) gainBehind(c Change, log float64) (float64, bool) {
	low, high := -0.5, 2.
	over := func(gain float64) float64 {
		y, err := p.shift(lever{gain, c.WeightLb.Likely, c.Grip.Likely, c.Launch.Likely})
		if err != nil {
			return math.NaN()
		}
		return y[timeAt[p.Finish]] - log
	}
	if !(over(low) >= 0 && over(high) <= 0) {
		return 0, false
	}
	for range 40 {
		if mid := (low + high) / 2; over(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return high, true
}
