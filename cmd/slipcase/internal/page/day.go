package page

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// landscape is the width of a page on its side, in columns; ruled is how many rows are left
// to write in.
const (
	landscape = 132
	ruled     = 10
)

type dayJSON struct {
	Vehicle string       `json:"vehicle"`
	Track   string       `json:"track"`
	Day     string       `json:"day"`
	Due     string       `json:"due"`
	Runs    []dayRunJSON `json:"runs"`
}

type dayRunJSON struct {
	judgedJSON
	PackageS      units.Number `json:"package_s"`
	OtherPackageS units.Number `json:"other_package_s"`
	MarginS       units.Number `json:"margin_s"` // at the finish
	EndedBy       string       `json:"ended_by"`
}

// Days shows the runs of a day, a page for each vehicle; blank leaves rows to write in. last
// is the latest day with runs, for a day without any.
func (p *Page) Days(sheets []crew.DaySheet, day, last time.Time, blank bool) error {
	out := []dayJSON{}
	own := ownOfSheets(sheets)
	all := table.Table{Columns: p.dayColumns(crew.At1320, own)}
	for _, d := range sheets {
		one := dayJSON{d.Vehicle.ID, d.Track.ID, d.Day.Format(time.DateOnly), Due(d.Due), []dayRunJSON{}}
		for i := range d.Runs {
			r := &d.Runs[i]
			one.Runs = append(one.Runs, dayRunJSON{
				p.newJudgedJSON(&r.Judged), roundedNumber(r.Round.Packages[0], ToS), roundedNumber(r.Round.Packages[1], ToS),
				roundedNumber(r.Round.MarginS, ToS), string(r.End),
			})
			all.AddCells(p.dayCells(r, crew.At1320, own))
		}
		out = append(out, one)
	}
	if len(all.Rows) == 0 && !last.IsZero() {
		p.Note("no runs on %s; the last ones: slipcase day %s", dayOf(day), last.Format(time.DateOnly))
	}
	switch p.Format {
	case table.Text:
		return p.Answer(out, all, func(w io.Writer) { p.daysText(w, sheets, blank) })
	case table.Markdown:
		return p.daysMarkdown(sheets, blank)
	}
	return p.Answer(out, all, nil)
}

func (p *Page) daysMarkdown(sheets []crew.DaySheet, blank bool) error {
	for i, d := range sheets {
		if i > 0 {
			fmt.Fprintln(p.Out)
		}
		fmt.Fprintf(p.Out, "## %s\n\n", table.Clean(dayHead(d)))
		if due := Due(d.Due); due != "" {
			fmt.Fprintf(p.Out, "Due: %s\n\n", due)
		}
		if err := p.dayTable(d, blank).Render(p.Out, table.Markdown, 0); err != nil {
			return err
		}
	}
	return nil
}

func (p *Page) daysText(w io.Writer, sheets []crew.DaySheet, blank bool) {
	width := landscape
	if window := p.Width(); window > 0 {
		width = min(window, width)
	}
	for i, d := range sheets {
		switch {
		case i > 0 && p.Width() > 0:
			fmt.Fprintln(w)
		case i > 0:
			fmt.Fprint(w, "\f\n") // a page of its own on paper
		}
		p.Wrap(w, table.Clean(dayHead(d)))
		if due := Due(d.Due); due != "" {
			p.Wrap(w, "due  "+due)
		}
		if len(d.Runs) == 0 && !blank {
			fmt.Fprintln(w, "no runs")
			continue
		}
		fmt.Fprintln(w)
		for _, line := range laidOut(p.dayTable(d, blank), width) {
			fmt.Fprintln(w, line)
		}
	}
	if len(sheets) == 0 {
		fmt.Fprintln(w, "no runs")
	}
}

func dayHead(d crew.DaySheet) string {
	head := d.Vehicle.Name()
	if d.Track.ID != "" {
		head += " at " + d.Track.Name()
	}
	head += ", " + dayOf(d.Day)
	if n := len(d.Runs); n > 0 && d.Runs[n-1].Run.Setup.Name != "" {
		head += ", setup " + d.Runs[n-1].Run.Setup.Name
	}
	return head
}

