//go:build unix

package main

import (
	"strings"
	"syscall"
	"testing"

	"github.com/creack/pty"
)

const (
	enter = "\r"
	up    = "\x1b[A"
	ctrlC = "\x03"
	ctrlD = "\x04"
)

// typesSlip answers the form for a whole quarter-mile slip.
func (r *trailer) typesSlip(head, reaction, sixty, last, other string) {
	r.t.Helper()
	r.types("run [", head+enter)
	r.types("reaction: ", reaction+enter)
	r.types("60 ft: ", sixty+enter)
	r.types("330 ft: ", "5437"+enter)
	r.types("660 ft: ", "8412@8377"+enter)
	r.types("1000 ft: ", "10980"+enter)
	r.types("1320 ft: ", last+enter)
	r.types("other lane: ", other+enter)
}

// TestRaceDay is a race day typed key by key, at 80, 48 and 40 columns.
func TestRaceDay(t *testing.T) {
	r := newTrailer(t, 80)
	r.quick("air add 88F 42 28.94")

	r.start("slip add")
	r.typesSlip("left E1 1325", "042", "1912", "13212@10584", "")
	r.types("Enter records", enter)
	r.sees("13.212 @ 105.84")
	r.ends(exitDone)

	// The next round without the other lane, from an empty prompt: counted. The dial is
	// taken again by its letter; a nought in front of a reaction need not be typed.
	r.now = "2026-05-02T15:10"
	r.start("slip add")
	r.sees("dial 13.25 last time: d takes it again")
	r.sees("run [heron saltgrass 15:10 left E2]:")
	r.typesSlip("d", "51", "1915", "13221@10570", "")
	r.types("Enter records", enter)
	r.sees("13.221 @ 105.70")
	r.ends(exitDone)
	t.Logf("a quarter-mile slip: %d keys", r.keys)
	if r.keys > 45 {
		t.Errorf("%d keys for a slip, want at most 45", r.keys)
	}

	// With both lanes; the track's phone is held upright.
	r.now, r.cols = "2026-05-02T15:50", 48
	r.start("slip add")
	r.typesSlip("d", "48", "1910", "13251@10570", "051 12430 1240")
	r.sees("other lane .051, 12.430, dial 12.40")
	r.sees("won: by .032 at the finish")
	r.fits()
	r.types("Enter records", enter)
	r.ends(exitDone)
	t.Logf("with both lanes: %d keys", r.keys)
	if r.keys > 60 {
		t.Errorf("%d keys for a slip of both lanes, want at most 60", r.keys)
	}
	if !strings.Contains(r.slips(), ",left,E3,0.048,1.91,5.437,8.412,83.77,10.98,,13.251,105.7,13.25,,0.051,12.43,12.4,") {
		t.Errorf("recorded:\n%s", r.slips())
	}
}

// TestCorrections goes back by key and by word, and corrects at the review.
func TestCorrections(t *testing.T) {
	r := newTrailer(t, 40)
	r.start("slip add")
	r.types("run [heron saltgrass 14:25]", "right T1"+enter)
	r.types("reaction: ", "042"+enter)
	r.types("60 ft: ", "1812"+enter)
	r.types("330 ft: ", up+enter)
	r.types("60 ft [1.812]: ", "1912"+enter)
	r.types("330 ft: ", "x5437"+enter)
	r.sees(`time "x5437" is not a number`)
	r.types("330 ft: ", "5437 8412@8377 10980 13212@10584"+enter)
	r.types("other lane: ", "won"+enter)
	r.types("Enter records", "left"+enter)
	r.types("Enter records", "60 1.922"+enter)
	r.sees("60 ft 1.922")
	r.fits()
	r.types("Enter records", enter)
	r.ends(exitDone)
	if !strings.Contains(r.slips(), ",left,T1,0.042,1.922,5.437,8.412,83.77,10.98,,13.212,105.84,,won,") {
		t.Errorf("recorded:\n%s", r.slips())
	}
}

