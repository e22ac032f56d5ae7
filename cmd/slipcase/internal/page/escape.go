package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode"
)

// writeJSON writes a value as JSON in which every control and formatting character, also
// those of C1, DEL and the bidirectional ones that encoding/json lets stand, is escaped:
// it says the same, and steers no terminal. Such characters stand in strings alone.
func writeJSON(w io.Writer, value any) error {
	var plain bytes.Buffer
	enc := json.NewEncoder(&plain)
	enc.SetIndent("", "  ")
	if err := enc.Encode(value); err != nil {
		return err
	}
	var out bytes.Buffer
	for _, r := range plain.String() {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
			if r > 0xffff {
				high, low := surrogates(r)
				fmt.Fprintf(&out, `\u%04x\u%04x`, high, low)
				continue
			}
			fmt.Fprintf(&out, `\u%04x`, r)
			continue
		}
		out.WriteRune(r)
	}
	_, err := w.Write(out.Bytes())
	return err
}

// surrogates are a character beyond the basic plane as JSON escapes it (RFC 8259, 7).
func surrogates(r rune) (high, low rune) {
	r -= 0x10000
	return 0xd800 + r>>10, 0xdc00 + r&0x3ff
}