// dayTable is a day on paper, as far as its runs were timed.
func (p *Page) dayTable(d crew.DaySheet, blank bool) table.Table {
	far := d.Far()
	if len(d.Runs) == 0 {
		far = crew.At1320
	}
	t := table.Table{Columns: p.dayColumns(far, d.Own)}
	for i := range d.Runs {
		t.AddCells(p.dayCells(&d.Runs[i], far, d.Own))
	}
	for range ruled {
		if blank {
			t.Add(make([]string, len(t.Columns))...)
		}
	}
	return t
}

// ownOfSheets are the racer's own columns of several sheets, each once.
func ownOfSheets(sheets []crew.DaySheet) (own []crew.OwnColumn) {
	for _, d := range sheets {
		for _, c := range d.Own {
			if !slices.ContainsFunc(own, func(o crew.OwnColumn) bool { return o.ID == c.ID }) {
				own = append(own, c)
			}
		}
	}
	return own
}

// dayColumns are the columns of a day in the order of the trailer's wall, the times as far
// as any was taken, the racer's own before the notes.
func (p *Page) dayColumns(far crew.Mark, own []crew.OwnColumn) (columns []table.Column) {
	add := func(head, key string, right bool) {
		columns = append(columns, table.Column{Head: head, Key: key, Right: right})
	}
	in := func(head, key string, k units.Kind) { add(head+" "+k.Symbol(p.Units), key+"_"+p.Suffix(k), true) }
	add("time", "time", false)
	add("rnd", "round", false)
	add("class", "class", false)
	add("ln", "lane", false)
	in("DA", "density_altitude", units.Length)
	in("temp", "temp", units.Temperature)
	add("RH %", "rh_pct", true)
	add(units.Pressure.Symbol(p.Units), "station_"+p.Suffix(units.Pressure), true)
	add("delay", "delay_s", true)
	add("stop", "stop", false)
	add("rpm", "launch_rpm", true)
	add(units.TyrePressure.Symbol(p.Units), "tire_"+p.Suffix(units.TyrePressure), true)
	add("dial", "dial_s", true)
	add("R/T", "reaction_s", true)
	add("60", "et_60_s", true)
	add("330", "et_330_s", true)
	add("1/8", "et_660_s", true)
	add(units.Speed.Symbol(p.Units), "speed_660_"+p.Suffix(units.Speed), true)
	if far > crew.At660 {
		add("1000", "et_1000_s", true)
	}
	if far > crew.At1000 {
		add("1/4", "et_1320_s", true)
		add(units.Speed.Symbol(p.Units), "speed_1320_"+p.Suffix(units.Speed), true)
	}
	add("over", "over_s", true)
	add("was on", "would_have_run_s", true)
	add("package", "package_s", true)
	add("W/L", "result", false)
	add("opponent", "opponent", false)
	add("miss", "forecast_miss_s", true)
	for _, c := range own {
		add(c.ID, ownKey(c), c.Kind == ownNumber)
	}
	add("notes", "notes", false)
	return columns
}

