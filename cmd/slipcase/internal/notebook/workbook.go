package notebook

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/pattern"

	"github.com/xuri/excelize/v2"

	"slipcase/weather/units"
)

// readBook reads the sheets of a workbook: the values that its program has left in the
// cells. Macros and formulas are not run.
func readBook(data []byte) (grids []*Grid, err error) {
	unvalued, err := formulasWithoutValue(data)
	if err != nil {
		return nil, err
	}
	book, err := excelize.OpenReader(
		bytes.NewReader(data),
		excelize.Options{UnzipSizeLimit: mostUnzip, UnzipXMLSizeLimit: 16 << 20},
	)
	if err != nil {
		if strings.Contains(err.Error(), "unzip size") {
			return nil, errTooMuch
		}
		return nil, fmt.Errorf("the workbook is broken (%w): %s", err, saveAs)
	}
	defer func() {
		if closed := book.Close(); err == nil {
			err = closed
		}
	}()
	props, err := book.GetWorkbookProps()
	if err != nil {
		return nil, err
	}
	from1904 := props.Date1904 != nil && *props.Date1904
	for _, name := range book.GetSheetList() {
		if seen, err := book.GetSheetVisible(name); err == nil && !seen {
			continue
		}
		g, err := readSheet(book, name, from1904)
		if err != nil {
			return nil, fmt.Errorf("sheet %q: %w", name, err)
		}
		for _, at := range unvalued {
			g.markFormula(book, at)
		}
		grids = append(grids, g)
	}
	return grids, nil
}

var errTooMuch = fmt.Errorf(
	"the workbook unpacks to more than %d MB: want the sheet with the runs alone",
	mostUnzip>>20,
)

func readSheet(book *excelize.File, name string, from1904 bool) (*Grid, error) {
	g := &Grid{Name: name}
	shown, err := book.Rows(name)
	if err != nil {
		return nil, err
	}
	defer shown.Close()
	raw, err := book.Rows(name)
	if err != nil {
		return nil, err
	}
	defer raw.Close()
	for shown.Next() && raw.Next() {
		if len(g.Rows) > mostRows {
			break
		}
		texts, err := shown.Columns()
		if err != nil {
			return nil, err
		}
		values, err := raw.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, err
		}
		row := make([]Field, len(texts))
		for c, text := range texts {
			value := text
			if c < len(values) {
				value = values[c]
			}
			row[c] = sheetField(text, value, from1904)
		}
		g.Rows = append(g.Rows, row)
		if len(row) > mostColumns {
			break
		}
	}
	if err := shown.Error(); err != nil {
		return nil, err
	}
	return g, g.merge(book)
}

var dateLike = pattern.Of(`(?i)[/:-]|\b(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)`)

// sheetField is a cell of which a sheet has the value, and shows it as text.
func sheetField(text, value string, from1904 bool) Field {
	f := Field{Text: strings.TrimSpace(text)}
	if strings.HasPrefix(value, "#") && strings.TrimRight(value, "!?") != value || value == "#N/A" {
		return Field{Text: value, Fault: "the formula ends in " + value}
	}
	v, err := strconv.ParseFloat(value, 64)
	if err != nil {
		return f
	}
	f.Number = units.Some(v)
	// Dates are days since 1900 or 1904, times of day parts of one. 1 1/8 is neither.
	day := v >= 18000 && v < 75000
	clock := v >= 0 && v < 1
	if text != value && dateLike.MatchString(strings.TrimPrefix(text, "-")) &&
		(day || clock && strings.Contains(text, ":")) {
		if t, err := excelize.ExcelDateToTime(v, from1904 && day); err == nil {
			f.When, f.Number = t.Round(time.Second), units.Number{}
			switch {
			case clock:
				f.Text = f.When.Format("15:04")
			case f.DayAlone():
				f.Text = f.When.Format(time.DateOnly)
			default:
				f.Text = f.When.Format("2006-01-02 15:04")
			}
			return f
		}
	}
	// What is shown has fewer digits than what is there, which was computed.
	if _, err := strconv.ParseFloat(text, 64); err != nil || len(value) > 12 {
		value = strconv.FormatFloat(v, 'f', -1, 64)
		if at := strings.IndexByte(value, '.'); at >= 0 && len(value) > at+5 {
			value = strconv.FormatFloat(v, 'f', 4, 64)
		}
	}
	f.Text = value
	return f
}

