package page

import (
	"fmt"
	"io"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// endWords say what decided a round: of one that was lost and of one that was won.
var endWords = map[crew.End][2]string{
	crew.EndRed:      {"red", "he was red"},
	crew.EndBreakout: {"breakout", "he broke out"},
	crew.EndPackage:  {"slower package", "better package"},
	crew.EndBroke:    {"broke", "he broke"},
	crew.EndLine:     {"crossed the line", "he crossed the line"},
	crew.EndDQ:       {"disqualified", "he was disqualified"},
	crew.EndBye:      {"bye", "bye"},
	crew.EndUntold:   {"not told why", "not told why"},
}

type scoreJSON struct {
	Of       string         `json:"of"`
	Name     string         `json:"name"`
	Runs     int            `json:"runs"`
	Won      int            `json:"won"`
	WonBy    map[string]int `json:"won_by"`
	Lost     int            `json:"lost"`
	LostBy   map[string]int `json:"lost_by"`
	Untold   int            `json:"untold"`
	Red      int            `json:"red_lights"`
	Byes     int            `json:"byes"`
	Buybacks int            `json:"buybacks"`
	Doubles  int            `json:"double_entries"`
}

type opponentJSON struct {
	scoreJSON
	Lights    int          `json:"lights"` // of his that are known
	LightS    units.Number `json:"light_median_s"`
	LightSDS  units.Number `json:"light_sd_s"`
	Dialled   int          `json:"dialled_runs"`
	OverS     units.Number `json:"over_dial_median_s"`
	OverSDS   units.Number `json:"over_dial_sd_s"`
	Breakouts int          `json:"breakouts"`
}

type seasonJSON struct {
	Year      int            `json:"year,omitzero"`
	All       scoreJSON      `json:"all"`
	Parts     []scoreJSON    `json:"parts"`
	Opponents []opponentJSON `json:"opponents"`
	Nameless  int            `json:"rounds_without_opponent_name"`
}

func endsJSON(e crew.Ends) map[string]int {
	out := map[string]int{}
	for _, end := range crew.AllEnds {
		out[string(end)] = e[end]
	}
	return out
}

func newScoreJSON(c crew.Score) scoreJSON {
	return scoreJSON{
		c.Of, c.Name, c.Runs, c.Won.N(), endsJSON(c.Won), c.Lost.N(), endsJSON(c.Lost),
		c.Untold, c.Red, c.Byes, c.Buybacks, c.Doubles,
	}
}

func newOpponentJSON(c crew.Score) opponentJSON {
	out := opponentJSON{scoreJSON: newScoreJSON(c), Lights: c.Lights.N, Dialled: c.Over.N, Breakouts: c.Broke}
	if c.Lights.N > 0 {
		out.LightS = someRounded(c.Lights.Median.Value, ToS)
	}
	if c.Lights.N > 1 {
		out.LightSDS = someRounded(c.Lights.SD.Value, ToS)
	}
	if c.Over.N > 0 {
		out.OverS = someRounded(c.Over.Median.Value, ToS)
	}
	if c.Over.N > 1 {
		out.OverSDS = someRounded(c.Over.SD.Value, ToS)
	}
	return out
}

// Season tells a year: the rounds and what decided them, by track, class and month, and
// the score against each opponent.
func (p *Page) Season(s crew.Season) error {
	out := seasonJSON{
		Year: s.Year, All: newScoreJSON(s.All), Parts: []scoreJSON{}, Opponents: []opponentJSON{}, Nameless: s.Nameless,
	}
	for _, c := range s.Parts {
		out.Parts = append(out.Parts, newScoreJSON(c))
	}
	for _, c := range s.Opponents {
		out.Opponents = append(out.Opponents, newOpponentJSON(c))
	}
	return p.Answer(out, p.seasonTable(out), func(w io.Writer) { p.seasonText(w, s, out) })
}

func (p *Page) seasonText(w io.Writer, s crew.Season, out seasonJSON) {
	head := "all years"
	if s.Year != 0 {
		head = fmt.Sprint(s.Year)
	}
	if s.All.Runs == 0 {
		p.Say(w, head, "no runs")
		return
	}
	p.Say(w, head, fmt.Sprintf("%s; won %d, lost %d", count(s.All.Runs, "run"), out.All.Won, out.All.Lost))
	for i, ends := range []crew.Ends{s.All.Lost, s.All.Won} {
		if words := endsText(ends, i); words != "" {
			p.Say(w, []string{"lost by", "won by"}[i], words)
		}
	}
	if words := besideText(s.All); words != "" {
		p.Say(w, "also", words)
	}
	fmt.Fprintln(w)
	p.partsTable(s.Parts).Render(w, table.Text, p.Width())
	if len(s.Opponents) > 0 {
		fmt.Fprintln(w)
		opponentsTable(s.Opponents).Render(w, table.Text, p.Width())
		p.Wrap(w, "his lights after perfect and his ET over his dial: the middle one, +/- sd")
	}
	if s.Nameless > 0 {
		p.Wrap(w, fmt.Sprintf("%s against no name: opponent kit on the slip's line keeps the score", count(s.Nameless, "round")))
	}
}

// endsText says what decided so many rounds, the most frequent as they are listed.
func endsText(e crew.Ends, won int) string {
	var said []string
	for _, end := range crew.AllEnds {
		if n := e[end]; n > 0 {
			said = append(said, fmt.Sprintf("%s %d", endWords[end][won], n))
		}
	}
	return strings.Join(said, ", ")
}

func besideText(c crew.Score) string {
	var said []string
	for _, of := range []struct {
		n         int
		one, many string
	}{
		{c.Untold, "round not told", "rounds not told"},
		{c.Red, "red light", "red lights"},
		{c.Byes, "bye", "byes"},
		{c.Buybacks, "buyback", "buybacks"},
		{c.Doubles, "double entry", "double entries"},
	} {
		if of.n > 0 {
			said = append(said, fmt.Sprintf("%d %s", of.n, Plural(of.n, of.one, of.many)))
		}
	}
	return strings.Join(said, ", ")
}

// partsTable is a season's parts for a person.
func (p *Page) partsTable(parts []crew.Score) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "of"},
		{Head: "", Key: "name"},
		{Head: "runs", Key: "runs", Right: true},
		{Head: "won", Key: "won", Right: true},
		{Head: "lost", Key: "lost", Right: true},
		{Head: "red", Key: "red", Right: true, Drop: 3},
		{Head: "broke out", Key: "breakout", Right: true, Drop: 3},
		{Head: "slower", Key: "package", Right: true, Drop: 3},
		{Head: "broke", Key: "broke", Right: true, Drop: 3},
		{Head: "byes", Key: "byes", Right: true, Drop: 5},
		{Head: "buybacks", Key: "buybacks", Right: true, Drop: 6},
		{Head: "double", Key: "doubles", Right: true, Drop: 4},
	}}
	n := func(k int) string {
		if k == 0 {
			return ""
		}
		return fmt.Sprint(k)
	}
	last := ""
	for _, c := range parts {
		row := table.Cells{
			"name": OrDash(c.Name), "runs": fmt.Sprint(c.Runs), "won": fmt.Sprint(c.Won.N()), "lost": fmt.Sprint(c.Lost.N()),
			"red": n(c.Lost[crew.EndRed]), "breakout": n(c.Lost[crew.EndBreakout]), "package": n(c.Lost[crew.EndPackage]),
			"broke": n(c.Lost[crew.EndBroke]), "byes": n(c.Byes), "buybacks": n(c.Buybacks), "doubles": n(c.Doubles),
		}
		switch {
		case c.Of == "month":
			row["name"] = c.Month.Format("Jan 2006")
		case c.Of == "class" && c.Name == "":
			row["name"] = "none"
		}
		if c.Of != last {
			row["of"], last = c.Of, c.Of
		}
		t.AddCells(row)
	}
	t.DropEmpty()
	return t
}

