package printed

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"slipcase/logbook"
)

// secondTruth is what was printed on a slip of testdata/printed2, by makers who had not seen the
// reader.
type secondTruth struct {
	File    string                    `json:"file"`
	Layout  string                    `json:"layout"`
	Grade   string                    `json:"grade"`
	Date    string                    `json:"date"`
	Time    string                    `json:"time"`
	Lanes   map[string]map[string]any `json:"lanes"`
	Ours    string                    `json:"ours"`
	OurCar  string                    `json:"our_car"`
	Misread []string                  `json:"misread"` // another plain digit: the text cannot tell
	Lost    []string                  `json:"lost"`
}

func secondTruths(t testing.TB) (all []secondTruth) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(secondDir(), "*.truth.json"))
	if err != nil || len(paths) < 40 {
		t.Fatalf("%d texts: %v", len(paths), err)
	}
	for _, path := range paths {
		var w secondTruth
		data, err := os.ReadFile(path)
		if err == nil {
			err = json.Unmarshal(data, &w)
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, w)
	}
	return all
}

func secondDir() string { return cmp.Or(os.Getenv("SLIPCASE_SECOND_SLIPS"), "../../testdata/printed2") }

// secondTally counts figures of the slips that are not clean.
type secondTally struct{ of, right, doubtful, wrong, unclean int }

// TestSecondSlipTexts: of 40 texts in ten other layouts the clean ones are read whole, of the figures
// on the others 95 in 100 are right, and none is wrong that is not in doubt. A figure of which the
// text has another plain digit is not counted.
func TestSecondSlipTexts(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the full run")
	}
	var sum secondTally
	for _, w := range secondTruths(t) {
		text, err := os.ReadFile(filepath.Join(secondDir(), w.File))
		if err != nil {
			t.Fatal(err)
		}
		s, err := Read(string(text))
		if err != nil {
			t.Logf("%s: %v", w.File, err) // all its figures count as not read
		}
		was := sum
		for side, want := range w.Lanes {
			w.hold(t, s, side, want, &sum)
		}
		if len(s.Lanes) == 0 {
			continue
		}
		ours, told := s.Ours("", w.OurCar, logbook.Slip{})
		if lane := ""; len(w.Lanes) == 2 && told {
			if lane = s.Lanes[ours].Side; lane != w.Ours && lane != "" {
				t.Errorf("%s: car %s is in the %s lane, not the %s", w.File, w.OurCar, lane, w.Ours)
			}
		} else if !told && w.Grade == "clean" {
			t.Errorf("%s: car %s is not found: %v", w.File, w.OurCar, s.Lanes)
		}
		at, err := s.When(time.Date(2026, 5, 2, 18, 0, 0, 0, time.UTC))
		if w.Grade == "clean" && err == nil && !strings.HasPrefix(at, w.Date) {
			t.Errorf("%s: on %s (%v), in truth %s %s", w.File, at, err, w.Date, w.Time)
		}
		t.Logf(
			"%s %s %s: of %d right %d, doubtful %d",
			w.File,
			w.Grade,
			w.Layout,
			sum.of-was.of,
			sum.right-was.right,
			sum.doubtful-was.doubtful,
		)
	}
	t.Logf("%+v", sum)
	if sum.right*100 < sum.of*95 || sum.wrong > 0 || sum.unclean > 0 {
		t.Errorf("%+v: want 95 in 100 right, none wrong and none of a clean text in doubt", sum)
	}
}

// hold holds what was read of a lane against what is printed of it.
func (w secondTruth) hold(t *testing.T, s Slip, side string, want map[string]any, sum *secondTally) {
	got := map[string]*Figure{}
	for i := range s.Lanes {
		if s.Lanes[i].Side == side || len(s.Lanes) == 1 && len(w.Lanes) == 1 ||
			s.Lanes[i].Side == "" && (i == 0) == (side == "left") {
			got = named(&s.Lanes[i])
		}
	}
	for key, v := range want {
		truth, figure := v.(float64)
		if !figure || key == "perfect_s" || key == "over_under_s" ||
			slices.Contains(w.Misread, side+"."+key) || slices.Contains(w.Lost, side+"."+key) {
			continue
		}
		if key == "dial_s" && strings.HasPrefix(w.Layout, "5:") {
			key = "index_s"
		}
		f := got[key]
		if f == nil {
			f = &Figure{}
		}
		sure := f.How == Plain || f.How == Mended
		switch {
		case sure && f.Value != truth:
			sum.wrong++
			t.Logf("%s: %s lane %s is %v, not %v (%q)", w.File, side, key, f.Value, truth, f.Text)
		case !sure && w.Grade == "clean":
			sum.unclean++
			t.Logf("%s: %s lane %s %v is in doubt: %v", w.File, side, key, truth, *f)
		case !sure:
			t.Logf("%s: %s lane %s %v %q, in truth %v", w.File, side, key, f.How, f.Text, truth)
		}
		if w.Grade != "clean" {
			sum.of++
			if sure && f.Value == truth {
				sum.right++
			} else if f.How == Doubtful && f.Value == truth {
				sum.doubtful++
			}
		}
	}
	for key, f := range got {
		truth := want[key]
		if key == "index_s" && strings.HasPrefix(w.Layout, "5:") {
			truth = want["dial_s"]
		}
		if _, told := truth.(float64); !told && f.How != Absent && f.How != Doubtful {
			sum.wrong++
			t.Logf("%s: %s lane %s %v, which the slip has not", w.File, side, key, *f)
		}
	}
}