// merge copies merged cells' text into all of them.
func (g *Grid) merge(book *excelize.File) error {
	merged, err := book.GetMergeCells(g.Name)
	if err != nil {
		return err
	}
	for _, m := range merged {
		c1, r1, err1 := excelize.CellNameToCoordinates(m.GetStartAxis())
		c2, r2, err2 := excelize.CellNameToCoordinates(m.GetEndAxis())
		if err1 != nil || err2 != nil || r1 > len(g.Rows) || c1 > len(g.Rows[r1-1]) {
			continue
		}
		first := g.Rows[r1-1][c1-1]
		first.Copy = true
		for r := r1; r <= min(r2, len(g.Rows)); r++ {
			for c := c1; c <= min(c2, mostColumns); c++ {
				for len(g.Rows[r-1]) < c {
					g.Rows[r-1] = append(g.Rows[r-1], Field{})
				}
				if r != r1 || c != c1 {
					g.Rows[r-1][c-1] = first
				}
			}
		}
	}
	return nil
}

// markFormula notes a formula that has no value, if it is one of this sheet.
func (g *Grid) markFormula(book *excelize.File, at string) {
	c, r, err := excelize.CellNameToCoordinates(at)
	if err != nil || r > mostRows || c > mostColumns {
		return
	}
	if formula, err := book.GetCellFormula(g.Name, at); err != nil || formula == "" {
		return
	}
	for len(g.Rows) < r {
		g.Rows = append(g.Rows, nil)
	}
	for len(g.Rows[r-1]) < c {
		g.Rows[r-1] = append(g.Rows[r-1], Field{})
	}
	if f := &g.Rows[r-1][c-1]; f.Text == "" {
		f.Fault = "a formula without its value: open the workbook in its program and save it"
	}
}

// mostUnvalued are so many formulas without value that the sheet is not worth reading.
const mostUnvalued = 2000

// formulasWithoutValue are the places of formulas that no program has worked out, in all
// sheets.
func formulasWithoutValue(data []byte) (at []string, err error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("the workbook is broken (%w): %s", err, saveAs)
	}
	left := int64(mostUnzip)
	for _, f := range z.File {
		if left -= int64(f.UncompressedSize64); left < 0 || f.UncompressedSize64 > mostUnzip {
			return nil, errTooMuch
		}
		if !strings.HasPrefix(f.Name, "xl/worksheets/") || !strings.HasSuffix(f.Name, ".xml") {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return nil, fmt.Errorf("the workbook is broken (%w): %s", err, saveAs)
		}
		at = unvaluedIn(io.LimitReader(r, mostUnzip), at)
		r.Close()
	}
	if len(at) > mostUnvalued {
		return nil, fmt.Errorf("%d formulas without their values: open the workbook in its program and save it", len(at))
	}
	return at, nil
}

func unvaluedIn(r io.Reader, at []string) []string {
	d := xml.NewDecoder(r)
	cell, formula, value, inside := "", false, false, false
	for {
		token, err := d.RawToken()
		if err != nil {
			return at // what is broken is told by who reads the values
		}
		switch t := token.(type) {
		case xml.StartElement:
			switch t.Name.Local {
			case "c":
				cell, formula, value = "", false, false
				for _, a := range t.Attr {
					if a.Name.Local == "r" {
						cell = a.Value
					}
				}
			case "f":
				formula = true
			case "v", "is":
				inside = true
			}
		case xml.CharData:
			value = value || inside && len(bytes.TrimSpace(t)) > 0
		case xml.EndElement:
			if t.Name.Local == "v" || t.Name.Local == "is" {
				inside = false
			}
			if t.Name.Local == "c" && formula && !value {
				at = append(at, cell)
			}
		}
	}
}
