package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// letGoS is so far over a dial that nobody was racing any more (common practice, no source).
const letGoS = 0.35

// roundEnd is a way in which a round may end, and how it is drawn.
type roundEnd struct {
	name  string
	shape Shape
	color Color
	is    func(result string, why crew.End) bool
}

// ends are all of them; the first that it is counts.
var ends = []roundEnd{
	{"you, won", Dot, Own, func(result string, _ crew.End) bool { return result == "won" }},
	{"you, lost: red", Cross, Other, func(r string, why crew.End) bool { return r == "lost" && why == crew.EndRed }},
	{
		"you, lost: breakout",
		Down,
		Other,
		func(r string, why crew.End) bool { return r == "lost" && why == crew.EndBreakout },
	},
	{"you, lost: package", Box, Other, func(r string, why crew.End) bool { return r == "lost" && why == crew.EndPackage }},
	{"you, lost: other", Up, Other, func(r string, _ crew.End) bool { return r == "lost" }},
	{"you, not told who won", Box, Quiet, func(string, crew.End) bool { return true }},
}

// seenRound is a round as far as it can be drawn: of each lane how far it was over its dial,
// and its package.
type seenRound struct {
	run            crew.Run
	result         string
	why            crew.End
	over, packages [2]units.Number
	gone           int // lanes that were let go
}

func seeRound(run crew.Run) seenRound {
	seen := seenRound{run: run}
	seen.result, seen.why = crew.EndOf(run.Slip, run.Track)
	r := crew.RoundOf(run.Slip, run.Track, crew.RulesOf(run.Slip, run.Track))
	r.Judge()
	if r.Rules.Format == crew.HeadsUp {
		return seen
	}
	for lane, l := range r.Lanes {
		by := minus(l.ETS, l.DialS)
		if by.Known() && math.Abs(by.Value()) > letGoS {
			seen.gone++
			continue
		}
		seen.over[lane], seen.packages[lane] = by, r.Packages[lane]
	}
	return seen
}

// blank reports a round of which there is nothing to draw.
func (r *seenRound) blank() bool {
	return !slices.ContainsFunc(append(r.over[:], r.packages[:]...), units.Number.Known)
}

// under reports a lane under its dial.
func (r *seenRound) under(lane int) bool { return r.over[lane].Or(0) < 0 }

// RoundsChart shows how far over or under the dial both lanes ran, and their packages.
func (p *Page) RoundsChart(g crew.Gathered) Chart {
	c := Chart{Kind: "rounds", Units: p.Units, Title: brief(g.Vehicle.Name(), 24) + ": rounds, and why they were lost"}
	var all []seenRound
	for _, t := range g.Runs {
		if crew.Raced(t.Run.Slip) {
			all = append(all, seeRound(t.Run))
		}
	}
	rounds := slices.DeleteFunc(slices.Clone(all), func(r seenRound) bool { return r.blank() })
	rounds, more := newest(rounds, roundMarks, "rounds")
	if len(rounds) == 0 {
		c.Says = []string{nothing(g, "No round with dials and times yet: nothing to draw.")}
		return c
	}
	if len(more) > 0 {
		all = rounds
	}
	c.X = orderAxis(each(rounds, func(r seenRound) crew.Run { return r.run }))
	c.X.Head = "rounds in order"
	over, packages := newLanes(), newLanes()
	for i, r := range rounds {
		end := slices.IndexFunc(ends, func(e roundEnd) bool { return e.is(r.result, r.why) })
		for lane := range r.over {
			at := Spot{X: float64(i + 1), Of: r.run.Slip.ID}
			over.add(lane, end, r.under(lane), at, r.over[lane])
			packages.add(lane, end, r.under(lane), at, r.packages[lane])
		}
	}
	dial := Axis{Head: "ET over the dial or index (below 0 breaks out)", Name: "over_dial", Of: units.Seconds, Signed: true}
	pkg := Axis{Head: "package: lower wins if neither broke out", Name: "package", Of: units.Seconds, Signed: true}
	for _, panel := range []Panel{{Y: dial, Series: over.series()}, {Y: pkg, Series: packages.series()}} {
		if len(panel.Series) > 0 {
			panel.Rules = []Rule{{}}
			c.Panels = append(c.Panels, panel)
		}
	}
	c.Says = append(roundsSay(all), more...)
	return c
}

