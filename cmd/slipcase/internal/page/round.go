package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

type roundJSON struct {
	Result        string       `json:"result,omitzero"`
	Why           string       `json:"why"`
	PackageS      units.Number `json:"package_s,omitzero"`
	OtherPackageS units.Number `json:"other_package_s,omitzero"`
	MarginS       units.Number `json:"margin_s,omitzero"`
	MarginFt      units.Number `json:"margin_ft,omitzero"`
	Warnings      []string     `json:"warnings"`
}

// Round tells who won a round and why.
func (p *Page) Round(r crew.Round) error {
	notes := judgementNotes(r)
	out := roundJSON{
		Result: crew.ResultOf(r.Winner), Why: Decision(r.Why),
		PackageS: roundedNumber(r.Packages[0], ToS), OtherPackageS: roundedNumber(r.Packages[1], ToS),
		MarginS: roundedNumber(r.MarginS, ToS), MarginFt: roundedNumber(r.MarginFt, ToGapFt), Warnings: notes,
	}
	t := roundTable(r)
	return p.Answer(out, t, func(w io.Writer) {
		head := out.Result
		if head == "" {
			head = "not decided"
		}
		p.Say(w, head, out.Why)
		if r.First != crew.Nobody {
			margin := fmt.Sprintf("%s ahead by %s", LaneNames[r.First], short(r.MarginS.Value(), 3))
			if r.MarginFt.Known() {
				margin += ", " + p.feet(r.MarginFt.Value())
			}
			p.Say(w, "at the finish", margin)
		}
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		for _, n := range notes {
			p.Say(w, "note", n)
		}
	})
}

// judgementNotes are what to know of a judgement; which fault outweighs which is common
// practice without a source.
func judgementNotes(r crew.Round) []string {
	notes := RoundNotes(r.Notes)
	if r.LastFt > 0 {
		notes = append(notes, fmt.Sprintf("judged at %g ft: your last time is at %g ft", r.JudgedFt, r.LastFt))
	}
	if r.RuleAssumed {
		notes = append(notes, "rule for two reds assumed: --both-red worst, or slipcase track amend --both-red")
	}
	if r.Contradicts {
		notes = append(notes, "the log says "+r.Recorded)
	}
	return append(notes, RoundCaution)
}

func roundTable(r crew.Round) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "lane"},
		{Head: "reaction", Key: "reaction_s", Right: true},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "dial", Key: "dial_s", Right: true},
		{Head: "package", Key: "package_s", Right: true},
	}}
	for i, l := range r.Lanes {
		if i == 1 && r.Bye {
			break
		}
		t.AddCells(table.Cells{
			"lane": [2]string{"you", "other"}[i], "reaction_s": Seconds(l.ReactionS), "et_s": Seconds(l.ETS),
			"dial_s": Hundredths(l.DialS), "package_s": Seconds(r.Packages[i]),
		})
	}
	return t
}

// feet is a short distance with a digit behind the point where it deserves one.
func (p *Page) feet(ft float64) string {
	v := units.Length.In(p.Units, ft)
	if v < 10 {
		return fmt.Sprintf("%.1f %s", v, units.Length.Symbol(p.Units))
	}
	return fmt.Sprintf("%.0f %s", v, units.Length.Symbol(p.Units))
}
