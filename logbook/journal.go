package logbook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"io"
	"maps"
	"strconv"
	"strings"
)

const journalFile = "journal.jsonl"

// journalLine is one row as it was recorded, kept beside the CSV so that what a
// spreadsheet or a crash took away can be named and brought back.
type journalLine struct {
	File string          `json:"file"`
	Row  json.RawMessage `json:"row"` // texts
	CRC  string          `json:"crc"` // CRC-32 (IEEE) of the bytes of row
}

// journalEntry is a line of the journal read back; its row stays as bytes until
// it is asked for, since a journal is longer than the log.
type journalEntry struct {
	line int
	file string
	id   string
	rev  int
	row  json.RawMessage
}

func newJournalLine(file string, row texts) ([]byte, error) {
	raw := row.json()
	line, err := json.Marshal(journalLine{file, raw, crcOf(raw)})
	return append(line, '\n'), err
}

func crcOf(b []byte) string { return fmt.Sprintf("%08x", crc32.ChecksumIEEE(b)) }

func (lb *Logbook) readJournal() (entries []journalEntry, problems []Problem, err error) {
	data, _, err := readOrAbsent(lb.fs, lb.path(journalFile))
	if err != nil {
		return nil, nil, fmt.Errorf("reading the journal: %w", err)
	}
	entries, problems = parseJournal(data)
	return entries, problems, nil
}

// parseJournal reads all whole lines; a damaged one is a problem, not the end.
func parseJournal(data []byte) (entries []journalEntry, problems []Problem) {
	for n := 1; len(data) > 0; n++ {
		line, rest, ended := bytes.Cut(data, []byte("\n"))
		data = rest
		e, ok := readJournalLine(line)
		e.line = n
		switch {
		case !ended:
			problems = append(problems, Problem{File: journalFile, Line: n, What: "the last line is torn", Torn: true})
		case !ok:
			problems = append(problems, Problem{File: journalFile, Line: n, What: "the line is damaged and says nothing sure"})
		default:
			entries = append(entries, e)
		}
	}
	return entries, problems
}

func readJournalLine(line []byte) (journalEntry, bool) {
	var l journalLine
	var key struct{ ID, Rev string }
	if json.Unmarshal(line, &l) != nil || l.CRC != crcOf(l.Row) || json.Unmarshal(l.Row, &key) != nil {
		return journalEntry{}, false
	}
	rev, err := strconv.Atoi(key.Rev)
	return journalEntry{file: l.File, id: key.ID, rev: rev, row: l.Row}, err == nil && key.ID != "" && rev > 0
}

// texts are the columns of the row; none when a foreign hand wrote other JSON.
func (e journalEntry) texts() texts {
	var t texts
	if json.Unmarshal(e.row, &t) != nil {
		return nil
	}
	return t
}

// lineTail tells the size of a file and where its last whole line ends.
func lineTail(f file) (size, whole int64, err error) {
	info, err := f.Stat()
	if err != nil {
		return 0, 0, err
	}
	size = info.Size()
	buf := make([]byte, 64<<10)
	for end := size; end > 0; {
		start := max(0, end-int64(len(buf)))
		if _, err := f.Seek(start, io.SeekStart); err != nil {
			return 0, 0, err
		}
		chunk := buf[:end-start]
		if _, err := io.ReadFull(f, chunk); err != nil {
			return 0, 0, err
		}
		if i := bytes.LastIndexByte(chunk, '\n'); i >= 0 {
			return size, start + int64(i) + 1, nil
		}
		end = start
	}
	return size, 0, nil
}

// cutShort reports whether the journal has a row that goes on where the last one of
// a file, without its line end, stops: then it is torn and not hand-made.
func cutShort(c *content, r rowRef, journal []journalEntry) bool {
	have := c.texts(r)
	last := c.header[len(c.header)-1]
	for _, e := range journal {
		if e.file != c.name {
			continue
		}
		was := e.texts()
		maps.DeleteFunc(was, func(name, _ string) bool { _, there := c.at[name]; return !there }) // a column cut out
		if have[last] == was[last] || !strings.HasPrefix(was[last], have[last]) {
			continue
		}
		whole := maps.Clone(have)
		whole[last] = was[last]
		if len(c.schema.diff(whole, was)) == 0 {
			return true
		}
	}
	return false
}
