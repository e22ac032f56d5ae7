package predict

import (
	"fmt"
	"math"

	"slipcase/weather/units"
)

// Format is how two lanes are set against each other.
type Format string

// The formats of a round; empty counts as Dialled.
const (
	Dialled Format = "dial"     // each starts by its own dial-in, going quicker than it loses
	Index   Format = "index"    // both leave together, going quicker than the class's index loses
	HeadsUp Format = "heads-up" // both leave together, no limit
)

// Fault is what ends a lane's round whatever the clocks say.
type Fault string

// The faults.
const (
	NoFault  Fault = ""
	Boundary Fault = "boundary" // crossed the line between the lanes, or the edge
	NoStart  Fault = "no-start" // broke before the tree, never left
)

// LaneRun is one lane's column of a slip.
type LaneRun struct {
	Name      string       // what it is called in the answer, "this lane"
	ReactionS units.Number // as the slip prints it, with the track's perfect light
	ETS       units.Number // absent: never reached the finish, or NotTold
	DialS     units.Number // dial-in or index
	MPH       units.Number
	Fault     Fault
	NotTold   bool // the time was not written down: the lane may have reached the finish
}

// RoundRules are the track's part in who wins.
type RoundRules struct {
	Format   Format
	PerfectS float64 // what the slip prints for a perfect light: 0, 0.4 or 0.5 s
	// WorstRed: of two red lights the worse loses; otherwise the one that left first.
	WorstRed bool
}

// ftPerS is a mile an hour in ft/s.
const ftPerS = 5280. / 3600

// Nobody is the winner of a round that the slip does not decide.
const Nobody = -1

// RoundResult says who won and by how much. The lanes are 0 and 1.
type RoundResult struct {
	Winner   int // 0, 1, or Nobody
	Why      string
	Packages [2]units.Number // (reaction - perfect) + ET - dial, s; absent where a figure is
	First    int             // who reached the finish first, Nobody when not known
	MarginS  units.Number    // between the two at the finish
	MarginFt units.Number    // the same, at the speed of the one behind
	Remarks  []string
}

// RoundCaution goes with every result: which fault outweighs which is common
// practice without a source.
const RoundCaution = "boundary before red before breakout is common practice: the rulebook in force decides"

// Adjudicate decides a round; on a bye the second lane is empty. In this order: a lane that never
// left, the boundary, the red light, the breakout, the finish line (common practice,
// no source; the rulebook in force decides). A dial or index equalled is no breakout.
func Adjudicate(rules RoundRules, lanes [2]LaneRun, bye bool) RoundResult {
	if rules.Format == "" {
		rules.Format = Dialled
	}
	r := round{RoundRules: rules, lane: lanes}
	res := RoundResult{Winner: Nobody, First: Nobody}
	for i := range lanes {
		if p, ok := r.pack(i); ok {
			res.Packages[i] = units.Some(float64(p) / 1000)
		}
	}
	if bye {
		res.Winner, res.Why = 0, "a bye: no one in the other lane"
		return res
	}
	r.firstAtFinish(&res)
	for _, decide := range []func(*RoundResult) bool{r.byNoStart, r.byBoundary, r.byRed, r.byNoTime, r.byBreakout, r.byStripe} {
		if decide(&res) {
			break
		}
	}
	r.givenAway(&res)
	return res
}

// round compares in whole thousandths, as the slip prints them.
type round struct {
	RoundRules
	lane [2]LaneRun
}

func (r round) laneName(i int) string {
	if n := r.lane[i].Name; n != "" {
		return n
	}
	return fmt.Sprintf("lane %d", i+1)
}

func milli(n units.Number) int { return int(math.Round(n.Value() * 1000)) }

// late is the reaction after the perfect light, thousandths; red when below 0.
func (r round) late(i int) (int, bool) {
	return milli(r.lane[i].ReactionS) - int(math.Round(r.PerfectS*1000)), r.lane[i].ReactionS.Known()
}

// pack is the package: what is left of the lane's run over its own perfect one. Heads-up
// it is the time from the other lane's own start too.
func (r round) pack(i int) (int, bool) {
	late, some := r.late(i)
	l := r.lane[i]
	if r.Format == HeadsUp {
		return late + milli(l.ETS), some && l.ETS.Known()
	}
	return late + milli(l.ETS) - milli(l.DialS), some && l.ETS.Known() && l.DialS.Known()
}

// under is how far a lane went below its dial; 0 or less is no breakout.
func (r round) under(i int) int {
	l := r.lane[i]
	if r.Format == HeadsUp || !l.ETS.Known() || !l.DialS.Known() {
		return 0
	}
	return milli(l.DialS) - milli(l.ETS)
}

// firstAtFinish says who was first at the line: with each lane started by its own dial,
// the one with the smaller package.
func (r round) firstAtFinish(res *RoundResult) {
	a, okA := r.pack(0)
	b, okB := r.pack(1)
	if !okA || !okB {
		return
	}
	first := 0
	if b < a {
		first = 1
	}
	gap := math.Abs(float64(a-b)) / 1000
	res.MarginS = units.Some(gap)
	if a == b {
		return
	}
	res.First = first
	behind := r.lane[1-first].MPH
	if !behind.Known() {
		behind = r.lane[first].MPH
	}
	if behind.Known() {
		res.MarginFt = units.Some(gap * behind.Value() * ftPerS)
	}
}

