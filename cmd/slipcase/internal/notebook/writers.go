package notebook

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"io"
	"slices"
	"time"

	"github.com/xuri/excelize/v2"

	"slipcase/cmd/slipcase/internal/table"
)

// writeCSV writes rows by RFC 4180, with its line ends.
func writeCSV(w io.Writer, s Sheet) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	line := make([]string, len(s.Heads))
	for i, h := range s.Heads {
		line[i] = h.Name
	}
	if err := out.Write(line); err != nil {
		return err
	}
	var as texts
	for row, err := range s.Rows {
		if err != nil {
			return err
		}
		if err := out.Write(as.of(row)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// writeJSON writes rows as one array.
func writeJSON(w io.Writer, s Sheet) error {
	out := bufio.NewWriter(w)
	before := "[\n"
	for row, err := range s.Rows {
		if err != nil {
			return err
		}
		out.WriteString(before)
		if err := writeObject(out, s.Heads, row); err != nil {
			return err
		}
		before = ",\n"
	}
	if before == "[\n" {
		out.WriteString("[")
	}
	out.WriteString("\n]\n")
	return out.Flush()
}

// writeLines writes rows as one object a line.
func writeLines(w io.Writer, s Sheet) error {
	out := bufio.NewWriter(w)
	for row, err := range s.Rows {
		if err != nil {
			return err
		}
		if err := writeObject(out, s.Heads, row); err != nil {
			return err
		}
		out.WriteByte('\n')
	}
	return out.Flush()
}

// writeObject writes a row in the order of its columns, which a map would not keep.
func writeObject(out *bufio.Writer, heads []Head, row []Cell) error {
	for i := range row {
		name, err := json.Marshal(heads[i].Name)
		if err != nil {
			return err
		}
		value, err := json.Marshal(row[i].value())
		if err != nil {
			return err
		}
		if i == 0 {
			out.WriteByte('{')
		} else {
			out.WriteByte(',')
		}
		out.Write(name)
		out.WriteByte(':')
		out.Write(value)
	}
	return out.WriteByte('}')
}

// writeMarkdown writes rows as one table.
func writeMarkdown(w io.Writer, s Sheet) error {
	var t table.Table
	for _, h := range s.Heads {
		t.Columns = append(t.Columns, table.Column{Head: h.Name, Key: h.Name, Right: h.Kind == Number})
	}
	var as texts
	for row, err := range s.Rows {
		if err != nil {
			return err
		}
		t.Rows = append(t.Rows, slices.Clone(as.of(row)))
	}
	return t.Render(w, table.Markdown, 0)
}

// writeWorkbook writes each sheet with a heading that stays in sight, numbers as numbers
// and moments as dates, by the clock of the track.
func writeWorkbook(w io.Writer, sheets []Sheet) (err error) {
	book := excelize.NewFile()
	defer func() {
		if closed := book.Close(); err == nil {
			err = closed
		}
	}()
	format := "yyyy-mm-dd hh:mm:ss"
	dated, err := book.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		return err
	}
	for i, s := range sheets {
		if i == 0 {
			err = book.SetSheetName("Sheet1", s.Name)
		} else {
			_, err = book.NewSheet(s.Name)
		}
		if err != nil {
			return err
		}
		if err := writePage(book, s, dated); err != nil {
			return err
		}
	}
	return book.Write(w)
}

func writePage(book *excelize.File, s Sheet, dated int) error {
	out, err := book.NewStreamWriter(s.Name)
	if err != nil {
		return err
	}
	if err := out.SetPanes(&excelize.Panes{
		Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft",
	}); err != nil {
		return err
	}
	if err := out.SetColWidth(1, len(s.Heads), 14); err != nil {
		return err
	}
	line := make([]any, len(s.Heads))
	for i, h := range s.Heads {
		line[i] = h.Name
	}
	if err := out.SetRow("A1", line); err != nil {
		return err
	}
	n := 1
	for row, err := range s.Rows {
		if err != nil {
			return err
		}
		n++
		for i := range row {
			line[i] = bookCell(&row[i], dated)
		}
		at, err := excelize.CoordinatesToCellName(1, n)
		if err != nil {
			return err
		}
		if err := out.SetRow(at, line); err != nil {
			return err
		}
	}
	return out.Flush()
}

// bookCell is a cell as a workbook takes it: it knows no zone, so a moment is its clock's.
func bookCell(c *Cell, dated int) any {
	switch c.kind {
	case Text:
		return Defused(c.text)
	case Moment:
		wall := time.Date(c.at.Year(), c.at.Month(), c.at.Day(), c.at.Hour(), c.at.Minute(), c.at.Second(), 0, time.UTC)
		return excelize.Cell{StyleID: dated, Value: wall}
	}
	return c.value()
}
