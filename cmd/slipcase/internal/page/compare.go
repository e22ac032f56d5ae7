package page

import (
	"fmt"
	"io"
	"math"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
)

// compareJSON is what came of a comparison; b less a.
type compareJSON struct {
	Vehicle    string  `json:"vehicle"`
	A          string  `json:"a"`
	B          string  `json:"b"`
	RunsA      int     `json:"runs_a"`
	RunsB      int     `json:"runs_b"`
	DaysA      int     `json:"days_a"`
	DaysB      int     `json:"days_b"`
	DistanceFt float64 `json:"distance_ft"`

	Difference float64 `json:"difference_s"`
	Low50      float64 `json:"difference_low50_s"`
	High50     float64 `json:"difference_high50_s"`
	Low80      float64 `json:"difference_low80_s"`
	High80     float64 `json:"difference_high80_s"`
	Low95      float64 `json:"difference_low95_s"`
	High95     float64 `json:"difference_high95_s"`

	Quicker   float64  `json:"chance_b_quicker"`
	QuickerBy float64  `json:"chance_b_quicker_by"`
	ByS       float64  `json:"by_s"`
	Verdict   string   `json:"verdict"`
	Leans     string   `json:"leans"`
	MoreDays  int      `json:"more_days_to_tell"`
	MoreWithB int      `json:"more_days_with_b_to_tell"` // where it is not taken off again
	TookTurns bool     `json:"took_turns"`               // a day has runs of both
	Says      string   `json:"says"`
	Warnings  []string `json:"warnings"`
}

func newCompareJSON(c crew.Compared, says string, notes []string) compareJSON {
	d := c.Difference
	mean := func(s float64) float64 { return rounded(s, ToMeanS) }
	return compareJSON{
		Vehicle: c.Vehicle, A: c.A.Setup, B: c.B.Setup, RunsA: c.A.Runs, RunsB: c.B.Runs, DaysA: c.A.Days, DaysB: c.B.Days,
		DistanceFt: c.Mark.Ft(), Difference: mean(d.Centre),
		Low50: mean(d.Low50), High50: mean(d.High50), Low80: mean(d.Low80), High80: mean(d.High80),
		Low95: mean(d.Low95), High95: mean(d.High95),
		Quicker: rounded(c.Quicker, ToShare), QuickerBy: rounded(c.QuickerBy, ToShare), ByS: c.By.Value(),
		Verdict: c.Verdict, Leans: c.Leans, MoreDays: c.MoreDays, MoreWithB: c.MoreDaysWithB, TookTurns: c.TookTurns,
		Says: says, Warnings: notes,
	}
}

// Compare tells what two setups differ by.
func (p *Page) Compare(c crew.Compared) error {
	says, notes := Comparison(c.Comparison), Notes(c.Notes, p.Units)
	if s := c.Stops; s.Differ() {
		const words = "throttle stops of %.2f to %.2f in it: what they cost is reckoned, and may be a part of the difference"
		notes = append(notes, fmt.Sprintf(words, s.ShortS, s.LongS))
	}
	p.Aside(append([]string{says}, notes...))
	t := p.compareTable(c)
	return p.Answer(newCompareJSON(c, says, notes), t, func(w io.Writer) {
		p.Say(w, fmt.Sprintf("at %g ft", c.Mark.Ft()), says)
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		if c.By.Known() {
			p.Say(
				w,
				"by that much",
				fmt.Sprintf("%s that %s is quicker by %s or more", p.Share(c.QuickerBy), c.B.Setup, short(c.By.Value(), 3)),
			)
		}
		for _, n := range notes {
			p.Say(w, "note", n)
		}
	})
}

// Comparison says in a sentence whether two setups differ, by the one probability that the
// second is the quicker, and what it would take to tell.
func Comparison(c crew.Comparison) string {
	d := c.Difference
	switch size := short(math.Abs(d.Centre), 3); {
	case c.Verdict != crew.NotTold:
		low, high := math.Min(math.Abs(d.Low80), math.Abs(d.High80)), math.Max(math.Abs(d.Low80), math.Abs(d.High80))
		return fmt.Sprintf("%s is %s than %s by %s in the same air, 8 of 10 in %s-%s", c.B.Setup, c.Verdict, c.A.Setup, size,
			short(low, 3), short(high, 3))
	case c.Leans != crew.NotTold:
		return fmt.Sprintf("%s is probably %s than %s, %.0f %%: by %s in the same air, %s; %s", c.B.Setup, c.Leans, c.A.Setup,
			100*math.Max(c.Quicker, 1-c.Quicker), size, bothWays(d), moreDays(c))
	default:
		side := "quicker"
		if d.Centre > 0 {
			side = "slower"
		}
		return fmt.Sprintf("no difference shown: %s %s %s than %s in the same air, %s; %s", c.B.Setup, size, side,
			c.A.Setup, bothWays(d), moreDays(c))
	}
}

// bothWays is the range of a difference that may be either way: what does not reach over 0 is said
// by its size.
func bothWays(d crew.Band) string {
	side := func(s float64) string {
		if s > 0 {
			return short(s, 3) + " slower"
		}
		return short(-s, 3) + " quicker"
	}
	return fmt.Sprintf("8 of 10 in %s to %s", side(d.Low80), side(d.High80))
}

// moreDays is the advice that fits the change: what was swapped within a day can take
// turns, what was not needs days as it is.
func moreDays(c crew.Comparison) string {
	n, how := c.MoreDaysWithB, "with "+c.B.Setup
	if c.TookTurns {
		n, how = c.MoreDays, "of taking turns"
	}
	switch {
	case c.MoreDays < 0:
		return "that little would take over 20 more days to tell"
	case n < 0:
		return fmt.Sprintf("more days with %s alone would not tell: run %s too", c.B.Setup, c.A.Setup)
	case n == 1:
		return fmt.Sprintf("one more day %s, two runs, should tell", how)
	}
	return fmt.Sprintf("%d more days %s, two runs each, should tell", n, how)
}

func (p *Page) compareTable(c crew.Compared) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "setup"},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "days", Key: "days", Right: true},
		{Head: "B less A", Key: "difference_s", Right: true},
		{Head: "8 of 10 from", Key: "low80_s", Right: true},
		{Head: "to", Key: "high80_s", Right: true},
		{Head: "B quicker", Key: "chance_b_quicker", Right: true},
	}}
	d := c.Difference
	t.AddCells(table.Cells{"setup": c.A.Setup, "runs": fmt.Sprint(c.A.Runs), "days": fmt.Sprint(c.A.Days)})
	t.AddCells(table.Cells{
		"setup": c.B.Setup, "runs": fmt.Sprint(c.B.Runs), "days": fmt.Sprint(c.B.Days),
		"difference_s": fmt.Sprintf("%+.3f", d.Centre),
		"low80_s":      fmt.Sprintf("%+.3f", d.Low80), "high80_s": fmt.Sprintf("%+.3f", d.High80),
		"chance_b_quicker": p.Share(c.Quicker),
	})
	return t
}
