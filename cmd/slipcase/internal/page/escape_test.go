package page

import (
	"bytes"
	"encoding/json"
	"testing"
	"unicode"
)

// TestJSONSteersNoTerminal: what encoding/json reads back is what was written, and no
// control or formatting character stands raw.
func TestJSONSteersNoTerminal(t *testing.T) {
	want := map[string]string{"notes": "a\u009b31mred\u007f \u202eback\u2066\u200f \U000e0041 \x1b[2J tab\t line\n é 漢"}
	var out bytes.Buffer
	if err := writeJSON(&out, want); err != nil {
		t.Fatal(err)
	}
	for _, r := range out.String() {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
			t.Errorf("%U stands raw", r)
		}
	}
	var got map[string]string
	if err := json.Unmarshal(out.Bytes(), &got); err != nil || got["notes"] != want["notes"] {
		t.Errorf("read back as %q, %v", got["notes"], err)
	}
}
