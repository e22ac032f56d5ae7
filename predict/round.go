package predict

import (
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
	NoStart  Fault = "no-start" // broke before it staged: the other lane is alone, red or not
	Stalled  Fault = "stalled"  // broke on the line with both staged: a red light opposite loses
)

// LaneRun is one lane's column of a slip.
type LaneRun struct {
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

// Nobody is the winner of a round that the slip does not decide.
const Nobody = -1

// RoundResult says who won and by how much. The lanes are 0 and 1.
type RoundResult struct {
	Winner   int // 0, 1, or Nobody
	Why      Decision
	Packages [2]units.Number // (reaction - perfect) + ET - dial, s; absent where a figure is
	First    int             // who reached the finish first, Nobody when not known
	MarginS  units.Number    // between the two at the finish
	MarginFt units.Number    // the same, at the speed of the one behind
	Notes    []RoundNote
}

// Decision is what decided a round, or left it open.
type Decision struct {
	Kind   DecisionKind
	Lane   int     // whose fault it was, or who was first; Nobody where it was both
	S      float64 // by how much: red, under the dial, ahead; of both, the one less at fault
	OtherS float64 // BrokeOut of both: the other's
	Index  bool    // BrokeOut: it was the class's index, not a dial
	AlikeS float64 // AtFinish: both broke out by this much alike, so that the finish decides
}

// DecisionKind says what decided.
type DecisionKind string

// What decides, in this order.
const (
	ByBye          DecisionKind = "bye" // no one in the other lane
	NeverStaged    DecisionKind = "never-staged"
	NeverLeft      DecisionKind = "never-left"       // the line, with both staged
	CrossedLine    DecisionKind = "crossed-line"     // the boundary
	RedLight       DecisionKind = "red-light"        // both: alike
	WorseRed       DecisionKind = "worse-red"        // both were, the worse loses here
	FirstRed       DecisionKind = "first-red"        // both were, the first loses here
	FirstRedUntold DecisionKind = "first-red-untold" // both were, and a dial is missing
	TimeUntold     DecisionKind = "time-untold"      // of a lane: not written down
	NoFinish       DecisionKind = "no-finish"        // no time there
	BrokeOut       DecisionKind = "broke-out"
	AtFinish       DecisionKind = "at-finish"     // Lane was first, Nobody: equal to the thousandth
	FinishUntold   DecisionKind = "finish-untold" // a reaction or a dial is missing
)

// BothRed reports that both lanes were red, and the track's rule for it was asked.
func (d Decision) BothRed() bool {
	return d.Kind == WorseRed || d.Kind == FirstRed || d.Kind == FirstRedUntold
}

// RoundNote is something to know beside a result.
type RoundNote struct {
	Kind   RoundNoteKind
	Lane   int
	SpareS float64 // to give away at the finish
	NeedS  float64 // GaveTooLittle: what would have saved the breakout
}

// RoundNoteKind says what it is about.
type RoundNoteKind string

// The kinds.
const (
	WinnerBrokeOut RoundNoteKind = "winner-broke-out" // alone at the finish: for the rulebook
	HadSpare       RoundNoteKind = "had-spare"
	GaveTooLittle  RoundNoteKind = "gave-too-little"
)

// Adjudicate decides a round; on a bye the second lane is empty. In this order: a lane
// that never staged, the boundary, the red light, a lane that never left, the breakout,
// the finish line (common practice, no source; the rulebook in force decides). A dial or index equalled is no breakout.
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
		res.Winner, res.Why = 0, Decision{Kind: ByBye}
		return res
	}
	r.firstAtFinish(&res)
	for _, decide := range []func(*RoundResult) bool{
		r.byNoStart, r.byBoundary, r.byRed, r.byStall, r.byNoTime,
		r.byBreakout, r.byStripe,
	} {
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
		res.MarginFt = units.Some(gap * behind.Value() * units.FtPerSPerMPH)
	}
}

