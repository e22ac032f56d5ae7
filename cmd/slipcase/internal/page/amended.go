package page

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// amended answers an amendment: what was recorded, and a line for each column that it
// changed.
func (p *Page) amended(v any, t table.Table, head string, changed []crew.CellChange) error {
	return p.Answer(v, t, func(w io.Writer) {
		fmt.Fprintln(w, head)
		p.Changes(w, changed)
	})
}

// status answers that an entry was taken out or put back: of is the word for it, called
// how it is named, and group the commands that it belongs to.
func (p *Page) status(v any, t table.Table, of, called, group string, e crew.Entry) error {
	return p.Answer(v, t, func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %s %s %s, revision %d\n", of, called, statusWord(e), e.Rev)
		if e.Status == crew.Void {
			fmt.Fprintf(w, "  put it back   slipcase %s unvoid %s\n", group, e.ID)
		}
	})
}

// statusWord says that an entry was taken out or put back.
func statusWord(e crew.Entry) string {
	if e.Status == crew.Void {
		return "is now void"
	}
	return "is back"
}

// Changes tells what an amendment changed, in the units shown, a line for each column.
func (p *Page) Changes(w io.Writer, changed []crew.CellChange) {
	for _, c := range changed {
		if k, ok := unitOf(c.Column); ok && p.Units != units.US {
			us := strings.ToLower(k.Symbol(units.US))
			c.Column = strings.Replace(c.Column, us, p.Suffix(k), 1)
			show := func(cell string) string { return p.converted(k, cell) }
			if strings.HasPrefix(c.Column, "lengths_") {
				show = p.lengthsCell
			}
			c.Was, c.Is = show(c.Was), show(c.Is)
		}
		fmt.Fprintf(w, "  %s: %s -> %s\n", c.Column, table.Clean(OrDash(c.Was)), table.Clean(OrDash(c.Is)))
	}
	if len(changed) == 0 {
		fmt.Fprintln(w, "  nothing in it differs from before")
	}
}

// unitOf is the quantity whose US unit a column's name has in it.
func unitOf(column string) (units.Kind, bool) {
	for word := range strings.SplitSeq(column, "_") {
		for _, k := range []units.Kind{
			units.Weight, units.Power, units.Length, units.Speed, units.Temperature, units.Pressure,
			units.TyrePressure, units.Diameter,
		} {
			if word == strings.ToLower(k.Symbol(units.US)) {
				return k, true
			}
		}
	}
	return units.Kind{}, false
}

// lengthsCell is a recorded cell of lengths in the units shown.
func (p *Page) lengthsCell(cell string) string {
	var ft []float64
	for w := range strings.FieldsSeq(cell) {
		if v, err := strconv.ParseFloat(w, 64); err == nil {
			ft = append(ft, v)
		}
	}
	return p.lengths(ft)
}

// converted is a recorded cell, of a figure or several, in the units shown.
func (p *Page) converted(k units.Kind, cell string) string {
	words := strings.Fields(cell)
	for i, w := range words {
		if v, err := strconv.ParseFloat(w, 64); err == nil {
			words[i] = p.bare(k, v)
		}
	}
	return strings.Join(words, " ")
}

// bare is a quantity in the units shown without its unit, as CSV has it.
func (p *Page) bare(k units.Kind, us float64) string {
	return strconv.FormatFloat(math.Round(k.In(p.Units, us)*1e4)/1e4, 'f', -1, 64)
}

// typed is a quantity as it may be typed in the units shown, for an example.
func (p *Page) typed(k units.Kind, us float64) string { return asTyped.Replace(k.Format(p.Units, us)) }

var asTyped = strings.NewReplacer(".0 ", "", " ", "", ",", "")
