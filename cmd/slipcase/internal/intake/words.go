package intake

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// questionWords say what must be told before anything is recorded, and by which flag.
func questionWords(q notebook.Question) string {
	heads := make([]string, len(q.Columns))
	example := "C"
	for i, c := range q.Columns {
		heads[i] = fmt.Sprintf("%s (%s)", quoted(c.Head), c.Letter)
		example = c.Letter
	}
	columns := strings.Join(heads, " and ")
	switch q.Kind {
	case notebook.TwoAlike:
		return fmt.Sprintf(
			"%s both look like %s: which is it? --column %q, and the other =skip",
			columns,
			page.RoleWord(string(q.Role)),
			example+"="+string(q.Role),
		)
	case notebook.NotLike:
		return fmt.Sprintf(
			"%s has no values as %s: what is it? --column %q, or =skip",
			columns,
			page.RoleWord(string(q.Role)),
			example+"=note",
		)
	case notebook.WhichDistance:
		return fmt.Sprintf("%s is the ET at which distance? --column %q, or =et_660", columns, example+"=et_1320")
	case notebook.WhichSpeed:
		return fmt.Sprintf("%s is the speed at which distance? --column %q, or =mph_660", columns, example+"=mph_1320")
	case notebook.WhichPressure:
		return fmt.Sprintf(
			"%s is which pressure? --column %q as felt at the track, or =altimeter",
			columns,
			example+"=station",
		)
	case notebook.WhichUnit:
		return fmt.Sprintf(
			"%s, %s, is in which unit? Write it in the heading, or --column %q",
			columns,
			page.RoleWord(string(q.Role)),
			example+"=note",
		)
	case notebook.WhichOrder:
		return fmt.Sprintf("is %s month first or day first? --date-order mdy or dmy", quoted(q.Name))
	case notebook.WhichYear:
		return fmt.Sprintf("%s is of which year? --year 2025", quoted(q.Name))
	case notebook.WhichTree:
		return fmt.Sprintf(
			"reactions are about %s: does a perfect light print .500, .400 or .000? --perfect .5, .4 or 0",
			q.Name,
		)
	case notebook.UnlikeUnit:
		name, _ := q.Role.OwnName()
		return fmt.Sprintf(
			"%s is in %s, your column %s in %s: --column %q",
			columns, q.Columns[0].Unit, name[:strings.LastIndexByte(name, '-')],
			q.Name, example+"="+string(q.Role),
		)
	case notebook.NoDate:
		return "no date stands beside the runs or over them: add one, as 2026-05-02"
	case notebook.NoTimes:
		return "no column looks like the times of runs: --column \"C=et_1320\" names one, --sheet another sheet"
	}
	return string(q.Kind)
}

func quoted(s string) string {
	if s == "" {
		return "the column without heading"
	}
	return `"` + typed.Shorten(s) + `"`
}

// faultWords say what cannot be read, cell by cell.
func faultWords(fs []notebook.Fault, sys units.System) string {
	words := make([]string, len(fs))
	for i, f := range fs {
		where := ""
		if f.Letter != "" {
			where = "column " + f.Letter + ", "
		}
		switch {
		case f.Text == "":
			words[i] = fmt.Sprintf("%sno %s: %s", where, f.Head, units.In(f.Want, sys))
		default:
			words[i] = fmt.Sprintf("%s%s %q: %s", where, f.Head, typed.Shorten(f.Text), units.In(f.Want, sys))
		}
	}
	return strings.Join(words, "; ")
}