// one gives the round to the only lane without a fault; both is for two of them.
func (r round) one(res *RoundResult, faulty [2]bool, kind DecisionKind, by [2]int, both func(*RoundResult)) bool {
	res.Why = Decision{Kind: kind, Lane: Nobody}
	switch {
	case faulty[0] && faulty[1]:
		if both != nil {
			both(res)
		}
	case faulty[0] || faulty[1]:
		if faulty[1] {
			res.Why.Lane = 1
		} else {
			res.Why.Lane = 0
		}
		res.Winner, res.Why.S = 1-res.Why.Lane, float64(by[res.Why.Lane])/1000
	default:
		return false
	}
	return true
}

func (r round) byNoStart(res *RoundResult) bool {
	return r.one(res, r.faulty(NoStart), NeverStaged, [2]int{}, nil)
}

func (r round) byStall(res *RoundResult) bool {
	return r.one(res, r.faulty(Stalled), NeverLeft, [2]int{}, nil)
}

func (r round) faulty(f Fault) [2]bool { return [2]bool{r.lane[0].Fault == f, r.lane[1].Fault == f} }

func (r round) byBoundary(res *RoundResult) bool {
	return r.one(res, r.faulty(Boundary), CrossedLine, [2]int{}, nil)
}

func (r round) byRed(res *RoundResult) bool {
	var red [2]bool
	var by [2]int
	for i := range red {
		late, some := r.late(i)
		red[i], by[i] = some && late < 0, -late
	}
	return r.one(res, red, RedLight, by, func(res *RoundResult) { r.bothRed(res, by) })
}

// bothRed: by the track's rule the worse red light loses, or the first on the clock,
// where the slower dial is started earlier.
func (r round) bothRed(res *RoundResult, by [2]int) {
	rule, worse := WorseRed, by
	if !r.WorstRed {
		rule = FirstRed
		if r.Format == Dialled {
			if !r.lane[0].DialS.Known() || !r.lane[1].DialS.Known() {
				res.Why.Kind = FirstRedUntold
				return
			}
			worse = [2]int{by[0] + milli(r.lane[0].DialS), by[1] + milli(r.lane[1].DialS)}
		}
	}
	if worse[0] == worse[1] {
		return
	}
	res.Why.Kind, res.Winner = rule, 0
	if worse[0] > worse[1] {
		res.Winner = 1
	}
}

func (r round) byNoTime(res *RoundResult) bool {
	for i, l := range r.lane {
		if l.NotTold {
			res.Why = Decision{Kind: TimeUntold, Lane: i}
			return true
		}
	}
	done := r.one(res, [2]bool{!r.lane[0].ETS.Known(), !r.lane[1].ETS.Known()}, NoFinish, [2]int{}, nil)
	if done && res.Winner != Nobody && r.under(res.Winner) > 0 {
		res.Notes = append(res.Notes, RoundNote{Kind: WinnerBrokeOut, Lane: res.Winner})
	}
	return done
}

func (r round) byBreakout(res *RoundResult) bool {
	under := [2]int{r.under(0), r.under(1)}
	done := r.one(res, [2]bool{under[0] > 0, under[1] > 0}, BrokeOut, under, func(res *RoundResult) {
		if under[0] == under[1] {
			r.byStripe(res)
			res.Why.AlikeS = float64(under[0]) / 1000
			return
		}
		res.Winner = 0
		if under[1] < under[0] {
			res.Winner = 1
		}
		res.Why.S, res.Why.OtherS = float64(under[res.Winner])/1000, float64(under[1-res.Winner])/1000
	})
	res.Why.Index = r.Format == Index
	return done
}

func (r round) byStripe(res *RoundResult) bool {
	res.Why = Decision{Kind: AtFinish, Lane: res.First, S: res.MarginS.Value()}
	if res.Winner = res.First; !res.MarginS.Known() {
		res.Why.Kind = FinishUntold
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
		res.Notes = append(res.Notes, RoundNote{Kind: HadSpare, Lane: res.First, SpareS: float64(gap-1) / 1000})
	case res.Winner == 1-res.First && under > 0 && r.under(res.Winner) <= 0 && gap > under:
		res.Notes = append(res.Notes, RoundNote{GaveTooLittle, res.First, float64(gap-1) / 1000, float64(under) / 1000})
	}
}
