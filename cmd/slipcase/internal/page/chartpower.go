package page

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// DynoChart draws a dyno sheet, or two over each other.
func (p *Page) DynoChart(s crew.ComparedSheets) Chart {
	c := Chart{Kind: "dyno", Units: p.Units, Title: "Dyno: " + brief(s.Sheets[0].Of.Name, 24)}
	if len(s.Sheets) > 1 {
		c.Title += " and " + brief(s.Sheets[1].Of.Name, 24)
	}
	c.X = Axis{Head: "engine speed", Name: "engine_speed", Of: units.RPM}
	var series []Series
	for i, sheet := range s.Sheets {
		one := Series{Name: brief(sheet.Of.Name, 30), Shape: []Shape{Line, Dashes}[i], Color: []Color{Own, Other}[i]}
		for _, point := range sheet.Curve {
			one.Points = append(one.Points, Spot{X: point.RPM, Y: point.HP, Of: sheet.Of.Name})
		}
		if sheet.Curve == nil {
			one.Shape = []Shape{Dot, Box}[i]
			if sheet.Of.PeakRPM.Known() {
				one.Points = []Spot{{X: sheet.Of.PeakRPM.Value(), Y: sheet.PeakHP, Of: sheet.Of.Name}}
			}
		}
		c.Says = append(
			c.Says,
			fmt.Sprintf("%s peaks at %s%s.", brief(sheet.Of.Name, 24), p.tenths(sheet.PeakHP), atRPM(sheet.Of.PeakRPM)),
		)
		series = append(series, one)
		if n := len(sheet.Curve); n > 0 && n <= mostDots { // what was read, apart from what lies between
			read := one
			read.Name, read.Shape = "", []Shape{Dot, Box}[i]
			series = append(series, read)
		}
	}
	if series = some(series...); len(series) == 0 {
		c.Says = append(c.Says, "No curve and no engine speed with it: nothing to draw.")
		return c
	}
	if len(s.Sheets) > 1 {
		c.Says = append(c.Says, p.peakGain(s))
	}
	power := Axis{Head: powerWords(s.Sheets[0]), Name: "power", Of: units.Power}
	c.Panels = []Panel{{Y: power, Series: series}}
	return c
}

// mostDots are as many readings of a curve as are marked one by one.
const mostDots = 40

// powerWords say where power is and by which standard.
func powerWords(s crew.ShownSheet) string {
	where := ""
	if s.Of.At != "" {
		where = " at the " + s.Of.At
	}
	return "power" + where + ", " + standardWords(s.In)
}

// peakGain says what the second sheet has over the first at the peaks, and up to where it is
// the other way round.
func (p *Page) peakGain(s crew.ComparedSheets) string {
	first, second := s.Sheets[0], s.Sheets[1]
	moreOrLess := func(gain float64) string {
		if gain < 0 {
			return "less"
		}
		return "more"
	}
	gain := second.PeakHP - first.PeakHP
	says := fmt.Sprintf("%s has %s %s, peak to peak", brief(second.Of.Name, 24), p.tenths(math.Abs(gain)), moreOrLess(gain))
	if rpm, some := crossing(s.Points); some && moreOrLess(s.Points[0].GainHP) != moreOrLess(gain) {
		says += fmt.Sprintf("; below %.0f rpm it has %s", rpm, moreOrLess(s.Points[0].GainHP))
	}
	return sentence(says)
}

// crossing is the engine speed at which two curves cross, where they do so once.
func crossing(points []crew.CurveDifference) (rpm float64, once bool) {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if a.GainHP*b.GainHP >= 0 {
			continue
		}
		if once {
			return 0, false
		}
		rpm, once = a.RPM+(b.RPM-a.RPM)*a.GainHP/(a.GainHP-b.GainHP), true
	}
	return 50 * math.Round(rpm/50), once
}