// one gives the round to the only lane without a fault; both is for two of them.
func (r round) one(res *RoundResult, faulty [2]bool, why func(loser int) string, both func(*RoundResult)) bool {
	switch {
	case faulty[0] && faulty[1]:
		both(res)
	case faulty[0]:
		res.Winner, res.Why = 1, r.laneName(0)+" "+why(0)
	case faulty[1]:
		res.Winner, res.Why = 0, r.laneName(1)+" "+why(1)
	default:
		return false
	}
	return true
}

func undecided(why string) func(*RoundResult) {
	return func(res *RoundResult) { res.Why = why + ": the slip does not decide it, the rulebook in force does" }
}

func (r round) byNoStart(res *RoundResult) bool {
	return r.one(res, [2]bool{r.lane[0].Fault == NoStart, r.lane[1].Fault == NoStart},
		func(int) string { return "never left the line" }, undecided("neither lane left the line"))
}

func (r round) byBoundary(res *RoundResult) bool {
	return r.one(res, [2]bool{r.lane[0].Fault == Boundary, r.lane[1].Fault == Boundary},
		func(int) string { return "crossed the boundary" }, undecided("both lanes crossed the boundary"))
}

func (r round) byRed(res *RoundResult) bool {
	var red [2]bool
	var by [2]int
	for i := range red {
		late, some := r.late(i)
		red[i], by[i] = some && late < 0, -late
	}
	return r.one(res, red,
		func(loser int) string { return fmt.Sprintf("was red by %.3f", float64(by[loser])/1000) },
		func(res *RoundResult) { r.bothRed(res, by) })
}

// bothRed: by the track's rule the worse red light loses, or the first on the clock,
// where the slower dial is started earlier.
func (r round) bothRed(res *RoundResult, by [2]int) {
	rule, worse := "the worse", by
	if !r.WorstRed {
		rule = "the first"
		if r.Format == Dialled {
			if !r.lane[0].DialS.Known() || !r.lane[1].DialS.Known() {
				res.Why = "both red, and a dial is missing: who left first is not known"
				return
			}
			worse = [2]int{by[0] + milli(r.lane[0].DialS), by[1] + milli(r.lane[1].DialS)}
		}
	}
	switch {
	case worse[0] == worse[1]:
		undecided("both lanes were red alike")(res)
	case worse[0] > worse[1]:
		res.Winner, res.Why = 1, "both red: "+rule+" loses here"
	default:
		res.Winner, res.Why = 0, "both red: "+rule+" loses here"
	}
}

func (r round) byNoTime(res *RoundResult) bool {
	for i, l := range r.lane {
		if l.NotTold {
			undecided("the time of " + r.laneName(i) + " is not written down")(res)
			return true
		}
	}
	done := r.one(res, [2]bool{!r.lane[0].ETS.Known(), !r.lane[1].ETS.Known()},
		func(int) string { return "has no time at the finish" }, undecided("neither lane has a time at the finish"))
	if done && res.Winner != Nobody && r.under(res.Winner) > 0 {
		res.Remarks = append(res.Remarks, "the winner broke out: whether that counts alone at the finish is for the rulebook")
	}
	return done
}

func (r round) byBreakout(res *RoundResult) bool {
	under := [2]int{r.under(0), r.under(1)}
	limit := "dial"
	if r.Format == Index {
		limit = "index"
	}
	return r.one(res, [2]bool{under[0] > 0, under[1] > 0},
		func(loser int) string {
			return fmt.Sprintf("broke out, %.3f under its %s", float64(under[loser])/1000, limit)
		},
		func(res *RoundResult) {
			if under[0] == under[1] {
				r.byStripe(res)
				res.Why = "both broke out alike; " + res.Why
				return
			}
			res.Winner = 0
			if under[1] < under[0] {
				res.Winner = 1
			}
			res.Why = fmt.Sprintf("both broke out: %.3f under against %.3f", float64(under[res.Winner])/1000, float64(under[1-res.Winner])/1000)
		})
}

func (r round) byStripe(res *RoundResult) bool {
	switch {
	case !res.MarginS.Known():
		res.Why = "a reaction or a dial is missing: the slip does not tell who was first"
	case res.First == Nobody:
		undecided("equal to the thousandth")(res)
	default:
		res.Winner, res.Why = res.First, fmt.Sprintf("%s was first at the finish by %.3f", r.laneName(res.First), res.MarginS.Value())
	}
	return true
}

// givenAway says what the one ahead at the finish could have given away.
func (r round) givenAway(res *RoundResult) {
	for i, l := range r.lane {
		if late, _ := r.late(i); late < 0 || l.Fault != NoFault {
			return
		}
	}
	if res.First == Nobody {
		return
	}
	gap := int(math.Round(res.MarginS.Value() * 1000))
	switch under := r.under(res.First); {
	case res.Winner == res.First && gap > 1:
		res.Remarks = append(res.Remarks, fmt.Sprintf("%s could have given away %.3f more at the finish", r.laneName(res.First), float64(gap-1)/1000))
	case res.Winner == 1-res.First && under > 0 && r.under(res.Winner) <= 0 && gap > under:
		res.Remarks = append(res.Remarks, fmt.Sprintf("%s had %.3f to give away, and %.3f would have saved the breakout",
			r.laneName(res.First), float64(gap-1)/1000, float64(under)/1000))
	}
}
