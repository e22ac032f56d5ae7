package notebook

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// PullAsk says which of several columns of power is wanted.
type PullAsk struct {
	At     string // wheels or clutch, "" for the only one
	Column string // a part of its heading, "" for the only one
}

// mostHeadRows is how far down the headings of a dyno's file are looked for.
const mostHeadRows = 200

// ReadPull reads the file of a dyno, in any of the forms that Read knows: engine speed,
// and power or torque or both, under headings in the usual languages, each with its unit.
// Lines above and below the rows, and columns of other things, are passed over. What the
// file says of its standard and its air is told.
func ReadPull(data []byte, ask PullAsk) (p crew.Pulled, err error) {
	grids, err := Read(data)
	if err != nil {
		return p, err
	}
	var first error
	for _, g := range grids {
		if p, err = g.pull(ask); err == nil {
			return p, nil
		}
		if first == nil {
			first = err
		}
	}
	return p, first
}

// pull finds the headings that tell a speed and a power or a torque over rows of them.
func (g *Grid) pull(ask PullAsk) (p crew.Pulled, err error) {
	if len(g.Rows) == 0 {
		return p, fmt.Errorf("the sheet is empty: want a heading row such as rpm,hp and the rows under it")
	}
	var sure error
	for at := range min(len(g.Rows), mostHeadRows) {
		heads, from := g.headsAt(at)
		if len(heads) == 0 {
			continue
		}
		r := pullReader{g: g, heads: heads, from: from, ask: ask}
		switch err := r.columns(); {
		case err == nil:
			return r.read(at)
		case sure == nil && r.rpm >= 0:
			sure = err
		}
	}
	if sure == nil {
		return p, fmt.Errorf("no column for the engine speed among %q: want one headed rpm", clipText(g.firstText()))
	}
	return p, sure
}

// headsAt are the headings of a row, with the line of units under it where there is one,
// and the first row under them; none where the row is no heading.
func (g *Grid) headsAt(at int) (heads []string, from int) {
	if !g.textRow(at) {
		return nil, 0
	}
	heads = make([]string, len(g.Rows[at]))
	understood := 0
	for i, f := range g.Rows[at] {
		if heads[i] = f.Text; headOf(f.Text).kind != otherColumn {
			understood++
		}
	}
	from = at + 1
	if understood > 1 && from < len(g.Rows) && g.unitRow(from) {
		for i, f := range g.Rows[from] {
			heads[i] = strings.TrimSpace(heads[i] + " " + f.Text)
		}
		from++
	}
	return heads, from
}

// textRow reports a row that has words and no figures.
func (g *Grid) textRow(at int) bool {
	some := false
	for _, f := range g.Rows[at] {
		if a, is := g.amountOf(f); is && a.unit == "" {
			return false
		}
		some = some || f.Text != ""
	}
	return some
}

// unitRow reports a row of which half or more is units.
func (g *Grid) unitRow(at int) bool {
	known, all := 0, 0
	for _, f := range g.Rows[at] {
		if f.Blank() {
			continue
		}
		if a, is := g.amountOf(f); is && a.v != 1 {
			return false // 3,000 rpm is a figure, 1/min is not
		}
		all++
		if h := headOf(f.Text); h.unit != "" || h.kind == speedColumn ||
			otherUnit.MatchString(strings.Trim(h.text, "[]() ")) {
			known++
		}
	}
	return all > 1 && 2*known >= all && g.textRow(at)
}

func (g *Grid) firstText() string {
	for i := range g.Rows {
		if g.textRow(i) {
			var cells []string
			for _, f := range g.Rows[i] {
				if f.Text != "" {
					cells = append(cells, f.Text)
				}
			}
			return strings.Join(cells, ", ")
		}
	}
	return ""
}

// pullReader reads the rows under one row of headings.
type pullReader struct {
	g     *Grid
	heads []string
	from  int
	ask   PullAsk

	rpm, power, torque int // columns, -1 for none
	powerTo, torqueTo  float64
	thousand           bool
	out                crew.Pulled
}

