package logbook

import (
	"crypto/rand"
	"encoding/base32"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Status says whether an entry stands.
type Status string

// The two statuses; the newest revision's counts.
const (
	Fact Status = "fact"
	Void Status = "void"
)

// Entry opens every row of every file.
type Entry struct {
	ID         string `csv:"id"          json:"id"`
	Rev        int    `csv:"rev"         json:"rev"` // 1 when first recorded, one more with each amendment
	Status     Status `csv:"status"      json:"status"          oneof:"fact void"`
	RecordedAt Time   `csv:"recorded_at" json:"recorded_at"`
	Forced     string `csv:"forced"      json:"forced,omitzero"` // why it looked wrong, when it was recorded all the same
}

func (e *Entry) entry() *Entry { return e }

// Record is a row of the logbook: a Vehicle, Track, Setup, Reading or Slip.
type Record interface{ entry() *Entry }

// Time is a moment with its zone; the zero Time is an empty cell.
type Time struct{ time.Time }

// stampLayout is RFC 3339 with as much of the second as there is.
const stampLayout = "2006-01-02T15:04:05.999999Z07:00"

// MarshalCSV writes RFC 3339 with the offset.
func (t Time) MarshalCSV() (string, error) {
	if t.IsZero() {
		return "", nil
	}
	return t.Format(stampLayout), nil
}

// UnmarshalCSV reads RFC 3339; an empty cell is the zero Time.
func (t *Time) UnmarshalCSV(cell string) error {
	if cell == "" {
		*t = Time{}
		return nil
	}
	v, err := time.Parse(time.RFC3339, strings.TrimSpace(cell))
	if err != nil {
		return fmt.Errorf("%q is not a time with its offset", cell)
	}
	*t = Time{v}
	return nil
}

// MarshalJSON writes what MarshalCSV writes.
func (t Time) MarshalJSON() ([]byte, error) {
	s, err := t.MarshalCSV()
	if err != nil {
		return nil, err
	}
	return json.Marshal(s)
}

// UnmarshalJSON reads what MarshalJSON writes.
func (t *Time) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return err
	}
	return t.UnmarshalCSV(s)
}

// NewID makes an id: a letter for the kind of entry and nine random characters
// of lower-case base32, 45 bits.
func NewID(kind byte) string {
	var b [6]byte
	rand.Read(b[:])
	return string(kind) + strings.ToLower(base32.StdEncoding.EncodeToString(b[:]))[:9]
}

// ErrNumber is wrapped when a name reads as a number or a date, which spreadsheets
// rewrite and a slip typed on a line takes for a time.
var ErrNumber = errors.New("it reads as a number, which spreadsheets rewrite: put a letter to it")

// readsAsNumber reports whether other programs take a name for a number or a date.
func readsAsNumber(name string) bool {
	_, err := strconv.ParseFloat(name, 64)
	return err == nil || name != "" && strings.Trim(name, "0123456789-") == ""
}

// checkNew refuses a name that an older logbook may have, but a new entry may not.
func checkNew(what, name string) error {
	if readsAsNumber(name) {
		return fmt.Errorf("%s name %q: %w", what, name, ErrNumber)
	}
	return nil
}

// ErrLetters is wrapped when a name has other characters than a name may have.
var ErrLetters = errors.New("use letters, digits and dash")

// CheckName refuses a name of a vehicle or track that could not be typed at a
// prompt or would not survive a spreadsheet.
func CheckName(what, name string) error {
	for _, r := range name {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-') {
			return fmt.Errorf("%s name %q: %w", what, clip(name), ErrLetters)
		}
	}
	if _, keyword := lastRef(name); keyword {
		return fmt.Errorf("%s name %q: that means the last one recorded, take another name", what, name)
	}
	if name == "" || len(name) > 40 || name[0] == '-' {
		return fmt.Errorf("%s name %q: want 1 to 40 letters, digits and dashes, not starting with a dash", what, clip(name))
	}
	return nil
}
