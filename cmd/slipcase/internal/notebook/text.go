package notebook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"slipcase/cmd/slipcase/internal/pattern"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// decoded is a text of any of the usual alphabets as UTF-8.
func decoded(data []byte) (string, error) {
	var from encoding.Encoding
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		from = unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM)
	case everyOther(data, 1):
		from = unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)
	case everyOther(data, 0):
		from = unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)
	}
	if from == nil && !utf8.Valid(data) {
		from = charmap.Windows1252
	}
	if from != nil {
		out, err := from.NewDecoder().Bytes(data)
		if err != nil {
			return "", fmt.Errorf("its letters cannot be read: %w", err)
		}
		data = out
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		return "", fmt.Errorf("it is no table: byte %d is 0; want .xlsx or .csv", i+1)
	}
	return string(data), nil
}

// TextOf is the text of a file's bytes, in any of the usual alphabets; what is no text is
// refused by what it is.
func TextOf(data []byte) (string, error) {
	if err := otherThan(data); err != nil {
		return "", err
	}
	return decoded(data)
}

// everyOther reports that most bytes at every other place are 0, as in UTF-16.
func everyOther(data []byte, at int) bool {
	head := data[:min(len(data), 1000)]
	zeros, n := 0, 0
	for i := at; i < len(head); i += 2 {
		n++
		if head[i] == 0 {
			zeros++
		}
	}
	return n > 2 && zeros > n*2/3
}

// readText reads cells apart by commas, semicolons, tabs or bars.
func readText(data []byte) (*Grid, error) {
	text, err := decoded(data)
	if err != nil {
		return nil, err
	}
	comma := separator(text)
	// Quotes in the middle of a cell are inches; one that is never closed is one cell.
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = comma, -1, true
	g := &Grid{}
	last := 0
	for {
		rec, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			var at *csv.ParseError
			if errors.As(err, &at) {
				return nil, fmt.Errorf("line %d: %w", at.Line, at.Err)
			}
			return nil, err
		}
		// Rows keep the number of their line: the reader leaves out those that are blank.
		line, _ := r.FieldPos(0)
		for ; last+1 < line && last+1 < mostRows*2; last++ {
			g.Rows = append(g.Rows, nil)
		}
		last = line
		row := make([]Field, len(rec))
		for i, cell := range rec {
			row[i].Text = strings.TrimSpace(cell)
		}
		g.Rows = append(g.Rows, row)
	}
	g.CommaDecimal = comma != ',' && g.manyCommas()
	return g, nil
}

// bare is the beginning of a text without what stands in quotes: a note has commas and lines
// of its own. Quotes in the middle of a cell are inches.
func bare(text string) string {
	const enough = 1 << 18
	head := text[:min(len(text), enough)]
	var out strings.Builder
	quoted, before := false, '\n'
	for _, r := range head {
		switch {
		case r == '"' && quoted:
			quoted = false
		case r == '"' && strings.ContainsRune("\n\r,;\t|\"", before):
			quoted = true
		case !quoted:
			out.WriteRune(r)
		}
		before = r
	}
	if quoted && len(head) == len(text) {
		return text // one is never closed: all of them are letters
	}
	return out.String()
}

// separator is what stands most evenly between cells.
func separator(text string) rune {
	text = bare(text)
	best, most := ',', 0
	for _, r := range []rune{',', ';', '\t', '|'} {
		counts := map[int]int{}
		lines := 0
		for line := range strings.Lines(text) {
			if n := strings.Count(line, string(r)); n > 0 {
				counts[n]++
			}
			if lines++; lines == 200 {
				break
			}
		}
		even := 0
		for n, of := range counts {
			even = max(even, of*100+min(n, 50))
		}
		if even > most {
			best, most = r, even
		}
	}
	return best
}

var (
	commaNumber = pattern.Of(`^[-+]?\d*,\d+$`)
	pointNumber = pattern.Of(`^[-+]?\d*\.\d+$`)
)

// manyCommas reports numbers with a decimal comma more often than with a point.
func (g *Grid) manyCommas() bool {
	commas, points := 0, 0
	for _, row := range g.Rows {
		for _, f := range row {
			switch {
			case commaNumber.MatchString(f.Text):
				commas++
			case pointNumber.MatchString(f.Text):
				points++
			}
		}
	}
	return commas > points
}
