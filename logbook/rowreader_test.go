package logbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"math/rand/v2"
	"slices"
	"testing"
)

// The rows of a file come as encoding/csv alone gives them, those without quotes too, which
// it does not see.
func TestRowsReadAsCSV(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	const letters = "ab,,,;\"\"\r\n\n é"
	for range 100_000 / widerInShort(10) {
		data := make([]byte, 1+r.IntN(24))
		for i := range data {
			data[i] = letters[r.IntN(len(letters))]
		}
		comma := ','
		if r.IntN(4) == 0 {
			comma = ';'
		}
		rows := newRowReader(data, comma)
		for pos := rows.skipBlank(0); pos < len(data); {
			alone := csv.NewReader(bytes.NewReader(data[pos:]))
			alone.Comma, alone.FieldsPerRecord = comma, -1
			want, wantErr := alone.Read()
			got, end, err := rows.read(pos)
			if (err == nil) != (wantErr == nil) || err == nil && !slices.Equal(got, want) {
				t.Fatalf("%q from %d: %q, %v; alone %q, %v", data, pos, got, err, want, wantErr)
			}
			if wantEnd := pos + int(alone.InputOffset()); end != wantEnd {
				t.Fatalf("%q from %d: to %d, alone to %d", data, pos, end, wantEnd)
			}
			if errors.Is(err, io.EOF) {
				break
			}
			pos = rows.skipBlank(end)
		}
	}
}
