package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"slipcase/weather/units"
)

// SheetRow is one row of a dyno sheet's file.
type SheetRow struct {
	Line          int
	RPM           float64
	PowerHP, LbFt units.Number
}

// mostSheet is the longest sheet that is read, in bytes.
const mostSheet = 4 << 20

// sheetColumn is one column that is understood: what it is, and its unit.
type sheetColumn struct {
	kind units.Kind
	unit string
	into func(*SheetRow, float64)
	bare bool // no unit in the heading
}

// ReadSheet reads a dyno sheet saved as CSV, with commas, semicolons or tabs: a
// heading for each column, among them the engine speed (rpm) and power or torque
// or both, in any order, each with its unit, as "Power (kW)" or "torque_nm" or
// only "hp". Torque may go without where power beside it, which it must agree with,
// tells; power may not. Other columns are passed over.
func ReadSheet(r io.Reader) ([]SheetRow, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostSheet+1))
	if err != nil {
		return nil, err
	}
	if len(data) > mostSheet {
		return nil, fmt.Errorf("the sheet is larger than %d bytes: want a dyno sheet as CSV", mostSheet)
	}
	d := dialectOf(data)
	cr := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, bom)))
	cr.Comma, cr.TrimLeadingSpace, cr.FieldsPerRecord = d.comma, true, -1
	header, err := cr.Read()
	if errors.Is(err, io.EOF) {
		return nil, errors.New("the sheet is empty: want a heading row such as rpm,hp and the rows under it")
	}
	if err != nil {
		return nil, fmt.Errorf("the sheet's heading row: %w", err)
	}
	columns, err := sheetColumns(header)
	if err != nil {
		return nil, err
	}
	var rows []SheetRow
	for {
		cells, err := cr.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, fmt.Errorf("the sheet cannot be read as CSV: %w", err)
		}
		line, _ := cr.FieldPos(0)
		if strings.Join(cells, "") == "" {
			continue
		}
		row := SheetRow{Line: line}
		for i, c := range columns {
			if c.into == nil || i >= len(cells) || strings.TrimSpace(cells[i]) == "" {
				continue
			}
			v, err := c.kind.Parse(d.toPoint(strings.TrimSpace(cells[i])) + c.unit)
			if err != nil {
				return nil, fmt.Errorf("row %d, column %q: %q: want a plain number in %s, the unit of the heading",
					line, clip(header[i]), clip(cells[i]), c.unit)
			}
			c.into(&row, v)
		}
		if row.RPM == 0 {
			return nil, fmt.Errorf("row %d has no engine speed: want rpm in every row", line)
		}
		rows = append(rows, row)
	}
}

// sheetColumns reads the headings.
func sheetColumns(header []string) ([]sheetColumn, error) {
	columns := make([]sheetColumn, len(header))
	seen := map[string]string{}
	bare, bareTorque := false, false
	for i, head := range header {
		c, ok := sheetColumnOf(head)
		if !ok {
			continue
		}
		if other, twice := seen[c.kind.Name]; twice {
			return nil, fmt.Errorf("columns %q and %q are both %s: want one, in one unit", clip(other), clip(head), c.kind.Name)
		}
		seen[c.kind.Name] = head
		columns[i] = c
		bare = bare || c.bare && c.kind.Name == units.Power.Name
		bareTorque = bareTorque || c.bare && c.kind.Name == units.Torque.Name
	}
	if _, ok := seen[units.RPM.Name]; !ok {
		return nil, fmt.Errorf(
			"no column for the engine speed among %q: want one headed rpm",
			clip(strings.Join(header, ", ")),
		)
	}
	if len(seen) < 2 {
		return nil, fmt.Errorf(
			"neither power nor torque among the columns %q: want one headed as hp, kW, PS, lb-ft or Nm",
			clip(strings.Join(header, ", ")),
		)
	}
	_, power := seen[units.Power.Name]
	switch {
	case bare:
		return nil, fmt.Errorf(
			"column %q has no unit: want it in the heading, as hp, power (kW) or power (PS)",
			clip(seen[units.Power.Name]),
		)
	case bareTorque && !power:
		return nil, fmt.Errorf(
			"column %q has no unit: want it in the heading, as torque (lb-ft) or torque (Nm)",
			clip(seen[units.Torque.Name]),
		)
	}
	return columns, nil
}

// sheetColumnOf understands a heading by the unit in it, else by its word.
func sheetColumnOf(head string) (sheetColumn, bool) {
	words := strings.FieldsFunc(strings.ToLower(head), func(r rune) bool { return strings.ContainsRune(" ()[]_,/:", r) })
	kinds := []sheetColumn{
		{units.RPM, "rpm", func(r *SheetRow, v float64) { r.RPM = v }, false},
		{units.Power, "hp", func(r *SheetRow, v float64) { r.PowerHP = units.Some(v) }, false},
		{units.Torque, "lb-ft", func(r *SheetRow, v float64) { r.LbFt = units.Some(v) }, false},
	}
	for _, c := range kinds {
		// A unit may be parted as its words are: "lb ft".
		for i := range words {
			for _, unit := range []string{words[i], strings.Join(words[i:min(i+2, len(words))], "-")} {
				if unit != "" && unitOf(c.kind, unit) {
					c.unit = unit
					return c, true
				}
			}
		}
	}
	for i, names := range [][]string{{"speed", "revs"}, {"power"}, {"torque"}} {
		if slices.ContainsFunc(words, func(w string) bool { return slices.Contains(names, w) }) &&
			(i > 0 || slices.Contains(words, "engine")) {
			kinds[i].bare = true
			return kinds[i], true
		}
	}
	return sheetColumn{}, false
}

func unitOf(k units.Kind, text string) bool {
	if strings.ContainsAny(text, "0123456789.") {
		return false
	}
	_, err := k.Parse("1" + text)
	return err == nil
}
