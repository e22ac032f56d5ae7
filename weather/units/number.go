package units

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Number is a quantity that may be absent: an empty cell, a split the timer did
// not print. The zero Number is absent, never a zero measured. Its unit stands
// in the name of the field that holds it.
//
// It takes eight bytes, since a log of 100,000 slips holds some two million of them.
type Number struct{ bits uint64 } // of the value xor absent, so that the zero Number is absent

// absent is a NaN that no arithmetic makes: its payload is no processor's.
const absent = 0x7ff8_0000_5c1b_ca5e

// Some returns a known Number.
func Some(v float64) Number {
	return Number{math.Float64bits(v+0) ^ absent} // -0 becomes 0, which == takes for the same
}

// Known reports whether there is a value.
func (n Number) Known() bool { return n.bits != 0 }

// Value returns the value, or 0 when absent: ask Known first.
func (n Number) Value() float64 { return n.Or(0) }

// Or returns the value, or other when absent.
func (n Number) Or(other float64) float64 {
	if n.Known() {
		return math.Float64frombits(n.bits ^ absent)
	}
	return other
}

// IsZero reports absence, so that `json:",omitzero"` leaves an absent number out.
func (n Number) IsZero() bool { return !n.Known() }

// Equal makes two absent numbers equal and two known ones equal by value.
func (n Number) Equal(m Number) bool { return n == m }

// String gives the shortest text that reads back as the same value; "" when absent.
func (n Number) String() string {
	if !n.Known() {
		return ""
	}
	return strconv.FormatFloat(n.Value(), 'f', -1, 64)
}

// MarshalJSON writes a number, or null when absent.
func (n Number) MarshalJSON() ([]byte, error) {
	if !n.Known() {
		return []byte("null"), nil
	}
	return json.Marshal(n.Value())
}

// UnmarshalJSON reads a number or null.
func (n *Number) UnmarshalJSON(b []byte) error {
	if bytes.Equal(b, []byte("null")) {
		*n = Number{}
		return nil
	}
	var v float64
	if err := json.Unmarshal(b, &v); err != nil {
		return err
	}
	*n = Some(v)
	return nil
}

// MarshalCSV writes the shortest exact text; an absent number is an empty cell.
func (n Number) MarshalCSV() (string, error) { return n.String(), nil }

// UnmarshalCSV reads a cell: empty is absent, anything but a plain finite number
// with a decimal point is an error, never a zero.
func (n *Number) UnmarshalCSV(cell string) error {
	cell = strings.TrimSpace(cell)
	if cell == "" {
		*n = Number{}
		return nil
	}
	v, err := plainNumber(cell)
	if err != nil {
		return err
	}
	*n = Some(v)
	return nil
}

func oddInNumber(r rune) bool { return (r < '0' || r > '9') && !strings.ContainsRune("+-.eE", r) }

// plainNumber reads digits with an optional sign, point and exponent. The forms
// that only strconv knows (hex, underscores, inf, nan) are no numbers to a racer.
func plainNumber(s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	if err == nil && !strings.ContainsFunc(s, oddInNumber) {
		return v, nil
	}
	if errors.Is(err, strconv.ErrRange) {
		return 0, fmt.Errorf("%q is too large", shorten(s))
	}
	return 0, fmt.Errorf("%q is not a number: want digits with a decimal point", shorten(s))
}