// TestMetricForm types speeds in km/h: the form says them so, and keeps them on Enter.
func TestMetricForm(t *testing.T) {
	r := newTrailer(t, 80)
	r.start("slip add --units metric")
	r.types("run [heron saltgrass 14:25]", "left T1"+enter)
	r.types("reaction: ", enter)
	r.types("60 ft: ", "1912"+enter)
	r.types("330 ft: ", "5437"+enter)
	r.types("660 ft: ", "8412@134.8km/h"+enter)
	r.types("1000 ft: ", up+enter)
	r.types("660 ft [8.412@134.80km/h]: ", enter)
	r.types("1000 ft: ", enter)
	r.types("1320 ft: ", "13212@170.3km/h"+enter)
	r.types("other lane: ", enter)
	r.sees("660 ft 8.412 @ 134.80 km/h")
	r.types("Enter records", enter)
	r.sees("13.212 @ 170.30 km/h")
	r.ends(exitDone)
	if !strings.Contains(r.slips(), ",8.412,83.76") {
		t.Errorf("recorded:\n%s", r.slips())
	}
}

// TestTypoAtTheTrack takes the likeliest reading with one key, keeps, edits, lifts.
func TestTypoAtTheTrack(t *testing.T) {
	leftToFullRun(t)
	for _, c := range []struct {
		name, last, asks, key, recorded string
	}{
		{"likeliest", "14212@10584", "[Enter] 1320 ft 13.212 was meant", enter, ",13.212,105.84,"},
		{"kept", "14212@10584", "1320 ft in 14.212", "k", ",14.212,105.84,"},
		{"lifted", "14212@10584", "[l] lifted", "l", ",14.212,105.84,"},
		{"digits exchanged", "12312@10584", "[Enter] 1320 ft 13.212 was meant", enter, ",13.212,105.84,"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newTrailer(t, 80)
			r.start("slip add")
			r.typesSlip("left T1", "042", "1912", c.last, "")
			r.types("Enter records", enter)
			r.sees(c.asks)
			r.types("[e] edit: ", c.key)
			r.ends(exitDone)
			if !strings.Contains(r.slips(), c.recorded) {
				t.Errorf("recorded:\n%s", r.slips())
			}
			if lifted := strings.Contains(r.slips(), ",lifted,"); lifted != (c.key == "l") {
				t.Errorf("lifted: %t\n%s", lifted, r.slips())
			}
		})
	}
	r := newTrailer(t, 80)
	r.start("slip add")
	r.typesSlip("left T1", "042", "1912", "14212@10584", "")
	r.types("Enter records", enter)
	r.types("[e] edit: ", "e")
	r.types("Enter records", "1320 13212@10584"+enter)
	r.types("Enter records", enter)
	r.ends(exitDone)
	if !strings.Contains(r.slips(), ",13.212,105.84,") {
		t.Errorf("recorded:\n%s", r.slips())
	}
}

// TestTwiceAtTheTrack: a slip typed again is asked about, and can be kept.
func TestTwiceAtTheTrack(t *testing.T) {
	leftToFullRun(t)
	r := newTrailer(t, 48)
	for _, key := range []string{"", "k"} {
		r.start("slip add")
		r.typesSlip("left T1", "042", "1912", "13212@10584", "")
		r.types("Enter records", enter)
		if key != "" {
			r.sees("not recorded: heron has the slip of 14:25")
			r.sees("[k] keep as typed")
			r.types("[e] edit: ", key)
		}
		r.ends(exitDone)
	}
	if n := strings.Count(r.slips(), ",13.212,105.84,"); n != 2 || !strings.Contains(r.slips(), "typed twice") {
		t.Errorf("%d slips, want both, the reason with the second:\n%s", n, r.slips())
	}
}

// TestResultFollowsTheReading: who won is told anew when a figure is put right.
func TestResultFollowsTheReading(t *testing.T) {
	r := newTrailer(t, 80)
	r.start("slip add")
	r.typesSlip("left E1 1320", "042", "1912", "14212@10584", "051 12450 1240")
	r.sees("lost: by")
	r.types("Enter records", enter)
	r.types("[e] edit: ", enter)
	r.sees("won: by .047 at the finish")
	r.ends(exitDone)
	if !strings.Contains(r.slips(), ",13.212,105.84,13.2,,0.051,12.45,12.4,") {
		t.Errorf("recorded:\n%s", r.slips())
	}
}

