package page

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// UnknownColumn is the name of a column that a list has not.
type UnknownColumn string

func (u UnknownColumn) Error() string { return string(u) }

// Slips lists runs with what each was expected to be; of is how many there are, columns
// those to show, all that there is room for when empty; own are the racer's own ones.
func (p *Page) Slips(js []crew.Judged, of int, own []crew.OwnColumn, columns []string) error {
	t := p.slipTable(js)
	addOwn(&t, js, own)
	switch {
	case len(columns) > 0:
		var err error
		if t, err = pickColumns(t, columns); err != nil {
			return err
		}
	case p.Format != table.CSV:
		t.DropEmpty()
	}
	if len(js) < of {
		p.Note("%d of %d slips: --last 0 lists all", len(js), of)
	}
	list := make([]judgedJSON, len(js))
	var doubted []crew.LeftOut
	for i := range js {
		list[i] = p.newJudgedJSON(&js[i])
		if js[i].Doubted() {
			doubted = append(doubted, js[i].LeftOut)
		}
	}
	p.doubted(doubted)
	return p.Answer(list, t, nil)
}

// doubted says why the next forecast leaves runs out of which nothing was noted.
func (p *Page) doubted(list []crew.LeftOut) {
	for _, why := range Reasons(list, p.Units) {
		p.Note("doubted, left out of the forecast: %s", why)
	}
}

// Like tells what runs in like air were looked for.
func (p *Page) Like(a crew.Alikes) {
	p.Note(
		"%s at %s in density altitudes of %s, give or take %s: %d %s",
		a.Next.Run.Vehicle.Name(),
		a.Next.Run.Track.Name(),
		p.Show(
			units.Length,
			units.Some(a.DensFt),
		),
		p.Show(units.Length, units.Some(a.WithinFt)),
		len(a.Runs),
		Plural(len(a.Runs), "run", "runs"),
	)
}

// pickColumns keeps the columns that are named, in their order, by their heading or by
// what it begins with in CSV.
func pickColumns(t table.Table, names []string) (table.Table, error) {
	var picked table.Table
	rows := make([][]string, len(t.Rows))
	for _, name := range names {
		name = strings.ToLower(strings.TrimSpace(name))
		at := slices.IndexFunc(
			t.Columns,
			func(c table.Column) bool { return name == strings.ToLower(c.Head) || name == c.Key },
		)
		if at < 0 {
			at = slices.IndexFunc(t.Columns, func(c table.Column) bool { return name != "" && strings.HasPrefix(c.Key, name) })
		}
		if at < 0 {
			var all []string
			for _, c := range t.Columns {
				head, _, _ := strings.Cut(c.Key, "_ft") // what a heading says, not its unit
				if c.Head != "ft" {
					head = c.Head
				}
				all = append(all, head)
			}
			return t, UnknownColumn(fmt.Sprintf("no column %q: want of %s", name, strings.Join(all, ", ")))
		}
		c := t.Columns[at]
		c.Drop = 0
		picked.Columns = append(picked.Columns, c)
		for i, r := range t.Rows {
			rows[i] = append(rows[i], r[at])
		}
	}
	picked.Rows = rows
	return picked, nil
}

