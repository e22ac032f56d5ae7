package notebook

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/cmd/slipcase/internal/crew"
)

// ownPrefix begins the role of a column of the racer's own: own:jets.
const ownPrefix = "own:"

// OwnName is the name of the racer's own column that a role is.
func (r Role) OwnName() (name string, is bool) { return strings.CutPrefix(string(r), ownPrefix) }

// ownRoleNamed reads own:NAME, and own alone: the name is then that of the heading.
func ownRoleNamed(word string) (r Role, ok bool) {
	before, name, named := strings.Cut(word, ":")
	if !strings.EqualFold(strings.TrimSpace(before), string(ownCells)) {
		return "", false
	}
	if name = strings.TrimSpace(name); !named || name == "" {
		return ownCells, true
	}
	return Role(ownPrefix + name), true
}

// checkOwn refuses what can be no name of a column.
func (r Role) checkOwn() error {
	name, is := r.OwnName()
	if !is {
		return nil
	}
	column := crew.OwnColumn{Kind: "text"}
	column.ID = name
	return column.Check()
}

// trailing is a unit at the end of a heading, in brackets.
var trailing = pattern.Of(`^(.*?)\s*[(\[]\s*([^()\[\]]{1,12}?)\s*[)\]]$`)

// ownHead is a heading as the name of a column of the racer's own and its unit.
func (c *Mapped) ownHead() (name, unit string) {
	words := c.Head
	if m := trailing.FindStringSubmatch(c.Head); m != nil {
		words, unit = m[1], m[2]
	} else if at := strings.LastIndexByte(c.Head, ' '); at > 0 && unitWords[strings.ToLower(c.Head[at+1:])] != "" {
		words, unit = c.Head[:at], c.Head[at+1:]
	}
	unit = cmp.Or(unitWords[strings.ToLower(unit)], unit, c.cellUnit)
	none := func(string) (string, bool) { return "", false }
	return NameIn(cmp.Or(nameOf(words), "column-"+nameOf(c.Letter)), "column", none), unit
}

// numeric reports a column of figures, but for some cells that say something else.
func (c *Mapped) numeric() bool {
	return c.FilledN > 0 && len(c.values)*3 >= c.FilledN*2 && c.dates == 0 && c.clocks == 0 && c.splits == 0
}

// knownOwn takes a column under the name of one that the log has, and what the racer names.
func (m *mapper) knownOwn(c *Mapped) {
	if c.Role == ownCells && c.hasOwnCells() {
		return
	}
	name, unit := c.ownHead()
	if given, is := c.Role.OwnName(); is {
		name = given
	} else if c.Role == ownCells {
		c.Role = Role(ownPrefix + name)
	}
	at := slices.IndexFunc(m.opts.Own, func(o crew.OwnColumn) bool { return strings.EqualFold(o.ID, name) })
	if at >= 0 && (c.Role == "" || c.Role == Note) && !c.Forced && !c.label.derived {
		c.Role = Role(ownPrefix + m.opts.Own[at].ID)
	}
	if _, is := c.Role.OwnName(); !is {
		return
	}
	if c.Unit = ""; c.numeric() {
		c.Unit = unit
	}
	if at < 0 {
		return
	}
	if has := m.opts.Own[at]; c.Unit != "" && !strings.EqualFold(c.Unit, has.Unit) {
		m.questions = append(m.questions, Question{
			Kind: UnlikeUnit, Columns: []Mapped{*c}, Name: cmp.Or(has.Unit, "no unit"),
			Role: Role(ownPrefix + has.ID + "-" + nameOf(c.Unit)),
		})
		c.Role = Note
	}
}

// offer notes which columns could be the racer's own: figures that nothing here has a place
// for, that are not worked out of others and do not just count.
func (m *mapper) offer() {
	for i := range m.cols {
		c := &m.cols[i]
		asked := slices.ContainsFunc(m.questions, func(q Question) bool {
			return slices.ContainsFunc(q.Columns, func(o Mapped) bool { return o.col == c.col })
		})
		if c.Role != Note || c.Forced || asked || c.Head == "" || !c.numeric() || c.counts() ||
			c.label.derived || c.label.corrected || c.label.opponent {
			continue
		}
		c.Offered, c.Unit = c.ownHead()
	}
}

// countUnit takes the unit that a cell says into what is known of its column.
func (c *Mapped) countUnit(unit string) {
	if unit = cmp.Or(unitWords[strings.ToLower(unit)], unit); unit == "" || unit == c.cellUnit {
		return
	}
	if c.unitsAre++; c.unitsAre == 1 {
		c.cellUnit = unit
	} else {
		c.cellUnit = ""
	}
}

// counts reports numbers that only count the rows, up or down.
func (c *Mapped) counts() bool {
	const few = 3
	for i := 1; i < len(c.values); i++ {
		if math.Abs(c.values[i]-c.values[i-1]) != 1 {
			return false
		}
	}
	return len(c.values) >= few
}

// ownCell puts a cell into a column of the racer's own. Where the column is one of numbers, a
// cell that is none is a note.
func (r *rowReader) ownCell(d *Draft, c *Mapped, name string, f Field) {
	text := strings.ReplaceAll(strings.Join(strings.Fields(f.Text), " "), ";", ",")
	if absent(text) {
		return
	}
	if c.numeric() {
		a, ok := r.block.grid.amountOf(f)
		if !ok || a.unit != "" && !strings.EqualFold(cmp.Or(unitWords[strings.ToLower(a.unit)], a.unit), c.Unit) {
			d.notes = append(d.notes, strings.TrimSpace(c.Head+" "+f.Text))
			return
		}
		text = strconv.FormatFloat(a.v, 'f', -1, 64)
	}
	if err := d.Slip.SetOwn(name, Fused(text)); err != nil {
		d.fault(c, f.Text, err)
	}
}

// OwnColumns are those that columns of the notebook are taken for, each once.
func (n *Notebook) OwnColumns() (own []crew.OwnColumn) {
	for i := range n.Columns {
		c := &n.Columns[i]
		name, is := c.Role.OwnName()
		if !is || slices.ContainsFunc(own, func(o crew.OwnColumn) bool { return strings.EqualFold(o.ID, name) }) {
			continue
		}
		column := crew.OwnColumn{Kind: "text"}
		if column.ID = name; c.numeric() {
			column.Kind, column.Unit = "number", c.Unit
		}
		own = append(own, column)
	}
	return own
}
