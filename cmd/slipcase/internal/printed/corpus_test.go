package printed

import (
	"cmp"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// slipTruth is what is truly on a slip of testdata/printed, as make.py there wrote it.
type slipTruth struct {
	File  string             `json:"file"`
	Lane  string             `json:"lane"`
	Own   map[string]float64 `json:"own"`
	Other map[string]float64 `json:"other"`
}

const corpus = "../../testdata/printed"

// corpusDir is the corpus, or another that make.py wrote: SLIPCASE_PRINTED=FOLDER.
func corpusDir() string {
	return cmp.Or(os.Getenv("SLIPCASE_PRINTED"), corpus)
}

func truths(t testing.TB) (all []slipTruth) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(corpusDir(), "truth.json"))
	if err == nil {
		err = json.Unmarshal(data, &all)
	}
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestSlipTexts: of 40 texts in ten layouts, the clean ones are read whole, of the figures of
// the misread ones 95 in 100 are right, and none that is not in doubt is wrong.
func TestSlipTexts(t *testing.T) {
	right, of := 0, 0
	all := truths(t)
	if len(all) < 40 {
		t.Fatalf("%d texts", len(all))
	}
	for _, w := range all {
		text, err := os.ReadFile(filepath.Join(corpusDir(), w.File))
		if err != nil {
			t.Fatal(err)
		}
		s, err := Read(string(text))
		if err != nil {
			t.Errorf("%s: %v", w.File, err)
			continue
		}
		clean := strings.HasSuffix(w.File, "-0.txt")
		for side, want := range map[string]map[string]float64{w.Lane: w.Own, other(w.Lane): w.Other} {
			if want == nil {
				continue
			}
			got := map[string]*Figure{}
			for i := range s.Lanes {
				if s.Lanes[i].Side == side || len(s.Lanes) == 1 {
					got = named(&s.Lanes[i])
				}
			}
			for key, v := range want {
				f := got[key]
				switch {
				case f == nil:
					t.Errorf("%s: no %s lane", w.File, side)
					f = &Figure{}
				case f.How != Plain && f.How != Mended:
					t.Logf("%s: %s lane %s %v %q, in truth %v", w.File, side, key, f.How, f.Text, v)
				case f.Value != v:
					t.Errorf("%s: %s lane %s is %v, not %v (%q)", w.File, side, key, f.Value, v, f.Text)
				}
				sure := (f.How == Plain || f.How == Mended) && f.Value == v
				if clean && !sure {
					t.Errorf("%s: %s lane %s %v is in doubt: %v", w.File, side, key, v, *f)
				}
				if !clean {
					if of++; sure {
						right++
					}
				}
			}
			for key, f := range got {
				if _, told := want[key]; !told && f.How != Absent && f.How != Doubtful {
					t.Errorf("%s: %s lane %s %v, which the slip has not", w.File, side, key, *f)
				}
			}
		}
	}
	t.Logf("%d of %d figures right", right, of)
	if right*100 < of*95 {
		t.Errorf("%d of %d figures right: want 95 in 100", right, of)
	}
}

// named are the figures of a lane by the words of the log.
func named(l *Lane) map[string]*Figure {
	return map[string]*Figure{
		"reaction_s": &l.Reaction, "dial_s": &l.Dial, "index_s": &l.Index, "et_60_s": &l.ETs[0], "et_330_s": &l.ETs[1], "et_660_s": &l.ETs[2],
		"et_1000_s": &l.ETs[3], "et_1320_s": &l.ETs[4], "mph_660": &l.MPHs[2], "mph_1000": &l.MPHs[3], "mph_1320": &l.MPHs[4],
	}
}
