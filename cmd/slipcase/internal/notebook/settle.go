package notebook

import (
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
)

// speeds gives every speed the mark that it goes with, and its unit.
func (m *mapper) speeds() {
	at := m.timed()
	for k, et := range at {
		if et == nil || k < 2 {
			continue
		}
		if et.splits > 0 {
			m.speedUnit(k, et, et)
		}
		if s := m.speedOf(k, et); s != nil {
			if s.Role = speedMarks[etMarks[k]]; !m.speedUnit(k, et, s) && !s.Forced {
				m.ask(NotLike, s.Role, s)
			}
		}
	}
	for i := range m.cols {
		switch c := &m.cols[i]; {
		case c.Role == anyMPH && c.FilledN == 0:
			c.Role = Note
		case c.Role == anyMPH:
			m.ask(WhichSpeed, anyMPH, c)
		case c.Role == "opponent_mph" && c.Unit == "" && m.metric:
			c.Unit = "km/h"
		}
	}
}

// speedOf is the column of the speed at a mark: the one that says so, or one to the right
// of the time that fits there and at no other time.
func (m *mapper) speedOf(k int, et *Mapped) *Mapped {
	for i := range m.cols {
		if m.cols[i].Role == speedMarks[etMarks[k]] && m.cols[i].FilledN > 0 {
			return &m.cols[i]
		}
	}
	at := m.timed()
	for i := range m.cols {
		c := &m.cols[i]
		beside := c.col == et.col+1 && c.Role == "" && !c.Forced && c.texts == 0
		if (c.Role != anyMPH && !beside) || len(c.values) == 0 || c.col < et.col || m.unknownBetween(et, c) {
			continue
		}
		r := pace(k, et, c)
		if !isMPH(r) && !isKmh(r) {
			continue
		}
		elsewhere := false // nearer to another time that it fits as well
		for j, o := range at {
			if o == nil || j < 2 || j == k || o.col > c.col || o.col < et.col {
				continue
			}
			r := pace(j, o, c)
			elsewhere = elsewhere || isMPH(r) || isKmh(r)
		}
		if !elsewhere {
			c.ByValues = c.Role == ""
			return c
		}
	}
	return nil
}

// unknownBetween reports a column of decimals that nothing is known of between two: it may be the
// time that the speed goes with.
func (m *mapper) unknownBetween(a, b *Mapped) bool {
	for i := range m.cols {
		c := &m.cols[i]
		unknown := c.Role == "" || c.Role == Note && c.label.role == ""
		if c.col > a.col && c.col < b.col && unknown && c.numeric() && c.fraction() {
			return true
		}
	}
	return false
}

// speedUnit tells the unit of a speed by the time beside it; false where neither fits, or
// the heading says the other.
func (m *mapper) speedUnit(k int, et, of *Mapped) bool {
	r := pace(k, et, of)
	switch {
	case isMPH(r):
		// "mph" as the word for a speed stands over km/h too, but not the other way.
		if of.Unit == "km/h" {
			return false
		}
		of.Unit = "mph"
	case isKmh(r):
		of.Unit, m.metric = "km/h", true
	default:
		return math.IsNaN(r)
	}
	return true
}

// unitsOf settles what the bare numbers of the other columns are in.
func (m *mapper) unitsOf() {
	for i := range m.cols {
		c := &m.cols[i]
		f := fieldOf(c.Role)
		if c.Role == anyPress {
			f = fieldOf("station_inhg")
		}
		if f.kind == nil || len(c.values) == 0 || strings.HasPrefix(string(c.Role), "mph_") || c.Role == "opponent_mph" {
			continue
		}
		v := c.median()
		if _, ok := f.read(amount{v: v}, c.Unit); c.Unit != "" && !ok {
			c.Unit = "" // a unit of something else
		}
		if c.Unit == "" {
			m.unitByValue(c, f, v)
		}
	}
	for i := range m.cols {
		if c := &m.cols[i]; c.Role == anyPress {
			m.pressure(c)
		}
	}
}

