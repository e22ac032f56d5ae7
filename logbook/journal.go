package logbook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"os"
)

const journalFile = "journal.jsonl"

// journalLine is one row as it was recorded, kept beside the CSV so that what a
// spreadsheet or a crash took away can be named and brought back.
type journalLine struct {
	File string          `json:"file"`
	Row  json.RawMessage `json:"row"` // column -> text, empty cells left out
	CRC  string          `json:"crc"` // CRC-32 (IEEE) of the bytes of row
}

// journalEntry is a line of the journal read back.
type journalEntry struct {
	file string
	row  map[string]string
}

func newJournalLine(file string, row map[string]string) ([]byte, error) {
	raw, err := json.Marshal(row)
	if err != nil {
		return nil, err
	}
	line, err := json.Marshal(journalLine{file, raw, crcOf(raw)})
	return append(line, '\n'), err
}

func crcOf(b []byte) string { return fmt.Sprintf("%08x", crc32.ChecksumIEEE(b)) }

// readJournal reads all whole lines; a damaged one is a problem, not the end.
func (lb *Logbook) readJournal() (entries []journalEntry, problems []Problem, err error) {
	data, _, err := readFile(lb.fs, lb.path(journalFile))
	if err != nil {
		return nil, nil, err
	}
	for n := 1; len(data) > 0; n++ {
		line, rest, ended := bytes.Cut(data, []byte("\n"))
		data = rest
		var l journalLine
		var row map[string]string
		switch {
		case !ended:
			problems = append(problems, Problem{File: journalFile, Line: n, What: "the last line is torn", Torn: true})
		case json.Unmarshal(line, &l) != nil || json.Unmarshal(l.Row, &row) != nil || l.CRC != crcOf(l.Row):
			problems = append(problems, Problem{File: journalFile, Line: n, What: "the line is damaged and says nothing sure"})
		default:
			entries = append(entries, journalEntry{l.File, row})
		}
	}
	return entries, problems, nil
}

// journalTail tells the size of the journal and where its last whole line ends.
func journalTail(f file) (size, whole int64, err error) {
	info, err := f.Stat()
	if err != nil {
		return 0, 0, err
	}
	size = info.Size()
	buf := make([]byte, 64<<10)
	for end := size; end > 0; {
		start := max(0, end-int64(len(buf)))
		if _, err := f.Seek(start, 0); err != nil {
			return 0, 0, err
		}
		chunk := buf[:end-start]
		if _, err := readFull(f, chunk); err != nil {
			return 0, 0, err
		}
		if i := bytes.LastIndexByte(chunk, '\n'); i >= 0 {
			return size, start + int64(i) + 1, nil
		}
		end = start
	}
	return size, 0, nil
}

// contradicts reports whether the journal holds other contents for the same
// entry and revision: then an unterminated row is torn, not hand-made.
func (lb *Logbook) contradicts(c *content, r rowRef) (bool, error) {
	entries, _, err := lb.readJournal()
	if err != nil && !os.IsNotExist(err) {
		return false, err
	}
	row := c.plain(r)
	for _, e := range entries {
		if e.file == c.name && e.row["id"] == r.id && e.row["rev"] == fmt.Sprint(r.rev) && !c.same(row, e.row) {
			return true, nil
		}
	}
	return false, nil
}

// same compares a row of the file with one of the journal by their columns.
func (c *content) same(row []string, journal map[string]string) bool {
	for name, i := range c.at {
		if row[i] != journal[name] {
			return false
		}
	}
	for name, text := range journal {
		if _, there := c.at[name]; !there && text != "" {
			return false
		}
	}
	return true
}
