package main

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
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

func newRoundJSON(r predict.RoundResult, remarks []string) roundJSON {
	return roundJSON{resultWord(r.Winner), page.Decision(r.Why), roundedNumber(r.Packages[0], page.ToS), roundedNumber(r.Packages[1], page.ToS), roundedNumber(r.MarginS, page.ToS), roundedNumber(r.MarginFt, page.ToGapFt), remarks}
}

func roundTable(lanes [2]predict.LaneRun, r predict.RoundResult, bye bool) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "lane"},
		{Head: "reaction", Key: "reaction_s", Right: true},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "dial", Key: "dial_s", Right: true},
		{Head: "package", Key: "package_s", Right: true},
	}}
	for i, name := range page.LaneNames {
		if i == 1 && bye {
			break
		}
		l := lanes[i]
		t.Add(name, seconds(l.ReactionS), seconds(l.ETS), hundredths(l.DialS), seconds(r.Packages[i]))
	}
	return t
}

func (a *app) roundText(w io.Writer, lanes [2]predict.LaneRun, r predict.RoundResult, bye bool, remarks []string) {
	head := resultWord(r.Winner)
	if head == "" {
		head = "not decided"
	}
	a.say(w, head, page.Decision(r.Why))
	if r.First != predict.Nobody {
		margin := fmt.Sprintf("%s ahead by %.3f s", page.LaneNames[r.First], r.MarginS.Value())
		if r.MarginFt.Known() {
			margin += ", " + a.feet(r.MarginFt.Value())
		}
		a.say(w, "at the finish", margin)
	}
	fmt.Fprintln(w)
	roundTable(lanes, r, bye).Render(w, table.Text, a.width())
	fmt.Fprintln(w)
	for _, remark := range remarks {
		a.say(w, "note", remark)
	}
}

// feet is a short distance with a digit behind the point where it deserves one.
func (a *app) feet(ft float64) string {
	v := units.Length.In(a.units, ft)
	if v < 10 {
		return fmt.Sprintf("%.1f %s", v, units.Length.Symbol(a.units))
	}
	return fmt.Sprintf("%.0f %s", v, units.Length.Symbol(a.units))
}
