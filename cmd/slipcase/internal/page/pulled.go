package page

import (
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// PulledNotes say how the file of a dyno was understood, and which rows are left out.
func (p *Page) PulledNotes(u crew.Pulled) (said []string) {
	said = append(said, p.pulledColumns(u))
	if by := p.pulledTitle(u); by != "" {
		said = append(said, by)
	}
	for _, s := range u.Spikes {
		said = append(said, p.spike(s))
	}
	if u.NotRising > 0 {
		said = append(said, fmt.Sprintf("left out: %d %s where the engine does not speed up", u.NotRising,
			Plural(u.NotRising, "row", "rows")))
	}
	if u.Blank > 0 {
		said = append(said, fmt.Sprintf("left out: %d %s without a figure", u.Blank, Plural(u.Blank, "row", "rows")))
	}
	if len(u.Others) > 0 {
		said = append(said, "passed over: "+quoted(u.Others))
	}
	return said
}

func (p *Page) pulledColumns(u crew.Pulled) string {
	first, last := u.Rows[0].RPM, u.Rows[len(u.Rows)-1].RPM
	parts := []string{fmt.Sprintf("%d rows, %.0f to %.0f rpm from %q", len(u.Rows), first, last, u.RPM.Head)}
	if u.Thousands {
		parts[0] += " x 1000"
	}
	for _, column := range []struct {
		what string
		crew.PulledColumn
	}{{"power", u.Power}, {"torque", u.Torque}} {
		c := column.PulledColumn
		if c.Head == "" {
			continue
		}
		text := fmt.Sprintf("%s from %q", column.what, c.Head)
		if !strings.Contains(strings.ToLower(c.Head), strings.ToLower(c.Unit)) {
			text += fmt.Sprintf(" as %q", c.Unit)
		}
		if c.At != "" {
			text += " at the " + c.At
		}
		parts = append(parts, text)
	}
	if u.CommaDecimal {
		parts = append(parts, "decimal commas")
	}
	if u.Downward {
		parts = append(parts, "listed from the highest speed down")
	}
	return strings.Join(parts, ", ")
}

// pulledTitle is what the file says beside its rows.
func (p *Page) pulledTitle(u crew.Pulled) string {
	var parts []string
	if u.Standard != "" {
		parts = append(parts, standardWords(u.Standard))
	}
	for _, q := range []struct {
		kind units.Kind
		n    units.Number
	}{{units.Temperature, u.TempF}, {units.Percent, u.RHPct}, {units.Pressure, u.StationInHg}} {
		if q.n.Known() {
			parts = append(parts, p.Show(q.kind, q.n))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "by its own words " + strings.Join(parts, ", ")
}

func (p *Page) spike(s crew.Spike) string {
	hp := p.tenthsOf(s.HP)
	if s.DisagreesLbFt > 0 {
		return fmt.Sprintf("left out: row %d, %s at %.0f rpm, where its %s make %s", s.Line, hp, s.RPM,
			p.Show(units.Torque, units.Some(s.DisagreesLbFt)), p.tenthsOf(s.DisagreesLbFt*s.RPM/units.LbFtPerHPPerRPM))
	}
	return fmt.Sprintf("left out: row %d, %s at %.0f rpm, where its neighbors say %s", s.Line, hp, s.RPM,
		p.Show(units.Power, units.Some(s.NeighboursHP)))
}

func (p *Page) tenthsOf(hp float64) string {
	return fmt.Sprintf("%.1f %s", units.Power.In(p.Units, hp), units.Power.Symbol(p.Units))
}

// PowerColumns tell the columns of power of a file, to choose one of.
func (p *Page) PowerColumns(file string, columns []crew.PulledColumn) []string {
	head := fmt.Sprintf("%s has %d columns of power", file, len(columns))
	if len(columns) == 1 {
		head = file + " has no such column of power, but this"
	}
	var each []string
	for _, c := range columns {
		text := fmt.Sprintf("%q", c.Head)
		if c.At != "" {
			text += " at the " + c.At
		}
		each = append(each, text)
	}
	return []string{head + ": " + strings.Join(each, ", ")}
}

func quoted(texts []string) string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = fmt.Sprintf("%q", t)
	}
	return strings.Join(out, ", ")
}