// PlanChart shows what each change of the plan should bring.
func (p *Page) PlanChart(r crew.Ranked) Chart {
	c := Chart{
		Kind:  "plan",
		Units: p.Units,
		Title: fmt.Sprintf("%s: what the plan should bring", brief(r.Run.Vehicle.Name(), 22)),
	}
	worth := r.Worth[:min(len(r.Worth), mostChanges)]
	c.X = Axis{Head: "gain in ET (right is quicker)", Name: "gain", Of: units.Seconds, Signed: true}
	y := Axis{Head: "change and its cost", Name: "change", Named: true}
	ranges := Series{Name: "8 of 10 times in here", Shape: Whiskers, Color: Quiet}
	likely := Series{Name: "most likely", Shape: Dot, Color: Own}
	for i, w := range worth {
		row := float64(len(worth) - i)
		y.Ticks = append(y.Ticks, Tick{row, fmt.Sprintf("%s, %s", brief(w.Name, 14), p.dollars(w.Cost.Likely))})
		at := Spot{X: -w.ETGain.Likely, Y: row}
		likely.Points = append(likely.Points, at)
		at.Low, at.High = units.Some(-w.ETGain.High), units.Some(-w.ETGain.Low)
		ranges.Points = append(ranges.Points, at)
	}
	c.Says = []string{
		fmt.Sprintf(
			"%s brings most: %s, for %s.",
			capital(brief(worth[0].Name, 24)),
			short(-worth[0].ETGain.Likely, gainDigits(worth[0].ETGain)),
			p.dollars(worth[0].Cost.Likely),
		),
	}
	c.Says = append(c.Says, sentence("Each alone, gains do not add up. A tenth costs: "+strings.Join(p.tenthCosts(worth), ", ")))
	c.Says = append(c.Says, p.reckonedFor(r.Run))
	if n := len(r.Worth) - len(worth); n > 0 {
		c.Says = append(c.Says, fmt.Sprintf("%d more: slipcase plan rank.", n))
	}
	c.Panels = []Panel{{Y: y, Rules: []Rule{{Upright: true}}, Series: []Series{ranges, likely}}}
	return c
}

// reckonedFor says with what and where changes are reckoned.
func (p *Page) reckonedFor(r crew.Run) string {
	says := "Reckoned"
	if r.Setup.Name != "" {
		says += " from " + brief(r.Setup.Name, 20)
	}
	if r.Track.ID != "" {
		says += " at " + brief(r.Track.Name(), 20)
	}
	if !r.Air.Known {
		return says + ", the air guessed."
	}
	return sentence(says + ", density altitude " + p.Show(units.Length, units.Some(r.Air.Air.DensityAltitudeFt())))
}

// gainDigits are as many as the range of a gain leaves a meaning.
func gainDigits(r crew.Range) int {
	const wide = 0.1
	if r.High-r.Low > wide {
		return 2
	}
	return 3
}

// tenthCosts are what a tenth of a second costs by the changes that bring it for the least.
func (p *Page) tenthCosts(worth []crew.Worth) (costs []string) {
	const most = 5
	by := slices.SortedStableFunc(slices.Values(worth), func(a, b crew.Worth) int {
		return cmp.Compare(a.CostPerTenth.Likely, b.CostPerTenth.Likely)
	})
	for _, w := range by[:min(len(by), most)] {
		name := brief(w.Name, 20)
		switch {
		case w.Cost.Likely == 0 && w.ETGain.Likely < 0:
			name += fmt.Sprintf(" free (%s)", short(-w.ETGain.Likely, gainDigits(w.ETGain)))
		case math.IsInf(w.CostPerTenth.Likely, 0):
			name += " may bring nothing"
		case math.IsInf(w.CostPerTenth.High, 0):
			name += fmt.Sprintf(" %s (may bring nothing)", p.dollars(w.CostPerTenth.Likely))
		default:
			name += " " + p.dollars(w.CostPerTenth.Likely)
		}
		costs = append(costs, name)
	}
	return costs
}

// mostChanges are as many as a picture of a plan has rows for.
const mostChanges = 12

// Nothing is a picture of which there is only a sentence.
func (p *Page) Nothing(kind, says string) Chart {
	return Chart{Kind: kind, Units: p.Units, Says: []string{capital(sentence(says))}}
}