// A round that stands alone in the heading is one; where a label has it, or two do, it is not.
func TestRoundAlone(t *testing.T) {
	const times = "R/T .412 .431\n60' 1.180 1.190\n1/8 5.828 5.860\nMPH 127.20 126.80\n1/4 8.911 8.933\nMPH 160.10 159.80\n"
	for heading, want := range map[string]string{
		"PINEHOLLOW 13-JUN-26 18:42\nSuper Comp   E1   Run 218\nLEFT RIGHT\nCar 412 428\n": "E1",
		"PINEHOLLOW\nstock t2\nLEFT RIGHT\n":                                               "T2",
		"PINEHOLLOW\nLEFT RIGHT\nCar E1 428\n":                                             "",
		"PINEHOLLOW E1\nof E2\nLEFT RIGHT\n":                                               "",
		"PINEHOLLOW R12\nLEFT RIGHT\n":                                                     "",
		"PINEHOLLOW E1\nRound: Q3\nLEFT RIGHT\n":                                           "Q3",
	} {
		s, err := Read(heading + times)
		if err != nil || s.Round != want {
			t.Errorf("%q: round %q, %v, want %q", heading, s.Round, err, want)
		}
	}
}

// What stands before the date is a day of the week only as a whole word; a lane whose name is not read
// beside one that is has the other, and both have a name where they are asked about.
func TestNames(t *testing.T) {
	for text, want := range map[string]string{
		"CLASS Sunoco 5/16/2026\n":         "Sunoco",
		"CLASS Street Sun 5/16/2026\n":     "Street",
		"CLASS Street Sunday, 5/16/2026\n": "Street",
	} {
		s, err := Read(text + "R/T .412\n60' 1.180\n1/8 5.828\nMPH 127.20\n1/4 8.911\n")
		if err != nil || s.Class != want {
			t.Errorf("%q: class %q, %v, want %q", text, s.Class, err, want)
		}
	}
	const lane = "%s LANE\nR/T .042\n60' 1.180\n1/8 5.828\nMPH 127.20\n1/4 8.911\nMPH 160.10\n"
	for second, want := range map[string][2]string{"RIGHT": {"left", "right"}, "R#GXT": {"left", "right"}} {
		s, err := Read(fmt.Sprintf(lane, "LEFT") + fmt.Sprintf(lane, second))
		if err != nil || len(s.Lanes) != 2 {
			t.Fatalf("%s: %d lanes, %v", second, len(s.Lanes), err)
		}
		for i, e := range s.Ends() {
			if e[0] != want[i] || e[1] != "8.911" {
				t.Errorf("%s: lane %d is %v", second, i, e)
			}
		}
	}
}

// What is said of the winner below names no lanes: Left and Right in each label do.
func TestWinnersLane(t *testing.T) {
	for _, wins := range []string{"left lane wins", "right lane wins", "WINNER RIGHT", "left is first"} {
		s, err := Read("Left RT: .042  Right RT: .051\nLeft 60: 1.180  Right 60: 1.250\nLeft 1/8: 5.328  Right 1/8: 5.708\n" +
			"Left 1/4: 8.411  Right 1/4: 9.012\n" + wins + "\n")
		if err != nil || len(s.Lanes) != 2 || s.Ends()[0] != [2]string{"left", "8.411"} {
			t.Errorf("%s: %v, %v", wins, s.Ends(), err)
		}
	}
}

// Where each label has its lane and one lane is blank, the other has its own figures.
func TestBlankBehindLabels(t *testing.T) {
	for side, row := range map[string]string{"right": "Left %[1]s: Right %[1]s: %[2]s\n", "left": "Left %[1]s: %[2]s Right %[1]s:\n"} {
		text := ""
		for _, r := range [][2]string{{"RT", ".042"}, {"60", "1.180"}, {"330", "3.412"}, {"1/8", "5.328"}, {"1/4", "8.411"}} {
			text += fmt.Sprintf(row, r[0], r[1])
		}
		s, err := Read(text)
		if err != nil || len(s.Lanes) != 1 || s.Lanes[0].Side != side || s.Lanes[0].ETs[4].How != Plain ||
			s.Lanes[0].ETs[0].How != Plain {
			t.Errorf("%s: %+v, %v", side, s.Lanes, err)
		}
	}
}

