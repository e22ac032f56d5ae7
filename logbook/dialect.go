package logbook

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
)

// dialect is the manner of a CSV file, which spreadsheets change when they
// save; what we append follows it.
type dialect struct {
	comma        rune
	crlf         bool
	bom          bool
	decimalComma bool
	pointed      bool // its numbers have points all the same
}

var bom = []byte("\xef\xbb\xbf")

// dialectOf reads the manner from the header line.
func dialectOf(data []byte) dialect {
	d := dialect{comma: ',', bom: bytes.HasPrefix(data, bom)}
	header, _, _ := bytes.Cut(bytes.TrimPrefix(data, bom), []byte("\n"))
	d.crlf = bytes.HasSuffix(header, []byte("\r"))
	for _, c := range []byte{';', '\t'} {
		if bytes.Count(header, []byte{c}) > bytes.Count(header, []byte{byte(d.comma)}) {
			d.comma = rune(c)
		}
	}
	// A spreadsheet parts cells by semicolons where the comma is the decimal mark.
	d.decimalComma = d.comma == ';'
	return d
}

// line writes one row in the dialect, with its line end.
func (d dialect) line(row []string) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma, w.UseCRLF = d.comma, d.crlf
	if err := w.Write(row); err != nil {
		return nil, err
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// toPoint and fromPoint change the decimal mark of a number's cell.
func (d dialect) toPoint(cell string) string {
	if d.decimalComma && strings.Count(cell, ",") == 1 && !strings.Contains(cell, ".") {
		return strings.Replace(cell, ",", ".", 1)
	}
	return cell
}

func (d dialect) fromPoint(cell string) string {
	if d.decimalComma && !d.pointed && strings.Count(cell, ".") == 1 && !strings.Contains(cell, ",") {
		return strings.Replace(cell, ".", ",", 1)
	}
	return cell
}

// missingEnd is what the last line lacks of its line end.
func (c *content) missingEnd() []byte {
	kept := c.data
	if c.torn() {
		kept = kept[:c.whole]
	}
	if c.dialect.crlf && kept[len(kept)-1] != '\r' {
		return []byte("\r\n")
	}
	return []byte("\n")
}

// dialectToWrite is the dialect with the decimal mark that the numbers of the
// file have: not every program that parts cells by semicolons writes commas.
func (c *content) dialectToWrite() dialect {
	d := c.dialect
	if !d.decimalComma {
		return d
	}
	for _, r := range slices.Backward(c.rows) {
		row := c.cells(r)
		for _, col := range c.schema.columns {
			i, there := c.at[col.name]
			switch {
			case !there || !col.number:
			case strings.Contains(row[i], ","):
				return d
			case strings.Contains(row[i], "."):
				d.pointed = true
				return d
			}
		}
	}
	return d
}
