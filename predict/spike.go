package predict

import (
	"cmp"
	"math"
	"slices"

	"slipcase/weather/units"
)

// Spike is a row of a sheet that no engine made: left out.
type Spike struct {
	Line          int
	RPM, HP       float64
	NeighboursHP  float64 // what the rows about it say at its speed
	DisagreesLbFt float64 // the torque beside it, where power and torque do not agree; 0 otherwise
}

const (
	// A row is left out that is so far from its neighbours, in logs of torque, and so many
	// times as far as rows of its sheet usually are: common practice, no source.
	spikeLog, spikeTimes = 0.18, 4.0
	spikeWindow          = 4   // rows to either side
	mostSpikes           = 0.2 // of the rows: more is no spike but another sheet
)

// smoothRows parts the rows of a sheet from its spikes, the farthest out first. A row is
// held against the median of all lines through two of its neighbours (Theil 1950, Sen
// 1968), in logs of torque over speed, and against the median of their torque: what is far
// from both is a spike, so that neither a steep end of a curve nor a neighbour's spike
// makes one.
func smoothRows(rows []soundRow) (kept []soundRow, spikes []Spike) {
	kept = slices.Clone(rows)
	for float64(len(spikes)+1) <= math.Max(1, mostSpikes*float64(len(rows))) && len(kept) > 2 {
		at, by, expected := worstRow(kept)
		if by == 0 {
			break
		}
		r := kept[at]
		spikes = append(spikes, Spike{Line: r.line, RPM: r.RPM, HP: r.HP, NeighboursHP: expected})
		kept = slices.Delete(kept, at, at+1)
	}
	if at, by, _ := worstRow(kept); by > 0 && at >= 0 {
		return slices.Clone(rows), nil // so rough that nobody can say what is a spike
	}
	slices.SortStableFunc(spikes, func(a, b Spike) int { return a.Line - b.Line })
	return kept, spikes
}

// worstRow is the row farthest out, by how much, and the power that its neighbours say;
// 0 where none is a spike. A spike makes its neighbours look odd too: of the few that are
// farthest out it is the one without which the others lie best.
func worstRow(rows []soundRow) (at int, by, expectedHP float64) {
	away, expected := awayOf(rows)
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(away[b], away[a]) })
	const suspects = 4
	least := math.Inf(1)
	for _, i := range order[:min(suspects, len(order))] {
		rest, _ := awayOf(slices.Delete(slices.Clone(rows), i, i+1))
		usual, _ := median(rest)
		sum := 0.
		for _, d := range rest {
			sum += d
		}
		if away[i] > math.Max(spikeLog, spikeTimes*usual) && sum-away[i] < least {
			at, by, expectedHP, least = i, away[i], expected[i], sum-away[i]
		}
	}
	return at, by, expectedHP
}

func awayOf(rows []soundRow) (away, expectedHP []float64) {
	away, expectedHP = make([]float64, len(rows)), make([]float64, len(rows))
	for i := range rows {
		away[i], expectedHP[i] = awayFromNeighbours(rows, i)
	}
	return away, expectedHP
}

func awayFromNeighbours(rows []soundRow, i int) (away, expectedHP float64) {
	low, high := max(0, i-spikeWindow), min(len(rows), i+spikeWindow+1)
	var xs, ys []float64
	for j := low; j < high; j++ {
		if j != i {
			xs, ys = append(xs, math.Log(rows[j].RPM)), append(ys, math.Log(rows[j].LbFt()))
		}
	}
	if len(xs) < 2 {
		return 0, rows[i].HP
	}
	var slopes, offsets []float64
	for a := range xs {
		for b := range a {
			slopes = append(slopes, (ys[a]-ys[b])/(xs[a]-xs[b]))
		}
	}
	slope, _ := median(slopes)
	for a := range xs {
		offsets = append(offsets, ys[a]-slope*xs[a])
	}
	offset, _ := median(offsets)
	level, _ := median(ys)
	x, y := math.Log(rows[i].RPM), math.Log(rows[i].LbFt())
	line := offset + slope*x
	if math.Abs(y-level) < math.Abs(y-line) {
		line = level
	}
	return math.Abs(y - line), math.Exp(line) * rows[i].RPM / units.LbFtPerHPPerRPM
}
