package logbook

import (
	"bytes"
	"encoding/binary"
	"unicode/utf16"
)

// translated gives a file that another program has saved in another alphabet or with
// other line ends as we would have it. The next writer puts that in its place, and keeps
// the file as it was beside.
func translated(data []byte) (plain []byte, foreign bool) {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		data, foreign = fromUTF16(data[2:], binary.LittleEndian), true
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		data, foreign = fromUTF16(data[2:], binary.BigEndian), true
	}
	if bytes.IndexByte(data, '\r') >= 0 && bytes.IndexByte(data, '\n') < 0 {
		data, foreign = bytes.ReplaceAll(data, []byte("\r"), []byte("\n")), true
	}
	return data, foreign
}

// fromUTF16 reads pairs of bytes; half of one at the end becomes a NUL, as a torn end is.
func fromUTF16(data []byte, order binary.ByteOrder) []byte {
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	plain := []byte(string(utf16.Decode(units)))
	if len(data)%2 == 1 {
		plain = append(plain, 0)
	}
	return plain
}