func (p *Page) dayCells(r *crew.DayRun, far crew.Mark, own []crew.OwnColumn) table.Cells {
	s := r.Run.Slip
	figure := func(k units.Kind, n units.Number, decimals int) string {
		if !n.Known() {
			return ""
		}
		return fmt.Sprintf("%.*f", decimals, k.In(p.Units, n.Value()))
	}
	row := table.Cells{
		"time": p.clock(s.Time.Time), "round": s.Round, "class": p.dayClass(s), "lane": p.dayLane(s),
		"delay_s": Seconds(s.DelayS), "launch_rpm": figure(units.RPM, s.LaunchRPM, 0),
		"tire_" + p.Suffix(units.TyrePressure): figure(units.TyrePressure, s.TyrePsi, 1),
		"dial_s": Hundredths(
			crew.LimitOf(s, r.Run.Track),
		), "reaction_s": p.reaction(s.ReactionS),
		"et_60_s": Seconds(s.ET60S), "et_330_s": Seconds(s.ET330S), "et_660_s": Seconds(s.ET660S),
		"speed_660_" + p.Suffix(units.Speed): p.Speed(s.MPH660), "would_have_run_s": wasOnET(&r.Judged),
		"package_s": Seconds(r.Round.Packages[0]), "result": endText(r), "opponent": p.opponent(s), "notes": s.Notes,
	}
	for _, c := range own {
		row[ownKey(c)] = s.OwnText(c.ID)
	}
	if s.StopOffS.Known() {
		row["stop"] = stopText(s)
	}
	if far > crew.At660 {
		row["et_1000_s"] = Seconds(s.ET1000S)
	}
	if far > crew.At1000 {
		row["et_1320_s"], row["speed_1320_"+p.Suffix(units.Speed)] = Seconds(s.ET1320S), p.Speed(s.MPH1320)
	}
	if over := crew.Over(r.Run); over.Known() {
		row["over_s"] = signed(over.Value())
	}
	if r.Unjudged == nil {
		row["forecast_miss_s"] = signed(r.Judgement.Difference)
	}
	if a := r.Run.Air; a.Known {
		row["density_altitude_"+p.Suffix(units.Length)] = figure(units.Length, units.Some(a.Air.DensityAltitudeFt()), 0)
		row["temp_"+p.Suffix(units.Temperature)] = figure(units.Temperature, units.Some(a.Air.TempF), 0)
		row["rh_pct"] = fmt.Sprintf("%.0f", a.Air.RHPct())
		row["station_"+p.Suffix(units.Pressure)] = p.pressure(a.Air.StationInHg)
	}
	return row
}

func (p *Page) pressure(inHg float64) string {
	decimals := 2
	if p.Units != units.US {
		decimals = 0
	}
	return fmt.Sprintf("%.*f", decimals, units.Pressure.In(p.Units, inHg))
}

// clock is the time of a run on its day; in CSV the whole moment.
func (p *Page) clock(t time.Time) string {
	if p.Format == table.CSV {
		return p.Stamp(t)
	}
	return t.Format("15:04")
}

func (p *Page) dayClass(s crew.Slip) string {
	name := crew.ClassOf(s)
	if p.Format != table.CSV {
		name = clip(name, 9)
	}
	return name
}

func (p *Page) dayLane(s crew.Slip) string {
	if p.Format == table.CSV || s.Lane == "" {
		return s.Lane
	}
	return strings.ToUpper(s.Lane[:1])
}

// opponent is who was in the other lane, his dial and his reaction.
func (p *Page) opponent(s crew.Slip) string {
	if s.Bye != "" {
		return "bye"
	}
	name := s.Opponent
	if p.Format == table.Text {
		name = clip(name, 14)
	}
	parts := []string{name, Hundredths(s.OpponentDialS), ReactionText(s.OpponentReactionS)}
	return strings.Join(strings.Fields(strings.Join(parts, " ")), " ")
}

// endText is how a round ended in a few letters, with the margin.
func endText(r *crew.DayRun) string {
	if r.Result == "" {
		return ""
	}
	letter, own := "W", 0
	if r.Result != "won" {
		letter, own = "L", 1
	}
	why, by := r.Round.Why, ""
	if r.Round.MarginS.Known() {
		by = short(r.Round.MarginS.Value(), 3)
	}
	words := map[crew.End][2]string{
		crew.EndRed:      {"he red", "red"},
		crew.EndBreakout: {"he broke out", "broke out"},
		crew.EndBroke:    {"he broke", "broke"},
		crew.EndLine:     {"he crossed", "crossed"},
		crew.EndDQ:       {"he dq", "dq"},
		crew.EndBye:      {"bye", "bye"},
	}[r.End][own]
	switch r.End {
	case crew.EndPackage:
		words = "by " + by
	case crew.EndRed:
		if why.Lane != crew.Nobody {
			words += " " + short(-why.S, 3)
		}
	case crew.EndBreakout:
		words += " " + short(cmp.Or(why.OtherS, why.S), 3)
	}
	return strings.TrimSpace(letter + " " + words)
}
