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
	heading      int // where it begins
	decimalComma bool
	pointed      bool // its numbers have points all the same
}

var bom = []byte("\xef\xbb\xbf")

// dialectOf reads the manner from the heading.
func dialectOf(data []byte) dialect {
	d := dialect{bom: bytes.HasPrefix(data, bom)}
	if d.bom {
		d.heading = len(bom)
	}
	d.heading = skipBlank(data, d.heading)
	d.comma = commaOf(lineAt(data, d.heading))
	// A line that tells the separator is for a spreadsheet, one with a title for people.
	if said, ok := separatorLine(lineAt(data, d.heading)); ok {
		d.heading = skipBlank(data, lineEnd(data, d.heading))
		d.comma = said
	} else if at := headingBelow(data, d.heading); at > 0 {
		d.heading, d.comma = at, commaOf(lineAt(data, at))
	}
	d.crlf = bytes.HasSuffix(bytes.TrimSuffix(data[d.heading:lineEnd(data, d.heading)], []byte("\n")), []byte("\r"))
	// A spreadsheet parts cells by semicolons where the comma is the decimal mark.
	d.decimalComma = d.comma == ';'
	return d
}

// lineAt is the line that begins at pos, without its end.
func lineAt(data []byte, pos int) []byte {
	return bytes.TrimRight(data[pos:lineEnd(data, pos)], "\r\n")
}

// commaOf tells what parts the cells of a heading.
func commaOf(heading []byte) rune {
	comma := ','
	for _, c := range []byte{';', '\t'} {
		if bytes.Count(heading, []byte{c}) > bytes.Count(heading, []byte{byte(comma)}) {
			comma = rune(c)
		}
	}
	return comma
}

// separatorLine reads the line "sep=;" that some programs write and read above a heading.
func separatorLine(line []byte) (comma rune, ok bool) {
	said, ok := strings.CutPrefix(strings.ToLower(strings.Trim(string(line[:min(len(line), 8)]), `"`)), "sep=")
	if !ok || len(said) != 1 || !strings.Contains(",;\t|", said) {
		return 0, false
	}
	return rune(said[0]), true
}

// headingBelow finds the heading where the line at pos is none: within the next few
// lines, by the columns that every file has. It is 0 when there is none to be found.
func headingBelow(data []byte, pos int) int {
	const lines = 5
	for n := 0; n <= lines && pos < len(data); n++ {
		line := lineAt(data, pos)
		if len(line) > maxText {
			return 0
		}
		names := strings.Split(string(line), string(commaOf(line)))
		for i, name := range names {
			names[i] = strings.Trim(name, ` "`)
		}
		if slices.Contains(names, "id") && slices.Contains(names, "rev") && slices.Contains(names, "status") {
			return pos
		}
		pos = skipBlank(data, lineEnd(data, pos))
	}
	return 0
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