// TestInterrupted: Ctrl-C, the end of input, and a terminal that goes away leave a
// draft and record nothing; the next form goes on with it.
func TestInterrupted(t *testing.T) {
	for _, c := range []struct {
		name string
		end  func(r *trailer)
		says string
	}{
		{"Ctrl-C", func(r *trailer) { r.types("660 ft: ", ctrlC); r.ends(exitInterrupted) }, "a draft is kept"},
		{"end of input", func(r *trailer) { r.types("660 ft: ", ctrlD); r.ends(exitUsage) }, "a draft is kept"},
		{"hang-up", func(r *trailer) { r.sees("660 ft: "); r.program.Process.Signal(syscall.SIGHUP); r.ends(129) }, ""},
		{"killed", func(r *trailer) { r.sees("660 ft: "); r.program.Process.Kill(); r.ends(-1) }, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newTrailer(t, 80)
			before := r.slips()
			r.start("slip add")
			r.types("run [", "left T1"+enter)
			r.types("reaction: ", "042"+enter)
			r.types("60 ft: ", "1912"+enter)
			r.types("330 ft: ", "5437"+enter)
			c.end(r)
			if !strings.Contains(strings.Join(strings.Fields(r.text()), " "), c.says) {
				t.Errorf("it does not say %q:\n%s", c.says, r.text())
			}
			if r.slips() != before || !r.draft() {
				t.Fatalf("draft %t, slips\n%s", r.draft(), r.slips())
			}
			r.now = "2026-05-02T14:40"
			r.start("slip add")
			r.types("Enter goes on, discard drops it", enter)
			r.types("660 ft: ", "8412@8377 10980 13212@10584"+enter)
			r.types("other lane: ", enter)
			r.types("Enter records", enter)
			r.ends(exitDone)
			if r.draft() ||
				!strings.Contains(
					r.slips(),
					"2026-05-02T14:25:00Z,heron,,saltgrass,,left,T1,0.042,1.912,5.437,8.412,83.77,10.98,,13.212,105.84,",
				) {
				t.Errorf("draft %t, slips\n%s", r.draft(), r.slips())
			}
		})
	}
}

// TestInterruptedAtTheQuestion: Ctrl-C while a single key is waited for.
func TestInterruptedAtTheQuestion(t *testing.T) {
	r := newTrailer(t, 80)
	r.start("slip add")
	r.typesSlip("left T1", "042", "1912", "14212@10584", "")
	r.types("Enter records", enter)
	r.types("[e] edit: ", "zq"+ctrlC)
	r.ends(exitInterrupted)
	if !r.draft() || strings.Contains(r.slips(), "heron") {
		t.Errorf("draft %t, slips\n%s", r.draft(), r.slips())
	}
}

// TestNarrowWindow: a window of 20 columns, made smaller while the form is open.
func TestNarrowWindow(t *testing.T) {
	r := newTrailer(t, 80)
	r.start("slip add")
	r.types("run [", "left T1"+enter)
	if err := pty.Setsize(r.tty, &pty.Winsize{Rows: 24, Cols: 20}); err != nil {
		t.Fatal(err)
	}
	r.cols = 20
	r.types("reaction: ", "042"+enter)
	r.types("60 ft: ", "1912 5437 8412@8377 10980 13212@10584"+enter)
	r.types("other lane: ", enter)
	r.sees("1320 ft 13.212 @ 105.84")
	r.types("Enter records", enter)
	r.ends(exitDone)
}

// TestRubbish: anything in any field says so by the field, records nothing and
// leaves what was typed before.
func TestRubbish(t *testing.T) {
	r := newTrailer(t, 80)
	before := r.slips()
	r.start("slip add")
	r.types("run [", "\U0001F525"+enter)
	r.types("run [", strings.Repeat("word ", 200)+enter)
	r.types("run [", "left T1"+enter)
	r.types("reaction: ", "042"+enter)
	for _, junk := range []string{
		"abc", "1.9.1", "-1.9", "11,132", "1e9", "\U0001F525", strings.Repeat("9", 300),
		"1\t2\t3\tx", strings.Repeat("lorem ipsum ", 100),
	} {
		r.types("60 ft: ", junk+enter)
	}
	r.types("60 ft: ", ctrlD)
	r.ends(exitUsage)
	if r.slips() != before || !r.draft() {
		t.Errorf("draft %t, slips\n%s", r.draft(), r.slips())
	}
}
