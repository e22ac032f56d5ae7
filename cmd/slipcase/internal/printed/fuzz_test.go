package printed

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipcase/logbook"
)

// FuzzRead: any text is a slip or an error; what is not in doubt can be.
func FuzzRead(f *testing.F) {
	for i, w := range truths(f) {
		if testing.Short() && i%5 != 0 { // all are read by the tests of the corpora
			continue
		}
		text, err := os.ReadFile(filepath.Join(corpusDir(), w.File))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Read(text)
		if err != nil {
			return
		}
		if len(s.Lanes) == 0 || len(s.Lanes) > 2 {
			t.Fatalf("%q: %d lanes", text, len(s.Lanes))
		}
		for i, l := range s.Lanes {
			var into logbook.Slip
			s.Fill(&into, i, 0)
			before := 0.
			for m := range Marks {
				if n := l.ETs[m].Number(); n.Known() {
					if !(n.Value() > before) {
						t.Errorf("%q: %v at %g ft after %v", text, n, markFt[m], before)
					}
					before = n.Value()
				}
			}
		}
		if _, err := s.When(time.Date(2026, 5, 2, 18, 0, 0, 0, time.UTC)); err != nil && !s.Dated {
			t.Errorf("%q: %v", text, err)
		}
	})
}

// TestLongTexts: any text within bounds is read in a moment.
func TestLongTexts(t *testing.T) {
	for _, unit := range []string{"1 ", "60' 1.912\n", "1. ", "L 1.9 ", "60 330 660 ", "MPH ", ".", "1.2.3 "} {
		text := strings.Repeat(unit, MostBytes/len(unit))
		start := time.Now()
		_, _ = Read(text)
		if d := time.Since(start); d > 2*time.Second {
			t.Errorf("%d bytes of %q take %v", len(text), unit, d)
		}
	}
}