// Shown is the import for the page.
func (p *Plan) Shown() page.Import {
	n := p.Book
	im := page.Import{
		File: p.File, Runs: len(n.Rows), New: len(p.Batch.Slips), Known: p.known, Readings: len(p.Batch.Readings),
		Setups:   len(p.Batch.Setups),
		Vehicles: []string{}, Tracks: []string{}, Columns: []page.ImportColumn{}, Taken: []string{},
		Questions: append([]string{}, p.Questions...),
		Offered:   []string{}, OwnColumns: []string{},
		Left: []page.ImportLeft{}, Unread: []page.ImportLeft{},
	}
	for _, v := range p.Batch.Vehicles {
		im.Vehicles = append(im.Vehicles, fmt.Sprintf("%s (%s)", v.ID, v.Kind))
	}
	for _, t := range p.Batch.Tracks {
		im.Tracks = append(im.Tracks, t.ID)
	}
	for _, c := range p.Batch.Columns {
		im.OwnColumns = append(im.OwnColumns, ownWords(c.ID, cmp.Or(c.Unit, map[string]string{"text": "text"}[c.Kind])))
	}
	of, at := map[string]bool{}, map[string]bool{}
	for _, d := range n.Rows {
		if d.Slip.Vehicle != "" {
			of[d.Slip.Vehicle] = true
		}
		if d.Slip.Track != "" {
			at[d.Slip.Track] = true
		}
	}
	im.Of, im.At = slices.Sorted(maps.Keys(of)), slices.Sorted(maps.Keys(at))
	if im.Of == nil {
		im.Of = []string{}
	}
	if im.At == nil {
		im.At = []string{}
	}
	for i, s := range p.Batch.Slips {
		day := s.Time.Format("2006-01-02")
		if i == 0 || day < im.From {
			im.From = day
		}
		if day > im.To {
			im.To = day
		}
	}
	for _, c := range n.Columns {
		how := "heading"
		if c.ByValues {
			how = "values"
		}
		if c.Forced {
			how = "told"
		}
		unit := c.Unit
		if c.Role == notebook.Note || c.Role == notebook.Skip || c.Role == "notes" {
			unit = ""
		}
		if c.Offered != "" && !slices.Contains(im.Offered, ownWords(c.Offered, c.Unit)) {
			if im.Offered = append(im.Offered, ownWords(c.Offered, c.Unit)); im.OfferAs == "" {
				im.OfferAs = c.Head + "=own"
			}
		}
		im.Columns = append(im.Columns, page.ImportColumn{
			Sheet: c.Sheet, Column: c.Letter, Heading: c.Head, Role: string(c.Role), Unit: unit,
			Samples: append([]string{}, c.Samples...), How: how,
		})
	}
	im.Taken = append(im.Taken, settled(n)...)
	for _, l := range p.Left {
		im.Left = append(im.Left, page.ImportLeft{Sheet: l.Draft.Sheet, Row: l.Draft.Row, Why: l.Why})
	}
	for _, r := range n.Remarks {
		im.Unread = append(im.Unread, page.ImportLeft{Sheet: r.Sheet, Row: fmt.Sprint(r.Row), Why: r.Text})
	}
	return im
}

// ownWords name a column of the racer's own with its unit.
func ownWords(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + " (" + unit + ")"
}

// settled says what the file as a whole has settled.
func settled(n *notebook.Notebook) (words []string) {
	switch n.DateOrder {
	case "mdy":
		words = append(words, "dates with the month first")
	case "dmy":
		words = append(words, "dates with the day first")
	}
	if n.NoClock > 0 {
		order := "the file's order"
		if n.NewestFirst {
			order = "the file's order, newest first"
		}
		words = append(words, fmt.Sprintf("%d %s no time of day: %s is kept, ten minutes apart from 10:00",
			n.NoClock, page.Plural(n.NoClock, "run has", "runs have"), order))
	}
	if n.Afternoons > 0 {
		words = append(
			words,
			fmt.Sprintf("%d %s of the afternoon, as 2:25 for 14:25", n.Afternoons, page.Plural(n.Afternoons, "time", "times")),
		)
	}
	if n.Metric {
		words = append(words, "speeds in km/h, by the times beside them")
	}
	if n.PerfectS.Known() && n.PerfectS.Value() > 0 {
		words = append(words, fmt.Sprintf("a perfect light prints %.3f", n.PerfectS.Value()))
	}
	return words
}