// roundsSay says how rounds ended, and who was under.
func roundsSay(all []seenRound) []string {
	ended, under, double, gone := map[string]int{}, 0, 0, 0
	for _, r := range all {
		ended[r.result+" "+string(r.why)]++
		ended[r.result]++
		gone += r.gone
		if r.under(0) {
			under++
		}
		if r.under(0) && r.under(1) {
			double++
		}
	}
	says := wonLost(ended)
	if n := ended[""]; n > 0 {
		says = append(says, fmt.Sprintf("%s not told.", capital(count(n, "round"))))
	}
	if under > 0 {
		says = append(says, fmt.Sprintf("You were under your dial in %s.", count(under, "round")))
	}
	if double > 0 {
		says = append(says, fmt.Sprintf("Both were under in %s: the one less under wins.", count(double, "round")))
	}
	if gone > 0 {
		says = append(says, fmt.Sprintf("%s over or under by more than %s, let go or broken, left out.",
			count(gone, "lane"), short(letGoS, 2)))
	}
	return says
}

// wonLost says how rounds ended.
func wonLost(n map[string]int) []string {
	says := []string{sentence(fmt.Sprintf("Won %d, lost %d", n["won"], n["lost"]) + endings(n, "lost ", [4]string{
		"red", "breakout", "package", "broke",
	}))}
	if won := endings(n, "won ", [4]string{"other lane red", "other lane's breakout", "package", "other lane broke"}); won != "" {
		says = append(says, sentence("Of those won"+won))
	}
	return says
}

// endings says in words how rounds of one result ended.
func endings(n map[string]int, result string, words [4]string) string {
	var whys []string
	for i, end := range []crew.End{crew.EndRed, crew.EndBreakout, crew.EndPackage, crew.EndBroke} {
		if k := n[result+string(end)]; k > 0 {
			whys = append(whys, fmt.Sprintf("%d by %s", k, words[i]))
		}
	}
	if len(whys) == 0 {
		return ""
	}
	return ": " + strings.Join(whys, ", ")
}

// roundMarks are those of a round: two lanes in two panels, and what joins them.
const roundMarks = 6

// lanes are the figures of both lanes of rounds, the own ones by how they ended.
type lanes struct {
	own   []Series
	other Series
	broke Series // its own under the dial
	ties  Series
	last  Spot // of the own lane
}

func newLanes() *lanes {
	const apart = 0.17
	l := &lanes{
		other: Series{Name: "the other lane", Shape: Ring, Color: Quiet, Beside: apart},
		broke: Series{Name: "the other lane, under its dial", Shape: Hollow, Color: Quiet, Beside: apart},
		ties:  Series{Name: "the two lanes of a round", Shape: Ties, Color: Quiet, Beside: apart},
	}
	for _, e := range ends {
		l.own = append(l.own, Series{Name: e.name, Shape: e.shape, Color: e.color, Beside: -apart})
	}
	return l
}

func (l *lanes) add(lane, end int, broke bool, at Spot, v units.Number) {
	at.Y = v.Or(0)
	switch {
	case !v.Known():
		return
	case lane == 0:
		l.own[end].Points, l.last = append(l.own[end].Points, at), at
		return
	case broke:
		l.broke.Points = append(l.broke.Points, at)
	default:
		l.other.Points = append(l.other.Points, at)
	}
	if l.last.X == at.X {
		l.ties.Points = append(l.ties.Points, l.last, at)
	}
}

func (l *lanes) series() []Series {
	return some(append(append([]Series{l.ties}, l.own...), l.other, l.broke)...)
}
