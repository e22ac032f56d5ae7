package printed

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// tookFor are the characters that a phone makes of a digit, as the makers of the corpora have it.
var tookFor = map[byte]string{
	'0': "O8D6", '1': "l7I4", '2': "Z7", '3': "85", '4': "A91", '5': "S63", '6': "Gb580", '7': "1T2", '8': "B306", '9': "g4q0",
}

// misreadText is a text with one thing done to one of its figures.
type misreadText struct{ text, how string }

var printedFigure = regexp.MustCompile(`[-+]?\d*\.\d{2,4}`)

// misreadings does to each figure of a text all that a phone may: a character taken for another,
// or dropped, the point lost, doubled or moved, the figure lost, or exchanged with the next.
func misreadings(text string) (all []misreadText) {
	at := printedFigure.FindAllStringIndex(text, -1)
	for k, w := range at {
		fig := text[w[0]:w[1]]
		put := func(by string) {
			all = append(all, misreadText{text[:w[0]] + by + text[w[1]:], fig + " as " + by})
		}
		for i := range len(fig) {
			before, after := fig[:i], fig[i+1:]
			put(before + after)
			if fig[i] == '.' {
				put(before + ".." + after)
				put(before + "," + after)
				put(before + after[:1] + "." + after[1:])
				if i > 0 {
					put(fig[:i-1] + "." + fig[i-1:i] + after)
				}
			}
			for _, c := range tookFor[fig[i]] {
				put(before + string(c) + after)
			}
		}
		put("")
		if k+1 < len(at) {
			next := at[k+1]
			all = append(all, misreadText{
				text[:w[0]] + text[next[0]:next[1]] + text[w[1]:next[0]] + fig + text[next[1]:], fig + " exchanged",
			})
		}
	}
	return all
}

// glaring reports a wrong figure that a racer sees at once: what one digit more or less does that is
// not among a figure's last. Less than that another run might have been, and no reader can tell.
func glaring(key string, v, truth float64) bool {
	share := math.Abs(v-truth) / math.Abs(truth)
	switch {
	case truth == 0 && key != "reaction_s":
		return true // the slip has none
	case key == "reaction_s":
		return math.Abs(v-truth) > 0.61
	case key == "et_60_s":
		return share > 0.1
	case strings.HasPrefix(key, "et_"):
		return share > 0.03
	case strings.HasPrefix(key, "mph_"):
		return share > 0.15
	case key == "index_s":
		return math.Abs(v-truth) > 1 // a slow car runs far over its index
	}
	return math.Abs(v-truth) > 0.61
}

// cleanTexts are the clean slips of both corpora; of other folders in their manner with SLIPCASE_CLEAN_SLIPS.
func cleanTexts(t *testing.T) (paths []string) {
	folders := append(
		[]string{corpus, "../../testdata/printed2"},
		filepath.SplitList(os.Getenv("SLIPCASE_CLEAN_SLIPS"))...)
	for _, dir := range folders {
		all, err := filepath.Glob(filepath.Join(dir, "*.txt"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range all {
			truth, _ := os.ReadFile(strings.TrimSuffix(path, ".txt") + ".truth.json")
			if strings.HasSuffix(path, "-0.txt") || strings.Contains(string(truth), `"grade": "clean"`) {
				paths = append(paths, path)
			}
		}
	}
	return paths
}

// TestMisreadFigures: whatever a phone makes of one figure of a clean slip, no figure that is not
// in doubt is glaringly wrong, and few others are in doubt for it.
func TestMisreadFigures(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the full run")
	}
	every := 48 // of the misreadings
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		every = 1
	}
	n, tried, kept, of, near := 0, 0, 0, 0, 0
	for _, path := range cleanTexts(t) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		clean, err := Read(string(text))
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		want := sureFigures(clean)
		for _, m := range misreadings(string(text)) {
			if n++; n%every != 0 {
				continue
			}
			tried++
			s, err := Read(m.text)
			if err != nil || len(s.Lanes) != len(clean.Lanes) {
				t.Errorf("%s: %s: %d lanes, %v", path, m.how, len(s.Lanes), err)
				continue
			}
			of += len(want)
			for at, v := range sureFigures(s) {
				switch _, key, _ := strings.Cut(at, " "); {
				case v == want[at]:
					kept++
				case glaring(key, v, want[at]):
					t.Errorf("%s: %s: %s is %v, not %v", path, m.how, at, v, want[at])
				default:
					near++
				}
			}
		}
	}
	t.Logf("%d misreadings: %d of %d figures kept, %d near what was printed taken for it", tried, kept, of, near)
	if tried < 50 || kept*100 < of*92 {
		t.Errorf("of %d misreadings %d of %d figures kept: want 92 in 100", tried, kept, of)
	}
}

// sureFigures are the figures of a slip that are recorded unasked, by lane and column.
func sureFigures(s Slip) map[string]float64 {
	sure := map[string]float64{}
	for i := range s.Lanes {
		for key, f := range named(&s.Lanes[i]) {
			if f.sure() {
				sure[fmt.Sprint(i, " ", key)] = f.Value
			}
		}
	}
	return sure
}

// TestSums: what a slip works out from its figures bears them out to the digit, or speaks against them.
func TestSums(t *testing.T) {
	const run = "R/T .042\n60' 1.912\n330 5.437\n1/8 8.412 83.77\n1000 10.980\n1/4 %s 105.84\nDIAL 13.20\n"
	for text, doubtful := range map[string]bool{
		fmt.Sprintf(run, "13.212"):                    false,
		fmt.Sprintf(run, "13.212") + "OVER .012\n":    false,
		fmt.Sprintf(run, "13.217") + "OVER .012\n":    true,
		fmt.Sprintf(run, "13.2l2") + "O/U +.012\n":    false,
		fmt.Sprintf(run, "13.212") + "PACKAGE .054\n": false,
		fmt.Sprintf(run, "13.272") + "PACKAGE .054\n": true,
		fmt.Sprintf(run, "13.812"):                    true,
		fmt.Sprintf(run, "73.212"):                    true,
	} {
		s, err := Read(text)
		if err != nil {
			t.Fatal(err)
		}
		if l := s.Lanes[0]; slices.Contains([]How{Doubtful, Absent}, l.ETs[4].How) != doubtful {
			t.Errorf("%q: %+v, in doubt: want %t", text, l.ETs[4], doubtful)
		}
	}
}