// unitByValue finds the unit that makes a figure one of its kind; two that do are a question.
func (m *mapper) unitByValue(c *Mapped, f roleField, v float64) {
	could := map[Role][]string{
		"temp_f": {"F", "C"}, "dew_point_f": {"F", "C"}, "wet_bulb_f": {"F", "C"}, "track_temp_f": {"F", "C"}, "water_temp_f": {"F", "C"},
		"station_inhg": {"inHg", "hPa", "mmHg", "kPa"}, "altimeter_inhg": {"inHg", "hPa", "mmHg", "kPa"}, "sea_level_inhg": {"inHg", "hPa", "mmHg", "kPa"},
		"tyre_psi": {"psi", "bar"},
	}[f.role]
	if could == nil {
		// Nothing in the figure tells a foot from a metre.
		c.Unit = f.kind.Symbol(m.opts.Bare)
		if m.metric != (m.opts.Bare == 1) && f.role != "rh_pct" && f.role != "wind_from_deg" {
			m.ask(WhichUnit, c.Role, c)
		}
		return
	}
	var fitting []string
	for _, unit := range could {
		low, high := f.low, f.high
		if f.role == "temp_f" { // days on which one races
			low, high = 45, 118
		}
		if us, ok := f.read(amount{v: v}, unit); ok && us >= low && us <= high {
			fitting = append(fitting, unit)
		}
	}
	usual := could[0]
	if m.metric {
		usual = could[min(1, len(could)-1)]
	}
	switch {
	case len(fitting) == 1:
		c.Unit = fitting[0]
	case slices.Contains(fitting, usual) && m.sure(f, usual, v):
		c.Unit = usual
	case !c.Forced:
		m.ask(WhichUnit, c.Role, c)
	}
}

// sure reports that the usual unit is the only one that anybody means by a figure.
func (m *mapper) sure(f roleField, usual string, v float64) bool {
	switch f.role {
	case "dew_point_f", "wet_bulb_f", "track_temp_f", "water_temp_f":
		// By the unit of the air's temperature, or a figure that only one of them makes.
		for i := range m.cols {
			if c := &m.cols[i]; c.Role == "temp_f" && c.Unit != "" {
				return c.Unit == usual
			}
		}
		return usual == "F" && v > 60
	}
	return f.role != "temp_f"
}

// aboveSeaFt is how high a track must lie for its pressure and what an altimeter is set to
// to be told apart by their size.
const aboveSeaFt = 600

// pressure tells which of the pressures a column of them is.
func (m *mapper) pressure(c *Mapped) {
	f := fieldOf("station_inhg")
	v, ok := f.read(amount{v: c.median()}, c.Unit)
	switch {
	case !ok || c.Unit == "" || !f.within(v):
		m.ask(WhichPressure, anyPress, c)
	case v < 28.6:
		c.Role = "station_inhg" // no altimeter is set so low in fair weather
	case m.opts.ElevationFt.Known() && m.opts.ElevationFt.Value() >= aboveSeaFt:
		here, high := crew.Air{StationInHg: v}.PressureAltitudeFt(), m.opts.ElevationFt.Value()
		if c.Role = "station_inhg"; math.Abs(here) < math.Abs(here-high) {
			c.Role = "altimeter_inhg"
		}
	default:
		m.ask(WhichPressure, anyPress, c)
	}
}

// rest makes notes of what is not known, and asks where values are not what a heading says.
func (m *mapper) rest() {
	for i := range m.cols {
		c := &m.cols[i]
		f := fieldOf(c.Role)
		switch {
		case c.FilledN == 0 && !c.Forced:
			c.Role = Skip
		case c.Role == "" && c.reactionLike() && m.leftOf60(c):
			c.Role, c.ByValues = "reaction_s", true
		case c.Role == "" && strings.TrimSpace(c.Head) == "" && c.texts > 0 && !m.has("notes"):
			c.Role = "notes"
		case c.Role == "":
			c.Role = Note
		case f.figure() && !c.Forced && c.far(f) && c.splits == 0:
			m.ask(NotLike, c.Role, c)
		}
	}
}

// far reports that most values are none of a field.
func (c *Mapped) far(f roleField) bool {
	n := 0
	for _, v := range c.values {
		if us, ok := f.read(amount{v: v}, c.Unit); ok && f.within(us) {
			n++
		}
	}
	return len(c.values) > 0 && n*5 < len(c.values)*3
}

func (c *Mapped) reactionLike() bool {
	v := c.median()
	return len(c.values) > 0 && c.fraction() && v > -0.3 && v < 1
}

func (m *mapper) leftOf60(c *Mapped) bool {
	at := m.timed()
	return at[0] != nil && c.col == at[0].col-1 && !m.has("reaction_s")
}
