package page

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
)

// Labelled is what stands under a word.
type Labelled struct{ Label, Words string }

// Titled is a table with its title.
type Titled struct {
	Title string
	table.Table
}

// RunTold is a run in a list that opens: its row, and its verdict.
type RunTold struct {
	ID, When, Round, Lane, Result, Ran, Compared string
	Lines                                        []Labelled
	Splits                                       table.Table
}

// RunTold tells a run that was judged.
func (p *Page) RunTold(j *crew.Judged) RunTold {
	s := j.Run.Slip
	out := RunTold{
		ID: s.ID, When: s.Time.Format(DateForm + " 15:04"), Round: table.Clean(s.Round), Lane: s.Lane, Result: j.Result,
		Ran: "no time", Compared: p.compared(j), Splits: p.splitCells(j),
	}
	say := func(label, words string) { out.Lines = append(out.Lines, Labelled{label, table.Clean(words)}) }
	mark, timed := j.Pass.Splits.Finish()
	if timed {
		out.Ran = p.RunText(j.Pass.Splits, mark)
	}
	if j.WasOn != nil {
		out.Compared = p.letGo(j) + "; " + wasOnText(j)
	}
	if timed && j.InAir {
		say("in standard air", p.RunText(j.Standard, mark))
	}
	say("air", Air(j.Run.Air, p.Units))
	if r := s.ReactionS; r.Known() && crew.Red(s, j.Run.Track) {
		say("reaction", redText(j))
	} else if r.Known() {
		say("reaction", ReactionText(r))
	}
	if j.Told() {
		say(j.Result, Decision(j.ResultWhy))
	}
	parts := p.besideParts(s)
	if s.DialS.Known() {
		parts = append([]string{"dial " + Hundredths(s.DialS)}, parts...)
	}
	if len(parts) > 0 {
		say("raced", strings.Join(parts, ", "))
	}
	if j.Unjudged == nil && j.Judgement.Forecast.RunsUsed > 0 {
		for _, piece := range j.Judgement.Pieces {
			say(PieceName(piece), Piece(piece))
		}
	}
	if s.Notes != "" {
		say("notes", s.Notes)
	}
	for _, w := range p.warnings(j) {
		say("note", w)
	}
	return out
}

// Rounds says how the rounds of a season ended, and the tables of them.
func (p *Page) Rounds(s crew.Season) (says []string, tables []Titled) {
	if s.All.Won.N()+s.All.Lost.N()+s.All.Untold == 0 {
		return nil, nil
	}
	if s.All.Won.N()+s.All.Lost.N() > 0 {
		says = append(says, fmt.Sprintf("Won %d, lost %d.", s.All.Won.N(), s.All.Lost.N()))
	}
	for i, ends := range []crew.Ends{s.All.Lost, s.All.Won} {
		if words := endsText(ends, i); words != "" {
			says = append(says, []string{"Lost by: ", "Won by: "}[i]+words+".")
		}
	}
	if words := besideText(s.All); words != "" {
		says = append(says, capital(words)+".")
	}
	tables = []Titled{{"Rounds by track, class and month", p.partsTable(s.Parts)}}
	if len(s.Opponents) > 0 {
		tables = append(tables, Titled{"Rounds by opponent", opponentsTable(s.Opponents)})
	}
	return says, tables
}

// BestTables are the bests, a table a group.
func (p *Page) BestTables(list []crew.Best) (tables []Titled) {
	for from := 0; from < len(list); {
		to := from
		for to < len(list) && bestGroup(list, to) == bestGroup(list, from) {
			to++
		}
		_, where, _ := strings.Cut(bestGroup(list, from), ", ")
		tables = append(tables, Titled{"Bests, " + table.Clean(where), p.bestsOf(list[from:to])})
		from = to
	}
	return tables
}

// Span says of when runs are.
func Span(runs []crew.Told) string {
	if len(runs) == 0 {
		return "no runs"
	}
	first, last := runs[0].Run.Slip.Time, runs[len(runs)-1].Run.Slip.Time
	text := count(len(runs), "run") + ", " + first.Format(DateForm)
	if first.Format(time.DateOnly) != last.Format(time.DateOnly) {
		text += " to " + last.Format(DateForm)
	}
	return text
}

// Reported tells where a report was written.
func (p *Page) Reported(file string, runs int) error {
	t := table.Table{Columns: []table.Column{{Head: "file", Key: "file"}, {Head: "runs", Key: "runs", Right: true}}}
	t.Add(file, fmt.Sprint(runs))
	return p.Answer(Exported{file, runs}, t, func(w io.Writer) {
		fmt.Fprintf(w, "report  %s, %s\n", table.Clean(file), count(runs, "run"))
	})
}

// SetupsTold says what each setup is, and what it brought over the one before it.
func (p *Page) SetupsTold(setups []crew.Setup, brought map[string]crew.Compared) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "setup", Key: "setup"},
		{Head: "since", Key: "since"},
		{Head: "what it brought", Key: "brought"},
	}}
	for i, s := range slices.Backward(setups) {
		told := "the first"
		if i > 0 {
			told = "too few runs to tell"
		}
		if c, some := brought[s.ID]; some {
			told = Comparison(c.Comparison)
		}
		t.AddCells(table.Cells{
			"setup": brief(s.Name, 60), "since": s.From.Format(DateForm), "brought": table.Clean(told),
		})
	}
	return t
}