// opponentsTable is the score against each opponent for a person.
func opponentsTable(list []crew.Score) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "against", Key: "name"},
		{Head: "won", Key: "won", Right: true},
		{Head: "lost", Key: "lost", Right: true},
		{Head: "you lost by", Key: "why", Drop: 2},
		{Head: "his lights", Key: "lights"},
		{Head: "over his dial", Key: "over"},
		{Head: "he broke out", Key: "broke", Right: true, Drop: 1},
	}}
	for _, c := range list {
		t.AddCells(table.Cells{
			"name": c.Name, "won": fmt.Sprint(c.Won.N()), "lost": fmt.Sprint(c.Lost.N()), "why": endsText(c.Lost, 0),
			"lights": middling(c.Lights.N, c.Lights.Median.Value, c.Lights.SD.Value),
			"over":   middling(c.Over.N, c.Over.Median.Value, c.Over.SD.Value),
			"broke":  fmt.Sprint(c.Broke),
		})
	}
	return t
}

// middling is the middle of n figures with their standard deviation.
func middling(n int, median, sd float64) string {
	switch n {
	case 0:
		return ""
	case 1:
		return short(median, 3)
	}
	return fmt.Sprintf("%s +/- %s", short(median, 3), short(sd, 3))
}

// seasonTable is all of it, as other programs read it.
func (p *Page) seasonTable(out seasonJSON) table.Table {
	t := table.Table{Columns: []table.Column{{Head: "of", Key: "of"}, {Head: "name", Key: "name"}}}
	number := func(head, key string) { t.Columns = append(t.Columns, table.Column{Head: head, Key: key, Right: true}) }
	for _, c := range [][2]string{
		{"runs", "runs"},
		{"won", "won"},
		{"lost", "lost"},
		{"untold", "untold"},
		{"red", "red_lights"},
		{"byes", "byes"},
		{"buybacks", "buybacks"},
		{"double", "double_entries"},
	} {
		number(c[0], c[1])
	}
	for _, result := range []string{"lost", "won"} {
		for _, end := range crew.AllEnds {
			key := result + "_by_" + string(end)
			number(strings.ReplaceAll(key, "_", " "), key)
		}
	}
	number("light", "light_median_s")
	number("sd", "light_sd_s")
	number("over dial", "over_dial_median_s")
	number("sd", "over_dial_sd_s")
	number("broke out", "breakouts")
	add := func(c scoreJSON) table.Cells {
		row := table.Cells{
			"of": c.Of, "name": c.Name, "runs": fmt.Sprint(c.Runs), "won": fmt.Sprint(c.Won), "lost": fmt.Sprint(c.Lost),
			"untold": fmt.Sprint(c.Untold), "red_lights": fmt.Sprint(c.Red), "byes": fmt.Sprint(c.Byes),
			"buybacks": fmt.Sprint(c.Buybacks), "double_entries": fmt.Sprint(c.Doubles),
		}
		for end, n := range c.LostBy {
			row["lost_by_"+end] = fmt.Sprint(n)
		}
		for end, n := range c.WonBy {
			row["won_by_"+end] = fmt.Sprint(n)
		}
		return row
	}
	t.AddCells(add(out.All))
	for _, c := range out.Parts {
		t.AddCells(add(c))
	}
	for _, c := range out.Opponents {
		row := add(c.scoreJSON)
		row["light_median_s"], row["light_sd_s"] = Seconds(c.LightS), Seconds(c.LightSDS)
		row["over_dial_median_s"], row["over_dial_sd_s"] = Seconds(c.OverS), Seconds(c.OverSDS)
		row["breakouts"] = fmt.Sprint(c.Breakouts)
		t.AddCells(row)
	}
	return t
}
