package logbook

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"unsafe"
)

// rowReader parses a file row by row and can begin anew anywhere in it. Its parser is
// made once: its lists of cells would else grow again behind each damaged line.
type rowReader struct {
	data    []byte
	buffer  *bufio.Reader
	parser  *csv.Reader
	end     int // how far a row may go
	next    int // where the parser stands in data, -1 when it must begin anew
	cells   []string
	line    int // of the place counted
	counted int
}

func newRowReader(data []byte, comma rune) *rowReader {
	buffer := bufio.NewReader(nil)
	parser := csv.NewReader(buffer)
	parser.Comma, parser.ReuseRecord, parser.FieldsPerRecord = comma, true, -1
	return &rowReader{data: data, buffer: buffer, parser: parser, end: len(data), next: -1, line: 1}
}

// limit tells how far a row may go from here on.
func (rr *rowReader) limit(end int) { rr.end, rr.next = end, -1 }

// skipBlank goes from pos to where the next row begins, and counts its line.
func (rr *rowReader) skipBlank(pos int) int {
	pos = skipBlank(rr.data, pos)
	rr.line += bytes.Count(rr.data[rr.counted:pos], []byte("\n"))
	rr.counted = pos
	return pos
}

// read parses the row at pos. Its cells are good until the next call.
func (rr *rowReader) read(pos int) (rec []string, end int, err error) {
	if end, ok := rr.plain(pos); ok {
		return rr.cells, end, nil
	}
	if rr.next != pos {
		rr.buffer.Reset(bytes.NewReader(rr.data[pos:rr.end]))
	}
	before := rr.parser.InputOffset()
	rec, err = rr.parser.Read()
	rr.next = pos + int(rr.parser.InputOffset()-before)
	return rec, rr.next, err
}

// plain parts the row at pos into cells where it is a line without quotes and of no more cells
// than are read, as nearly all are: what encoding/csv gives, in a quarter of the time. The
// cells are looked at where they lie: nothing that was read is ever written to.
func (rr *rowReader) plain(pos int) (end int, ok bool) {
	n := bytes.IndexByte(rr.data[pos:rr.end], '\n')
	if n < 0 {
		return 0, false
	}
	line := rr.data[pos : pos+n]
	if bytes.IndexByte(line, '"') >= 0 {
		return 0, false
	}
	line = bytes.TrimSuffix(line, []byte{'\r'})
	if len(line) == 0 {
		return 0, false
	}
	row := unsafe.String(&line[0], len(line))
	comma, from, cells := byte(rr.parser.Comma), 0, rr.cells[:0]
	for i := range len(row) {
		if row[i] == comma {
			cells = append(cells, row[from:i])
			if from = i + 1; len(cells) == maxColumns {
				return 0, false
			}
		}
	}
	rr.cells = append(cells, row[from:])
	return pos + n + 1, true
}

// loose parses the damaged line [start,end) well enough to find the id in it, and no
// farther than a row may go.
func (rr *rowReader) loose(start, end int) []string {
	const far = 1 << 18 // a tail of NULs can be longer than all memory has room for
	line := bytes.TrimRight(rr.data[start:min(end, start+far)], "\r\n")
	cells := 0
	if i := bytes.IndexFunc(line, func(r rune) bool {
		if r == rr.parser.Comma {
			cells++
		}
		return cells == maxColumns
	}); i >= 0 {
		line = line[:i]
	}
	rr.next = -1
	rr.buffer.Reset(bytes.NewReader(line))
	rr.parser.LazyQuotes = true
	rec, err := rr.parser.Read()
	rr.parser.LazyQuotes = false
	if err != nil {
		return nil
	}
	return rec
}

func skipBlank(data []byte, pos int) int {
	for pos < len(data) && (data[pos] == '\n' || data[pos] == '\r') {
		pos++
	}
	return pos
}

func lineEnd(data []byte, start int) int {
	if i := bytes.IndexByte(data[start:], '\n'); i >= 0 {
		return start + i + 1
	}
	return len(data)
}

// countCells tells how many cells the row at the beginning of data has, by the
// separators outside quotes, before it is parsed: an empty cell of one byte takes the
// parser forty.
func countCells(data []byte, comma byte) int {
	line := data[:lineEnd(data, 0)]
	quotes := bytes.Count(line, []byte{'"'})
	if n := bytes.Count(line, []byte{comma}); quotes == 0 || n < maxColumns && quotes%2 == 0 {
		return n + 1
	}
	n, quoted := 1, false
	for _, b := range data {
		switch {
		case b == '"':
			quoted = !quoted
		case quoted:
		case b == '\n':
			return n
		case b == comma:
			n++
		}
	}
	return n
}
