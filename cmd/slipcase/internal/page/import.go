package page

import (
	"fmt"
	"io"
	"strings"

	"slipcase/cmd/slipcase/internal/table"
)

// ImportColumn is a column of somebody's notebook and what it was taken for.
type ImportColumn struct {
	Sheet   string   `json:"sheet,omitzero"`
	Column  string   `json:"column"`
	Heading string   `json:"heading"`
	Role    string   `json:"read_as"`
	Unit    string   `json:"unit,omitzero"`
	Samples []string `json:"samples"`
	How     string   `json:"how"` // heading, values or told
}

// ImportLeft is a row that is left out.
type ImportLeft struct {
	Sheet string `json:"sheet,omitzero"`
	Row   string `json:"row"`
	Why   string `json:"why"`
}

// Import is what a notebook brings, or has brought.
type Import struct {
	File       string         `json:"file"`
	Recorded   bool           `json:"recorded"`
	ID         string         `json:"import_id,omitzero"` // once recorded
	Runs       int            `json:"runs"`               // rows with a run
	New        int            `json:"new_slips"`
	Known      int            `json:"known_slips"` // in the log already, from this file
	Readings   int            `json:"new_readings"`
	Setups     int            `json:"new_setups"`
	Vehicles   []string       `json:"new_vehicles"`
	Tracks     []string       `json:"new_tracks"`
	OwnColumns []string       `json:"new_columns"`     // of the racer's own
	Offered    []string       `json:"offered_columns"` // that could be columns of the racer's own
	OfferAs    string         `json:"-"`               // the first of them as --column takes it
	Of         []string       `json:"vehicles"`
	At         []string       `json:"tracks"`
	From       string         `json:"from,omitzero"` // dates
	To         string         `json:"to,omitzero"`
	Columns    []ImportColumn `json:"columns"`
	Taken      []string       `json:"assumed"`   // what was settled by the file as a whole
	Questions  []string       `json:"questions"` // to be told before anything is recorded
	Left       []ImportLeft   `json:"left_out"`
	LeftFile   string         `json:"left_file,omitzero"`
	Unread     []ImportLeft   `json:"not_runs"` // lines that are no run
	Again      string         `json:"-"`        // the command line so far
}

// RoleWord is what a column is, to a person.
func RoleWord(role string) string {
	if said, ok := map[string]string{
		"reaction_s": "reaction", "et_60_s": "60 ft", "et_330_s": "330 ft", "et_660_s": "660 ft", "et_1000_s": "1000 ft", "et_1320_s": "1320 ft",
		"mph_660": "speed at 660", "mph_1000": "speed at 1000", "mph_1320": "speed at 1320", "dial_s": "dial", "index_s": "index",
		"opponent_reaction_s": "other reaction", "opponent_et_s": "other ET", "opponent_dial_s": "other dial", "opponent_mph": "other speed",
		"launch_rpm": "launch rpm", "two_step_rpm": "two-step rpm", "delay_s": "delay", "tyre_psi": "tire pressure",
		"water_temp_f": "water temp", "track_temp_f": "track temp", "temp_f": "air temp", "rh_pct": "humidity", "dew_point_f": "dew point",
		"wet_bulb_f": "wet bulb", "station_inhg": "station pressure", "altimeter_inhg": "altimeter", "sea_level_inhg": "sea-level pressure",
		"wind_mph": "wind", "wind_from_deg": "wind from", "density_altitude_ft": "density altitude", "weight_lb": "weight", "power_hp": "power",
		"clock": "time of day", "class_name": "class", "note": "a note", "skip": "(not read)", "source_row": "(its row)",
	}[role]; ok {
		return said
	}
	if name, own := strings.CutPrefix(role, "own:"); own {
		return "own column " + name
	}
	return role
}

// Imported shows what a notebook brings.
func (p *Page) Imported(im Import) error {
	return p.Answer(im, im.table(), func(w io.Writer) { p.importText(w, im) })
}

func (im Import) table() table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "sheet", Key: "sheet", Drop: 3},
		{Head: "col", Key: "column"},
		{Head: "heading", Key: "heading"},
		{Head: "read as", Key: "read_as"},
		{Head: "in", Key: "unit", Drop: 1},
		{Head: "for example", Key: "samples", Drop: 2},
	}}
	for _, c := range im.Columns {
		word := RoleWord(c.Role)
		switch c.How {
		case "values":
			word += " (by values)"
		case "told":
			word += " (told)"
		}
		t.Add(c.Sheet, c.Column, clip(c.Heading, 20), word, c.Unit, clip(strings.Join(c.Samples, "  "), 30))
	}
	return t
}

func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}

// shownLeft are so many rows left out, and lines not read, that are shown.
const shownLeft = 8

