package logbook

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// OwnColumn is a column that the racer has added to his slips; its id is its name. What the
// slips have in it stands in their column "own", which a program that does not know it
// carries over as it does any other.
type OwnColumn struct {
	Entry
	Kind  string `csv:"kind"  json:"kind"           oneof:"number text" required:"yes"`
	Unit  string `csv:"unit"  json:"unit,omitzero"` // of a number, as the racer calls it; never converted
	Notes string `csv:"notes" json:"notes,omitzero"`
}

// OwnCell is what a slip has in one of the racer's own columns.
type OwnCell struct{ Name, Text string }

// ErrOwnCells is wrapped when the text of the column own is not of its form.
var ErrOwnCells = errors.New("want own columns as jets=68; plug=ngk")

// mostUnit is how long a unit may be.
const mostUnit = 12

// Check refuses what cannot be.
func (c OwnColumn) Check() error {
	if err := CheckName("column", c.ID); err != nil {
		return err
	}
	if len(c.Unit) > mostUnit || c.Unit != "" && c.Kind != "number" {
		return fmt.Errorf("unit %q: want that of a number, at most %d letters", clip(c.Unit), mostUnit)
	}
	return checkRecord(&c)
}

// Takes reads a text as a value of the column: of a number its digits, with its unit or
// without.
func (c OwnColumn) Takes(text string) (string, error) {
	text = strings.TrimSpace(text)
	if strings.ContainsAny(text, ";\r\n") {
		return "", fmt.Errorf("column %s, %q: no semicolon can stand in it", c.ID, clip(text))
	}
	if c.Kind != "number" || text == "" {
		return text, nil
	}
	digits := text
	if n := len(text) - len(c.Unit); n > 0 && strings.EqualFold(text[n:], c.Unit) {
		digits = strings.TrimSpace(text[:n])
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil || v-v != 0 {
		in := ""
		if c.Unit != "" {
			in = " in " + c.Unit
		}
		return "", fmt.Errorf("column %s, %q: want a number%s, as 68", c.ID, clip(text), in)
	}
	return strconv.FormatFloat(v, 'f', -1, 64), nil
}

// OwnCells are what a slip has in the racer's own columns, in their order.
func (s Slip) OwnCells() ([]OwnCell, error) {
	var cells []OwnCell
	for part := range strings.SplitSeq(s.Own, ";") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		name, text, ok := strings.Cut(part, "=")
		name = strings.TrimSpace(name)
		if !ok || name == "" || slices.ContainsFunc(cells, func(c OwnCell) bool { return strings.EqualFold(c.Name, name) }) {
			return nil, fmt.Errorf("own columns %q: %w, each once", clip(s.Own), ErrOwnCells)
		}
		cells = append(cells, OwnCell{name, strings.TrimSpace(text)})
	}
	return cells, nil
}

// OwnText is what a slip has in one of them, "" where it has nothing.
func (s Slip) OwnText(name string) string {
	cells, _ := s.OwnCells()
	for _, c := range cells {
		if strings.EqualFold(c.Name, name) {
			return c.Text
		}
	}
	return ""
}

// SetOwn puts a text into one of the racer's own columns, "" takes it out.
func (s *Slip) SetOwn(name, text string) error {
	cells, err := s.OwnCells()
	if err != nil {
		return err
	}
	at := slices.IndexFunc(cells, func(c OwnCell) bool { return strings.EqualFold(c.Name, name) })
	if at < 0 {
		at, cells = len(cells), append(cells, OwnCell{})
	}
	cells[at] = OwnCell{name, text}
	var parts []string
	for _, c := range cells {
		if c.Text != "" {
			parts = append(parts, c.Name+"="+c.Text)
		}
	}
	s.Own = strings.Join(parts, "; ")
	return nil
}

// OwnColumns lists the racer's own columns that stand, in the order in which they were added.
func (lb *Logbook) OwnColumns() ([]OwnColumn, error) { return facts[OwnColumn](lb, columnTable, nil) }

// OwnColumn finds one by its name or a unique beginning of it.
func (lb *Logbook) OwnColumn(name string) (OwnColumn, error) {
	return find[OwnColumn](lb, columnTable, name)
}

// VoidOwnColumn finds one to put back.
func (lb *Logbook) VoidOwnColumn(ref string) (OwnColumn, error) {
	return findVoid[OwnColumn](lb, columnTable, ref)
}

// AddOwnColumn records a new one.
func (lb *Logbook) AddOwnColumn(c *OwnColumn) error {
	if err := cmp.Or(c.Check(), checkNew("column", c.ID)); err != nil {
		return err
	}
	return add(lb, columnTable, []*OwnColumn{c})
}

// AmendOwnColumn records the next revision of one.
func (lb *Logbook) AmendOwnColumn(id string, change func(*OwnColumn) error) (OwnColumn, error) {
	return amend(lb, columnTable, id, checked(change, (*OwnColumn).Check))
}
