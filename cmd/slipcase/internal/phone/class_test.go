package phone

import (
	"net/http"
	"strings"
	"testing"
)

// TestClassOfTheDay: what the page is set to holds for its dials; an index that nobody has said
// is asked for.
func TestClassOfTheDay(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	for use, want := range map[string]string{
		"class=index&index=13.50": "index, ", "class=index": "a class by index wants it", "class=": "dead on", "class=heads-up": "next",
	} {
		if status, body := h.get("/?vehicle=heron&track=saltgrass&" + use); status != http.StatusOK || !strings.Contains(body, want) {
			t.Errorf("%s: %d, no %q", use, status, want)
		}
	}
}
