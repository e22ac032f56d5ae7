package printed

import (
	"math"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// shape is what a lane's figures make of a run: times in s, speeds in mph, 0 where there is none.
type shape struct {
	et, mph     [Marks]float64
	dial, index float64
}

// usual is where something is for full-power runs, and the standard deviation that cars of all
// kinds have there: both of the simulated seasons of predict/season, seeds 1-120 of either
// simulator, and a little wider, since what simulators leave out is there too.
type usual struct{ at, sd float64 }

// The ways in which a run's figures hang together. Times are held as ln(time/usual share of the
// quarter mile), speeds as ln(speed/mean speed since the time before).
var (
	rises = map[[2]int]usual{ // from one time to another
		{0, 1}: {
			0,
			.045,
		}, {0, 2}: {0, .055}, {0, 3}: {0, .06}, {0, 4}: {0, .065}, {1, 2}: {0, .018}, {1, 3}: {0, .03},
		{1, 4}: {0, .035}, {2, 3}: {0, .012}, {2, 4}: {-.005, .022}, {3, 4}: {-.003, .009},
	}
	// Of three times, the middle one.
	bends = map[int]usual{1: {-.003, .016}, 2: {.001, .0055}, 3: {-.003, .0045}}
	// A speed after the time at the mark before it, and after an earlier one.
	behind  = [Marks]usual{2: {.095, .012}, 3: {.06, .014}, 4: {.045, .016}}
	fromFar = [Marks]usual{2: {.17, .05}, 3: {.13, .04}, 4: {.12, .03}}
	gains   = map[[2]int]usual{{2, 3}: {.15, .022}, {2, 4}: {.225, .028}, {3, 4}: {.075, .016}}
	// ln(speed x time/distance), mph s/ft.
	pulls   = [Marks]usual{2: {.055, .045}, 3: {.045, .045}, 4: {.035, .05}}
	dialled = usual{0, .12}  // s, from the dial to the end
	indexed = usual{.02, .2} // s, from the index to the end
)

const mostEach = 25. // no more than five standard deviations count

// shareOf are the usual shares of the quarter mile's time at the marks.
var shareOf = func() (of [Marks]float64) {
	for m, ft := range markFt {
		of[m], _ = typed.UsualShare(ft)
	}
	return of
}()

// beyond is how far above the usual something is, in standard deviations.
func (u usual) beyond(x float64) float64 { return (x - u.at) / u.sd }

func (u usual) odd(x float64) float64 {
	z := u.beyond(x)
	return math.Min(z*z, mostEach)
}

// odd is how far the figures of a lane up to a mark are from hanging together, in squared
// standard deviations.
func (p shape) odd(upTo int) (sum float64) {
	end := p.end()
	var d [Marks]float64
	for m := range Marks {
		d[m] = p.share(m)
	}
	last, lastV := -1, -1
	for m := range upTo {
		if p.et[m] > 0 {
			if last >= 0 {
				sum += rises[[2]int{last, m}].odd(d[m] - d[last])
			}
			if m > 1 && last == m-1 && p.et[m-2] > 0 {
				sum += bends[m-1].odd(d[m] - d[m-1] - (d[m-1]-d[m-2])/2)
			}
		}
		if p.mph[m] > 0 {
			sum += p.oddSpeed(m, last, m == end)
			if lastV >= 0 {
				sum += gains[[2]int{lastV, m}].lifted(math.Log(p.mph[m]/p.mph[lastV]), m == end)
			}
			lastV = m
		}
		if p.et[m] > 0 {
			last = m
		}
	}
	against := func(of float64, u usual) {
		if end >= 2 && of > 0 && (end < upTo || p.et[end] < of) {
			sum += u.slower(p.et[end] - of)
		}
	}
	against(p.dial, dialled)
	against(p.index, indexed)
	return sum
}

// lifted is odd for a speed: a lift just before the stripe costs speed and hardly any time.
func (u usual) lifted(x float64, last bool) float64 {
	if last && x < u.at {
		const wider = 4
		u.sd *= wider
	}
	return u.odd(x)
}

// oddSpeed is how odd a speed is behind the time at an earlier mark, -1 without one.
func (p shape) oddSpeed(m, before int, last bool) float64 {
	if p.et[m] == 0 || m < 2 {
		return 0
	}
	u, x := pulls[m], math.Log(p.mph[m]*p.et[m]/markFt[m])
	if before >= 0 && p.et[m] > p.et[before] {
		if u = fromFar[m]; before == m-1 {
			u = behind[m]
		}
		x = math.Log(p.mph[m] / p.mean(before, m))
	}
	return u.lifted(x, last)
}

// slower is odd for a time over its dial: a run is often slower, seldom much quicker.
func (u usual) slower(over float64) float64 {
	if over > u.at {
		return u.odd(u.at + (over-u.at)/2)
	}
	return u.odd(over)
}

// mean is the mean speed between two marks, mph.
func (p shape) mean(from, to int) float64 {
	return (markFt[to] - markFt[from]) / (p.et[to] - p.et[from]) / units.FtPerSPerMPH
}

func (p shape) share(m int) float64 {
	if p.et[m] == 0 {
		return 0
	}
	return math.Log(p.et[m] / shareOf[m])
}

// end is the last mark with a time, -1 without one.
func (p shape) end() int {
	for m := Marks - 1; m >= 0; m-- {
		if p.et[m] > 0 {
			return m
		}
	}
	return noMark
}

// known are so many times and speeds.
func (p shape) known() (n int) {
	for m := range Marks {
		if p.et[m] > 0 {
			n++
		}
		if p.mph[m] > 0 {
			n++
		}
	}
	return n
}

// fullPower are the marks before the first at which the time and the speed both say that the run
// had slowed: what follows a lift tells nothing.
func (p shape) fullPower() int {
	const late = 1.5 // standard deviations beyond the usual rise
	last := -1
	for m := range Marks {
		if p.et[m] == 0 {
			continue
		}
		if last > 0 && p.mph[m] > 0 && p.et[m] > p.et[last] &&
			rises[[2]int{last, m}].beyond(p.share(m)-p.share(last)) > late && p.mph[m] < p.mean(last, m) {
			return m
		}
		last = m
	}
	return Marks
}
