package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// SlipsRecorded tells how the lines of a batch were read.
func (p *Page) SlipsRecorded(slips []crew.Slip) error {
	t := p.typedTable(slips)
	return p.Answer(slips, t, func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %d %s, read as\n\n", len(slips), Plural(len(slips), "slip", "slips"))
		t.Render(w, table.Text, p.Width())
		fmt.Fprint(w, "\n  what they were worth   slipcase slip list\n")
	})
}

// LinesWanted asks for slips at a terminal, a line each.
func (p *Page) LinesWanted() {
	p.Note("a slip a line, as 14:25 .042 1.912 8.412 13.212; each is recorded at once, Ctrl-D ends")
}

// LineRecorded tells what a line was read as.
func (p *Page) LineRecorded(s crew.Slip) {
	fmt.Fprintf(p.Err, "recorded  %s: %s\n", s.ID, whichSlip(s))
}

// LineWrong tells why a line was not recorded.
func (p *Page) LineWrong(err error) { p.Note("%v; type it again", err) }

// LinesDone tells how many lines were recorded.
func (p *Page) LinesDone(n int) {
	p.Note("%d %s recorded: slipcase slip list", n, Plural(n, "slip", "slips"))
}

// SlipAmended tells of an amendment; changed says what of it differs.
func (p *Page) SlipAmended(was, s crew.Slip, changed []crew.CellChange) error {
	return p.Answer(s, p.historyTable(s), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  slip %s, revision %d\n  %s\n", s.ID, s.Rev, whichSlip(was))
		p.Changes(w, changed)
		if s.Status == crew.Void {
			fmt.Fprintf(w, "  it is still void   slipcase slip unvoid %s\n", s.ID)
			return
		}
		fmt.Fprintf(w, "  see it   slipcase slip show %s\n", s.ID)
	})
}

// SlipStatus tells of a slip taken out or put back.
func (p *Page) SlipStatus(s crew.Slip) error {
	return p.Answer(s, p.historyTable(s), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  slip %s %s, revision %d\n  %s\n", s.ID, statusWord(s.Entry), s.Rev, whichSlip(s))
		if s.Status == crew.Void {
			fmt.Fprintf(w, "  put it back   slipcase slip unvoid %s\n", s.ID)
		}
	})
}

// Which says which slip is meant, by what the racer knows of it.
func Which(s crew.Slip) string {
	words := "the slip of " + whichSlip(s)
	if s.Round != "" {
		words += ", " + table.Clean(s.Round)
	}
	return words
}

func whichSlip(s crew.Slip) string {
	words := table.Clean(s.Vehicle) + ", " + When(s.Time.Time)
	if end, ok := s.Finish(); ok {
		words += fmt.Sprintf(", %.3f at %s", end.ETS.Value(), end.Label)
	}
	return words
}

// SlipHistory shows a slip as recorded, revision by revision.
func (p *Page) SlipHistory(revs []crew.Slip) error {
	return p.Answer(revs, p.historyTable(revs...), nil)
}

// slipCells are the figures of a slip as recorded.
func (p *Page) slipCells(s crew.Slip) table.Cells {
	return table.Cells{
		"et_60_s": Seconds(
			s.ET60S,
		), "et_330_s": Seconds(s.ET330S), "et_660_s": Seconds(s.ET660S), "et_1000_s": Seconds(s.ET1000S),
		"et_1320_s": Seconds(s.ET1320S), "speed_1320_" + p.Suffix(units.Speed): p.Speed(s.MPH1320),
	}
}

func (p *Page) historyTable(revs ...crew.Slip) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "rev", Key: "rev", Right: true},
		{Head: "status", Key: "status"},
		{Head: "recorded", Key: "recorded_at"},
		{Head: "60 ft", Key: "et_60_s", Right: true, Drop: 2},
		{Head: "330 ft", Key: "et_330_s", Right: true, Drop: 3},
		{Head: "660 ft", Key: "et_660_s", Right: true, Drop: 1},
		{Head: "1000 ft", Key: "et_1000_s", Right: true, Drop: 3},
		{Head: "1320 ft", Key: "et_1320_s", Right: true},
		{Head: units.Speed.Symbol(p.Units), Key: "speed_1320_" + p.Suffix(units.Speed), Right: true},
		{Head: "full", Key: "full_power", Drop: 4},
		{Head: "notes", Key: "notes", Drop: 5},
	}}
	for _, s := range revs {
		row := p.slipCells(s)
		row["rev"], row["status"], row["recorded_at"] = fmt.Sprint(s.Rev), string(s.Status), p.Stamp(s.RecordedAt.Time)
		row["full_power"], row["notes"] = s.FullPower, s.Notes
		t.AddCells(row)
	}
	return t
}

// typedTable shows slips as they were read.
func (p *Page) typedTable(slips []crew.Slip) table.Table {
	mph := p.Suffix(units.Speed)
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 6},
		{Head: "time", Key: "time"},
		{Head: "round", Key: "round", Drop: 4},
		{Head: "reaction", Key: "reaction_s", Right: true, Drop: 3},
		{Head: "60 ft", Key: "et_60_s", Right: true, Drop: 2},
		{Head: "330 ft", Key: "et_330_s", Right: true, Drop: 5},
		{Head: "660 ft", Key: "et_660_s", Right: true},
		{Head: units.Speed.Symbol(p.Units), Key: "speed_660_" + mph, Right: true, Drop: 2},
		{Head: "1000 ft", Key: "et_1000_s", Right: true, Drop: 5},
		{Head: "1320 ft", Key: "et_1320_s", Right: true},
		{Head: units.Speed.Symbol(p.Units), Key: "speed_1320_" + mph, Right: true, Drop: 1},
	}}
	for _, s := range slips {
		row := p.slipCells(s)
		row["id"], row["time"], row["round"], row["reaction_s"] = s.ID, p.Stamp(s.Time.Time), s.Round, Seconds(s.ReactionS)
		row["speed_660_"+mph] = p.Speed(s.MPH660)
		t.AddCells(row)
	}
	return t
}