func (p *Page) importText(w io.Writer, im Import) {
	if im.Recorded {
		fmt.Fprintf(w, "recorded  %s\n", table.Clean(im.brings()))
	} else {
		fmt.Fprintf(w, "%d %s in %s%s%s\n\n", im.Runs, Plural(im.Runs, "run", "runs"), table.Clean(im.File),
			inWords(" of ", im.Of), inWords(" at ", im.At))
		t := im.table()
		if !im.severalSheets() {
			t.Columns[0].Head = ""
			for _, r := range t.Rows {
				r[0] = ""
			}
			t = trimFirst(t)
		}
		t.Render(w, table.Text, p.Width())
		fmt.Fprintln(w)
		p.Say(w, "new", im.brings())
	}
	if im.From != "" {
		p.Say(w, "run", im.From+" to "+im.To)
	}
	if im.Known > 0 {
		p.Say(w, "already in the log", fmt.Sprint(im.Known))
	}
	for _, t := range im.Taken {
		p.Say(w, "taken", t)
	}
	if len(im.Offered) > 0 && !im.Recorded {
		p.Say(w, "your own", fmt.Sprintf("%s can be %s: --column %q", strings.Join(im.Offered, ", "),
			Plural(len(im.Offered), "a column of your own, else it is a note", "columns of your own, else they are notes"), im.OfferAs))
	}
	p.leftRows(w, "left out", im.Left)
	p.leftRows(w, "no runs", im.Unread)
	for _, q := range im.Questions {
		p.Say(w, "question", q)
	}
	fmt.Fprintln(w)
	switch {
	case im.Recorded:
		if im.LeftFile != "" {
			fmt.Fprintf(
				w,
				"  mend what was left out   %s, then slipcase import %s\n",
				table.Clean(im.LeftFile),
				table.Clean(Quote(im.LeftFile)),
			)
		}
		if im.ID != "" {
			fmt.Fprintf(w, "  take it all back         slipcase slip void --import %s\n", im.ID)
		}
	case len(im.Questions) > 0:
		fmt.Fprintln(w, "nothing is recorded yet: answer the questions by flags")
	case im.New == 0:
		fmt.Fprintln(w, "nothing is recorded: there is nothing new")
	default:
		fmt.Fprintf(w, "nothing is recorded yet   %s --go\n", table.Clean(im.Again))
	}
}

func (im Import) severalSheets() bool {
	for _, c := range im.Columns {
		if c.Sheet != im.Columns[0].Sheet {
			return true
		}
	}
	return false
}

func trimFirst(t table.Table) table.Table {
	out := table.Table{Columns: t.Columns[1:]}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, r[1:])
	}
	return out
}

func inWords(before string, names []string) string {
	switch {
	case len(names) == 0:
		return ""
	case len(names) > 4:
		return fmt.Sprintf("%s%s and %d more", before, strings.Join(names[:3], ", "), len(names)-3)
	}
	return before + strings.Join(names, ", ")
}

// brings says what is or would be recorded.
func (im Import) brings() string {
	words := []string{fmt.Sprintf("%d %s", im.New, Plural(im.New, "slip", "slips"))}
	add := func(n int, one, many string) {
		if n > 0 {
			words = append(words, fmt.Sprintf("%d %s", n, Plural(n, one, many)))
		}
	}
	add(im.Readings, "air reading", "air readings")
	add(im.Setups, "setup", "setups")
	if len(im.Vehicles) > 0 {
		words = append(words, "the "+Plural(len(im.Vehicles), "vehicle ", "vehicles ")+strings.Join(im.Vehicles, ", "))
	}
	if len(im.Tracks) > 0 {
		words = append(words, "the "+Plural(len(im.Tracks), "track ", "tracks ")+strings.Join(im.Tracks, ", "))
	}
	if len(im.OwnColumns) > 0 {
		words = append(words, "the "+Plural(len(im.OwnColumns), "column ", "columns ")+strings.Join(im.OwnColumns, ", "))
	}
	return strings.Join(words, ", ")
}

func (p *Page) leftRows(w io.Writer, label string, rows []ImportLeft) {
	if len(rows) == 0 {
		return
	}
	p.Say(w, label, fmt.Sprintf("%d %s", len(rows), Plural(len(rows), "row", "rows")))
	for _, l := range rows[:min(shownLeft, len(rows))] {
		where := "row " + l.Row
		if l.Sheet != "" {
			where = l.Sheet + " " + where
		}
		p.Say(w, "  "+clip(where, 15), l.Why)
	}
	if more := len(rows) - shownLeft; more > 0 {
		p.Say(w, "", fmt.Sprintf("and %d more", more))
	}
}

// ImportVoided tells of an import taken back.
func (p *Page) ImportVoided(id string, slips, readings int) error {
	t := table.Table{
		Columns: []table.Column{
			{Head: "import", Key: "import_id"},
			{Head: "slips", Key: "slips", Right: true},
			{Head: "readings", Key: "readings", Right: true},
		},
	}
	t.Add(id, fmt.Sprint(slips), fmt.Sprint(readings))
	v := struct {
		ID       string `json:"import_id"`
		Slips    int    `json:"slips"`
		Readings int    `json:"readings"`
	}{id, slips, readings}
	return p.Answer(v, t, func(w io.Writer) {
		fmt.Fprintf(w, "recorded  import %s is void: %d %s, %d %s\n", table.Clean(id), slips, Plural(slips, "slip", "slips"),
			readings, Plural(readings, "air reading", "air readings"))
	})
}