// slipTable lists runs against their forecasts, at the farthest mark of each.
func (p *Page) slipTable(js []crew.Judged) table.Table {
	da, mph := "density_altitude_"+p.Suffix(units.Length), "speed_"+p.Suffix(units.Speed)
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id"},
		{Head: "time", Key: "time", Drop: 1},
		{Head: "vehicle", Key: "vehicle", Drop: 6},
		{Head: "track", Key: "track", Drop: 7},
		{Head: "round", Key: "round", Drop: 3},
		{Head: "class", Key: "class", Drop: 14},
		{Head: "lane", Key: "lane", Drop: 9},
		{Head: "DA", Key: da, Right: true, Drop: 12},
		{Head: "dial", Key: "dial_s", Right: true, Drop: 8},
		{Head: "reaction", Key: "reaction_s", Right: true, Drop: 5},
		{Head: "60 ft", Key: "et_60_s", Right: true, Drop: 2},
		{Head: "ft", Key: "distance_ft", Right: true, Drop: 4},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: units.Speed.Symbol(p.Units), Key: mph, Right: true, Drop: 1},
		{Head: "was on", Key: "et_was_on_s", Right: true, Drop: 2},
		{Head: "over", Key: "over_s", Right: true, Drop: 7},
		{Head: "std air", Key: "et_standard_air_s", Right: true, Drop: 1},
		{Head: "forecast", Key: "et_forecast_s", Right: true, Drop: 1},
		{Head: "diff", Key: "difference_s", Right: true},
		{Head: "full", Key: "full_power", Drop: 2},
		{Head: "result", Key: "round_result", Drop: 8},
		{Head: "opponent", Key: "opponent", Drop: 10},
		{Head: "driver", Key: "driver", Drop: 13},
		{Head: "setup", Key: "setup", Drop: 15},
		{Head: "delay", Key: "delay_s", Right: true, Drop: 16},
		{Head: "stop", Key: "stop", Drop: 16},
		{Head: "stop rpm", Key: "stop_rpm", Right: true, Drop: 18},
		{Head: "launch rpm", Key: "launch_rpm", Right: true, Drop: 17},
		{Head: "two-step", Key: "two_step_rpm", Right: true, Drop: 18},
		{Head: "crossover", Key: "crossover_s", Right: true, Drop: 18},
	}}
	for i := range js {
		j := &js[i]
		s := j.Run.Slip
		row := table.Cells{
			"id": s.ID, "time": p.Stamp(s.Time.Time), "vehicle": s.Vehicle, "track": s.Track, "round": s.Round,
			"class": className(s), "lane": s.Lane, da: p.Cell(units.Length, roundedNumber(crew.DensityAltitude(j.Run), ToFt)),
			"dial_s": Hundredths(crew.LimitOf(s, j.Run.Track)), "reaction_s": p.reaction(s.ReactionS),
			"et_60_s": Seconds(s.ET60S), "full_power": fullWord(j), "round_result": j.Result, "opponent": opponentText(s),
			"driver": s.Driver, "setup": j.Run.Setup.Name,
		}
		row["delay_s"], row["crossover_s"] = Seconds(s.DelayS), Seconds(s.CrossoverS)
		for key, rpm := range map[string]units.Number{
			"stop_rpm": s.StopRPM, "launch_rpm": s.LaunchRPM, "two_step_rpm": s.TwoStepRPM,
		} {
			if rpm.Known() {
				row[key] = fmt.Sprintf("%.0f", rpm.Value())
			}
		}
		if s.StopOffS.Known() {
			row["stop"] = stopText(s)
		}
		if over := crew.Over(j.Run); over.Known() {
			row["over_s"] = signed(over.Value())
		}
		if m, ok := j.Pass.Splits.Finish(); ok {
			row["distance_ft"] = fmt.Sprintf("%g", m.Ft())
			row["et_s"], row[mph] = Seconds(j.Pass.Splits.ETs[m]), p.Speed(j.Pass.Splits.MPHs[m])
			row["et_standard_air_s"] = Seconds(j.Standard.ETs[m])
			row["et_was_on_s"] = wasOnET(j)
			if j.Unjudged == nil {
				x := j.Judgement.Forecast.Centre().ETs[m]
				row["et_forecast_s"], row["difference_s"] = Seconds(x), signed(j.Pass.Splits.ETs[m].Value()-x.Value())
			}
		}
		t.AddCells(row)
	}
	return t
}

// className is the racer's name for the class of a round, else how it was raced.
func className(s crew.Slip) string {
	if s.ClassName != "" {
		return s.ClassName
	}
	return s.Class
}

// opponentText is who was in the other lane; who has no name is told by his dial.
func opponentText(s crew.Slip) string {
	switch {
	case s.Opponent != "":
		return s.Opponent
	case s.Bye != "":
		return "bye"
	case s.OpponentDialS.Known():
		return "on " + Hundredths(s.OpponentDialS)
	}
	return ""
}

// reaction is one in a table: as the slip prints it, bare in CSV.
func (p *Page) reaction(n units.Number) string {
	if p.Format == table.CSV {
		return Seconds(n)
	}
	return ReactionText(n)
}