// The farthest mark that a slip names decides what its ET alone is of.
func TestFarthestMark(t *testing.T) {
	s, err := Read("R/T .042\n60' 1.912\n330 5.437\n1/8 8.412\n1000 10.980\nET 13.212\nMPH 105.84\nDIAL 13.20\n")
	if err != nil || s.Lanes[0].ETs[4].Number().String() != "13.212" {
		t.Errorf("%+v, %v", s.Lanes, err)
	}
	cues := cuesOf(takeApart("60' 1.912\n1/8 8.412\n1000 10.980\nET 13.212\n").items, false)
	if open, farthest := endsOf(cues); !open || farthest != 3 {
		t.Errorf("open %t, farthest %d", open, farthest)
	}
}

// A lane in which nobody ran has no figures, whatever is printed there; the other's side is told by its
// place, and where nothing is printed it is asked.
func TestByes(t *testing.T) {
	const rows = "R/T .042 #\n60' 1.180 #\n330' 3.412 #\n1/8 5.328 #\nMPH 127.20 #\n1/4 8.411 #\nMPH 160.10 #\nDIAL 8.42\n"
	mirrored := regexp.MustCompile(`(?m) (\S+) #`)
	for _, none := range []string{"-.---", "-----", "0.000", "n/a", "BYE", "****", ""} {
		for side, text := range map[string]string{"left": rows, "right": mirrored.ReplaceAllString(rows, " # $1")} {
			s, err := Read("LEFT RIGHT\n" + strings.ReplaceAll(text, "#", none))
			if err != nil || len(s.Lanes) != 1 {
				t.Errorf("%q %s: %d lanes, %v", none, side, len(s.Lanes), err)
				continue
			}
			l := s.Lanes[0]
			_, told := s.Ours("", "412", logbook.Slip{})
			if none == "" && (told || l.Side != "" || len(s.Ends()) != 2 || s.Choose(1) != 0 || s.Lanes[0].Side != "right") {
				t.Errorf("blank, %s: %q, told %t, may be of %v", side, l.Side, told, s.Ends())
			}
			if none != "" && l.Side != side {
				t.Errorf("%q: %s lane, truly %s", none, l.Side, side)
			}
			for _, f := range []*Figure{&l.Reaction, &l.Dial, &l.ETs[0], &l.ETs[2], &l.MPHs[2], &l.ETs[4], &l.MPHs[4]} {
				if f.How != Plain {
					t.Errorf("%q, %s: %+v", none, side, *f)
				}
			}
		}
	}
}

// Slips may be printed from the finish back, with the label behind or at both edges, with speeds in a
// block of their own or a third column.
func TestOrders(t *testing.T) {
	for _, text := range []string{
		"left right\nSpeed 160.10 151.20\nQuarter 8.411 9.012\nSpeed 127.20 119.80\nEighth 5.328 5.708\n" +
			"330 3.412 3.650\n60 1.180 1.250\nLight .042 .051\nDial 8.42 9.01\n",
		"LEFT RIGHT\n.042 .051 R.T.\n1.180 1.250 60'\n3.412 3.650 330'\n5.328 5.708 1/8\n127.20 119.80 1/8 MPH\n" +
			"8.411 9.012 1/4\n160.10 151.20 1/4 MPH\n8.42 9.01 DIAL\n",
		"LEFT RIGHT\nRT .042 .051 RT\n60' 1.180 1.250 60'\n330' 3.412 3.650 330'\n1/8 5.328 5.708 1/8\n" +
			"MPH 127.20 119.80 MPH\n1/4 8.411 9.012 1/4\nMPH 160.10 151.20 MPH\nDIAL 8.42 9.01 DIAL\n",
		"LEFT RIGHT\nREACT .042 .051\n60 1.180 1.250\n330 3.412 3.650\n660 5.328 5.708\n1320 8.411 9.012\n" +
			"SPEEDS MPH\n660 127.20 119.80\n1320 160.10 151.20\nDIAL 8.42 9.01\n",
		"LEFT RIGHT DIFF\nR/T .042 .051 .009\n60' 1.180 1.250 .070\n330' 3.412 3.650 .238\n1/8 5.328 5.708 .380\n" +
			"MPH 127.20 119.80 7.40\n1/4 8.411 9.012 .601\nMPH 160.10 151.20 8.90\nDIAL 8.42 9.01\n",
	} {
		s, err := Read(text)
		if err != nil || len(s.Lanes) != 2 {
			t.Errorf("%q: %d lanes, %v", text, len(s.Lanes), err)
			continue
		}
		for i, want := range []map[string]float64{
			{
				"reaction_s": .042, "dial_s": 8.42, "et_60_s": 1.18, "et_330_s": 3.412, "et_660_s": 5.328, "mph_660": 127.2,
				"et_1320_s": 8.411, "mph_1320": 160.1,
			},
			{
				"reaction_s": .051, "dial_s": 9.01, "et_60_s": 1.25, "et_330_s": 3.65, "et_660_s": 5.708, "mph_660": 119.8,
				"et_1320_s": 9.012, "mph_1320": 151.2,
			},
		} {
			for key, f := range named(&s.Lanes[i]) {
				if v, there := want[key]; there && (f.How != Plain || f.Value != v) || !there && f.How != Absent {
					t.Errorf("%q: lane %d %s is %+v, truly %v", text, i, key, *f, v)
				}
			}
		}
	}
}