// speeds are the rows with an engine speed, by their place, and those speeds.
func (r *pullReader) speeds() (rows []int, rpm []float64) {
	for i := r.from; i < len(r.g.Rows); i++ {
		if a, is := r.g.amountOf(r.g.Rows[i][r.rpm]); is && (a.unit == "" || headOf(a.unit).kind == speedColumn) &&
			a.v > 0 {
			if a.other.Known() && a.v < 30 {
				a.v = a.other.Value() // 3,000 with a comma between thousands
			}
			rows, rpm = append(rows, i), append(rpm, a.v)
		}
	}
	if r.thousand = r.thousand || len(rpm) > 0 && slices.Max(rpm) < 30; r.thousand {
		for i := range rpm {
			rpm[i] *= 1000
		}
	}
	return rows, rpm
}

// read reads the rows under the headings in row at.
func (r *pullReader) read(at int) (crew.Pulled, error) {
	rows, rpm := r.speeds()
	keep, err := r.rising(rpm)
	if err != nil {
		return r.out, err
	}
	for _, i := range keep {
		row := crew.DynoRow{Line: rows[i] + 1, RPM: rpm[i]}
		if row.PowerHP, err = r.figure(rows[i], r.power, r.powerTo, units.Power); err != nil {
			return r.out, err
		}
		if row.LbFt, err = r.figure(rows[i], r.torque, r.torqueTo, units.Torque); err != nil {
			return r.out, err
		}
		if row.PowerHP.Or(0) <= 0 && row.LbFt.Or(0) <= 0 {
			r.out.Blank++
			continue
		}
		r.out.Rows = append(r.out.Rows, row)
	}
	r.out.Thousands, r.out.CommaDecimal = r.thousand, r.g.CommaDecimal
	r.titles(at, append([]int{r.from}, rows...))
	return r.out, r.out.SetCurve()
}

// figure is a cell of a column in hp or lb-ft.
func (r *pullReader) figure(row, column int, times float64, kind units.Kind) (n units.Number, err error) {
	if column < 0 || r.g.Rows[row][column].Blank() {
		return n, nil
	}
	f := r.g.Rows[row][column]
	if a, is := r.g.amountOf(f); is {
		if a.unit == "" {
			return units.Some(a.v * times), nil
		}
		if h := headOf(a.unit); h.unit != "" && (h.kind == powerColumn) == (kind.Name == units.Power.Name) {
			return units.Some(a.v * h.times), nil
		}
	}
	return n, fmt.Errorf("row %d, column %q: %q: want a plain number in %s, the unit of the heading",
		row+1, clipText(r.heads[column]), clipText(f.Text), r.unitOf(column))
}

func (r *pullReader) unitOf(column int) string {
	if column == r.power {
		return r.out.Power.Unit
	}
	return r.out.Torque.Unit
}

// rising are the rows of the pull: from the last lowest speed before the highest to that,
// each above all before it. A list from the highest speed down is read from its end.
func (r *pullReader) rising(rpm []float64) (keep []int, err error) {
	if len(rpm) == 0 {
		return nil, nil
	}
	order := make([]int, len(rpm))
	for i := range order {
		order[i] = i
	}
	if slices.IsSortedFunc(rpm, func(a, b float64) int { return int(math.Copysign(1, b-a)) }) &&
		rpm[0] > rpm[len(rpm)-1] {
		slices.Reverse(order)
		r.out.Downward = true
	}
	top := 0
	for i := range order {
		if rpm[order[i]] > rpm[order[top]] {
			top = i
		}
	}
	bottom := 0
	for i := range top {
		if rpm[order[i]] <= rpm[order[bottom]] {
			bottom = i
		}
	}
	for _, part := range [][]int{order[:bottom], order[top:]} {
		if again(rpm, part, (rpm[order[top]]-rpm[order[bottom]])/2) {
			return nil, fmt.Errorf("the engine speed rises more than once: want the rows of one pull")
		}
	}
	for i := bottom; i <= top; i++ {
		if n := len(keep); n == 0 || rpm[order[i]] > rpm[keep[n-1]] {
			keep = append(keep, order[i])
		}
	}
	r.out.NotRising = len(rpm) - len(keep)
	return keep, nil
}

// again reports that the speeds of a part rise by so much once more.
func again(rpm []float64, part []int, by float64) bool {
	least := math.Inf(1)
	for _, i := range part {
		if least = math.Min(least, rpm[i]); rpm[i]-least > by {
			return true
		}
	}
	return false
}

func clipText(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}
