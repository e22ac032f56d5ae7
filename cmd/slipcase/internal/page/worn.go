package page

import (
	"fmt"
	"io"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// wornJSON is a part with what is left of it; null where it has no such life.
type wornJSON struct {
	Part        string       `json:"part"`
	Safety      string       `json:"safety,omitzero"`
	Vehicle     string       `json:"vehicle"` // "" for a spare
	Since       crew.Time    `json:"since"`
	Runs        int          `json:"runs"`
	Seasons     int          `json:"seasons"`
	LifeRuns    units.Number `json:"life_runs"`
	LifeSeasons units.Number `json:"life_seasons"`
	Expires     *crew.Time   `json:"expires"`
	LeftRuns    units.Number `json:"left_runs"`
	LeftSeasons units.Number `json:"left_seasons"`
	LeftDays    units.Number `json:"left_days"`
	Due         string       `json:"due"` // "", soon or overdue
	Entries     []crew.Wear  `json:"entries,omitempty"`
}

func newWornJSON(w crew.Worn, entries bool) wornJSON {
	out := wornJSON{
		w.Part, w.Safety, w.On,
		crew.Time{Time: w.Since},
		w.Runs, w.Seasons, w.LifeRuns, w.LifeSeasons, nil,
		w.LeftRuns, w.LeftSeasons, w.LeftDays, string(w.Due), nil,
	}
	if !w.Expires.IsZero() {
		out.Expires = &crew.Time{Time: w.Expires}
	}
	if entries {
		out.Entries = w.Entries
	}
	return out
}

// rulebookDates goes with every date of safety equipment.
const rulebookDates = "Usual lives are from memory (November 2026): the label and the rulebook in force decide."

// PartsWorn lists parts with what is left of them.
func (p *Page) PartsWorn(parts []crew.Worn, wrong []*crew.WearError) error {
	for _, e := range wrong {
		p.Note("left out: %v", e)
	}
	list := []wornJSON{}
	dated := false
	for _, w := range parts {
		list = append(list, newWornJSON(w, false))
		dated = dated || w.Safety != ""
	}
	t := p.wornTable(parts)
	return p.Answer(list, t, func(w io.Writer) {
		if len(parts) == 0 {
			fmt.Fprint(w, "none recorded yet\n  the first   slipcase part add plugs --vehicle heron --life 60runs\n")
			return
		}
		t.Render(w, table.Text, p.Width())
		if dated {
			p.Wrap(w, rulebookDates)
		}
	})
}

func (p *Page) wornTable(parts []crew.Worn) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "part", Key: "part"},
		{Head: "on", Key: "vehicle"},
		{Head: "since", Key: "since", Drop: 2},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "seasons", Key: "seasons", Right: true, Drop: 3},
		{Head: "left", Key: "left"},
		{Head: "due", Key: "due", Drop: 1},
	}}
	for _, w := range parts {
		on := w.On
		if on == "" && p.Format == table.Text {
			on = "spare"
		}
		t.AddCells(table.Cells{
			"part": w.Part, "vehicle": on, "since": p.day(w.Since), "runs": fmt.Sprint(w.Runs), "seasons": fmt.Sprint(w.Seasons),
			"left": left(w), "due": dueWord(w.Due),
		})
	}
	return t
}

// day is a date in a table.
func (p *Page) day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2006-01-02")
}

func dueWord(d crew.Due) string {
	if d == crew.Overdue {
		return "OVERDUE"
	}
	return string(d)
}

// left says what is left of a part, each of its lives, under a heading that says so.
func left(w crew.Worn) string { return lives(w, "", "to ") }

// leftOf is left within a sentence.
func leftOf(w crew.Worn) string { return lives(w, " left", "good to ") }

func lives(w crew.Worn, tail, before string) string {
	var said []string
	span := func(n units.Number, one, many string) {
		if !n.Known() {
			return
		}
		v, end := int(n.Value()), tail
		if v < 0 {
			v, end = -v, " over"
		}
		said = append(said, fmt.Sprintf("%d %s%s", v, Plural(v, one, many), end))
	}
	span(w.LeftRuns, "run", "runs")
	span(w.LeftSeasons, "season", "seasons")
	if !w.Expires.IsZero() {
		said = append(said, before+w.Expires.Format(DateForm))
	}
	return strings.Join(said, ", ")
}

// Due says in one line what is to be changed, "" where nothing is.
func Due(parts []crew.Worn) string {
	var said []string
	for _, w := range parts {
		word := w.Part + " " + left(w)
		if w.Due == crew.Overdue {
			word = w.Part + " OVERDUE, " + left(w)
		}
		said = append(said, table.Clean(word))
	}
	return strings.Join(said, "; ")
}

// PartTold tells of an entry on a part, and what is left of the part.
func (p *Page) PartTold(entry crew.Wear, w crew.Worn) error {
	return p.Answer(newWornJSON(w, true), p.wornTable([]crew.Worn{w}), func(out io.Writer) {
		fmt.Fprintf(out, "recorded  %s%s, %s%s\n", did[entry.What], w.Part, onWhat(w), comma(leftOf(w)))
		if w.Due != crew.NotDue {
			fmt.Fprintf(out, "  due %s\n", dueWord(w.Due))
		}
		if w.Safety != "" {
			p.Wrap(out, "  "+rulebookDates)
			if u, known := crew.UsualLifeOf(w.Safety); known && u.QuickMonths > 0 {
				p.Wrap(out, fmt.Sprintf("  On the quickest vehicles it is often every %d months.", u.QuickMonths))
			}
		}
	})
}

func comma(words string) string {
	if words == "" {
		return ""
	}
	return ", " + words
}

// did is what an entry did to a part, where that goes not without saying.
var did = map[string]string{crew.WearNote: "note on "}

func onWhat(w crew.Worn) string {
	if w.On == "" {
		return "a spare"
	}
	return "on " + w.On
}

// PartShown shows a part and all that was recorded of it.
func (p *Page) PartShown(w crew.Worn) error {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id"},
		{Head: "time", Key: "time"},
		{Head: "what", Key: "what"},
		{Head: "vehicle", Key: "vehicle"},
		{Head: "notes", Key: "notes", Drop: 1},
	}}
	for _, e := range w.Entries {
		t.AddCells(
			table.Cells{"id": e.ID, "time": p.Stamp(e.Time.Time), "what": e.What, "vehicle": e.Vehicle, "notes": e.Notes},
		)
	}
	return p.Answer(newWornJSON(w, true), t, func(out io.Writer) {
		fmt.Fprintf(out, "%s  %s, %d %s, %d %s%s\n\n", table.Clean(w.Part), onWhat(w), w.Runs, Plural(w.Runs, "run", "runs"),
			w.Seasons, Plural(w.Seasons, "season", "seasons"), comma(leftOf(w)))
		t.Render(out, table.Text, p.Width())
	})
}

// PassesAdded tells of passes without slips.
func (p *Page) PassesAdded(e crew.Wear) error {
	n := int(e.Passes.Or(0))
	t := table.Table{
		Columns: []table.Column{
			{Head: "id", Key: "id"},
			{Head: "vehicle", Key: "vehicle"},
			{Head: "passes", Key: "passes", Right: true},
		},
	}
	t.Add(e.ID, e.Vehicle, fmt.Sprint(n))
	return p.Answer(e, t, func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %d %s of %s without a slip\n  take it back   slipcase part void %s\n",
			n, Plural(n, "pass", "passes"), e.Vehicle, e.ID)
	})
}

// WearStatus tells of an entry on a part taken out or put back.
func (p *Page) WearStatus(e crew.Wear) error {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id"}, {Head: "status", Key: "status"}, {Head: "what", Key: "what"}, {Head: "part", Key: "part"},
	}}
	t.Add(e.ID, string(e.Status), e.What, e.Part)
	return p.Answer(e, t, func(w io.Writer) {
		what := strings.TrimSpace(e.What + " " + e.Part)
		fmt.Fprintf(w, "recorded  %s, %s, %s\n", e.ID, what, statusWord(e.Entry))
		if e.Status == crew.Void {
			fmt.Fprintf(w, "  put it back   slipcase part unvoid %s\n", e.ID)
		}
	})
}
