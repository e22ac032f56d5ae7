//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

const (
	aSlip    = "066 1947 5298 8175@8517 10680 12822@10538 L E1"
	theSlip  = ",left,E1,0.066,1.947,5.298,8.175,85.17,10.68,,12.822,105.38,"
	oddSlip  = "066 1947 5298 8175@8517 10680 13822@10538 L E1"
	quickRun = "vehicle add plover --kind motorcycle"
)

// onBoard is the board with a prompt.
func onBoard(t *testing.T, cols, rows uint16) *trailer {
	r := newBoard(t, cols, rows)
	r.start("")
	r.waits(1)
	return r
}

// recorded holds that the log has the slip so many times.
func (r *trailer) recorded(times int) {
	r.t.Helper()
	if n := strings.Count(r.slips(), theSlip); n != times {
		r.t.Errorf("recorded %d times, want %d:\n%s\n%s", n, times, r.slips(), r.screen())
	}
}

// TestBoardHangUp: the terminal goes away at the prompt, with a line begun, and at a
// question: nothing is recorded, and what was asked about is there to go on with.
func TestBoardHangUp(t *testing.T) {
	leftToFullRun(t)
	r := onBoard(t, 80, 24)
	r.keysOf(aSlip)
	r.sees("E1")
	r.program.Process.Signal(syscall.SIGHUP)
	r.ends(129)
	r.recorded(0)

	// The line stands at the prompt again; Enter takes it, once.
	r.start("")
	r.sees("a line was begun when the terminal went away: it stands at the prompt again")
	r.sees("> " + aSlip)
	r.keysOf(enter)
	r.waits(2)
	r.recorded(1)
	r.keysOf(oddSlip + enter)
	r.sees("[e] edit:")
	r.program.Process.Signal(syscall.SIGHUP)
	r.ends(129)
	r.recorded(1)
	if n := strings.Count(r.slips(), "\n"); n != 2 || !r.draft() {
		t.Errorf("%d lines, draft %t", n, r.draft())
	}
	r.now = "2026-05-02T14:40"
	r.start("")
	r.sees("a slip was begun Sat 2 May 2026 14:25: slip add goes on with it")
	r.keysOf("slip add" + enter)
	r.types("Enter goes on", enter)
	r.types("Enter records", "1320 13.212@105.84"+enter)
	r.types("Enter records", enter)
	r.types("[e] edit:", "k") // a minute after the other
	r.waits(2)
	r.keysOf(ctrlD)
	r.ends(exitDone)
	if r.recorded(1); strings.Count(r.slips(), "\n") != 3 {
		t.Error(r.slips())
	}
}

// TestBoardHalfTyped: of a terminal that goes away the line is kept as it was edited, and one
// that was entered or cleared is not.
func TestBoardHalfTyped(t *testing.T) {
	r := onBoard(t, 80, 24)
	r.line(aSlip)
	r.keysOf("044 1947 5x" + "\b\b" + "298" + "\x1b[D\x1b[D\x1b[D" + "5")
	r.seesLast("> 044 1947 5298")
	r.program.Process.Signal(syscall.SIGHUP)
	r.ends(129)
	r.recorded(1)
	r.start("")
	r.seesLast("> 044 1947 5298")
	r.keysOf(ctrlC)
	r.line("")
	r.program.Process.Signal(syscall.SIGHUP)
	r.ends(129)
	r.start("")
	r.waits(1)
	if strings.Contains(r.text(), "begun") || strings.Contains(r.text(), "1947") {
		t.Error(r.text())
	}
	r.keysOf(ctrlD)
	r.ends(exitDone)
}

// TestBoardNarrow: a window of 20 columns, from the start and made so in the middle of a
// line.
func TestBoardNarrow(t *testing.T) {
	r := onBoard(t, 20, 24)
	r.line("88F 42 28.94")
	r.line(aSlip)
	r.recorded(1)
	r.line("")
	for _, line := range strings.Split(r.screen(), "\n") {
		if len([]rune(line)) > 20 {
			t.Errorf("%q", line)
		}
	}
	r.golden("narrow")
	r.keysOf("q" + enter)
	r.ends(exitDone)

	r = onBoard(t, 80, 24)
	r.keysOf(aSlip[:20])
	r.sees("8175@8")
	if err := pty.Setsize(r.tty, &pty.Winsize{Rows: 24, Cols: 20}); err != nil {
		t.Fatal(err)
	}
	r.keysOf(aSlip[20:] + enter)
	r.waits(2)
	r.recorded(1)
	r.keysOf(ctrlD)
	r.ends(exitDone)
}

// TestBoardPaste: a megabyte pasted, with brackets around it and without, is refused in a
// line and takes nothing; several slips pasted are recorded, all or none.
func TestBoardPaste(t *testing.T) {
	leftToFullRun(t)
	r := onBoard(t, 80, 24)
	before := r.slips()
	page := strings.Repeat(aSlip+"\r", 1<<20/len(aSlip))
	r.pastesWhole(page, "a paste of 10")
	r.sees("slips or readings, a line each; nothing recorded")
	r.pastesWhole(strings.Repeat("x", 1<<20), "a paste of 1048576 bytes: no slip's text")
	r.pastesWhole("Dear Lee,\nno slips today.\n", "a paste of 2 lines: no slip's text")
	if r.slips() != before {
		t.Fatal(r.slips())
	}
	r.pastesWhole("13:05 "+aSlip+"\r\n13:40 051 1945 5294 8171@8521 10675 12816@10543 R E2\r\n", "recorded 2 slips")
	r.pastesWhole("14:05 044 1944 5293 8170@8522 10674 12815@10544\n14:10 051 1945 5294 x8171\n", "nothing recorded: line 2")
	r.recorded(1)
	// A single line can be edited before its Enter.
	n := r.prompts()
	r.clear()
	r.pastes("\x1b[200~88F 42\x1b[201~")
	r.sees("88F 42")
	r.keysOf(" 28.94" + enter)
	r.waits(n + 1)
	r.sees("recorded air at saltgrass")
	r.keysOf(ctrlD)
	r.ends(exitDone)
}

// pastes sends text as a terminal does, faster than anyone types.
func (r *trailer) pastes(text string) {
	r.t.Helper()
	if _, err := r.tty.WriteString(text); err != nil {
		r.t.Fatal(err)
	}
}

// pastesWhole pastes as a terminal says it, and waits for the answer and the prompt behind it:
// what comes before it is lost where it is much, for no program reads it yet.
func (r *trailer) pastesWhole(text, answer string) {
	r.t.Helper()
	n := r.prompts()
	r.pastes("\x1b[200~" + text + "\x1b[201~")
	r.sees(answer)
	r.waits(n + 1)
}

// TestBoardPlainPaste is a paste at a terminal that puts no brackets around it.
func TestBoardPlainPaste(t *testing.T) {
	leftToFullRun(t)
	for _, name := range []string{"xterm", "dumb"} {
		t.Run(name, func(t *testing.T) {
			r := newBoard(t, 80, 24)
			r.term = name
			r.start("")
			r.sees("> ")
			r.clear()
			r.pastes("13:05 " + aSlip + "\r13:40 051 1945 5294 8171@8521 10675 12816@10543 R E2\r")
			r.sees("recorded 2 slips")
			r.recorded(1)
			before := r.slips()
			r.clear()
			r.pastes(strings.Repeat("no slip at all, but many a word\r", 1<<20/32))
			r.sees("nothing recorded")
			r.quiet()
			if r.slips() != before {
				t.Error(r.slips())
			}
			r.keysOf("q" + enter)
			r.ends(exitDone)
		})
	}
}

// quiet waits until nothing more comes to the screen.
func (r *trailer) quiet() {
	for n := -1; n != len(r.text()); time.Sleep(time.Second) {
		n = len(r.text())
	}
}

// TestBoardControlBytes: what no key of a line sends is left out of it and never reaches
// the screen.
func TestBoardControlBytes(t *testing.T) {
	r := onBoard(t, 80, 24)
	n := r.prompts()
	junk := "\x00\x07\x1b[31m\x1b]0;title\x07"
	r.pastes("\x00\x13\x11\x1b[31m\x1b[19~\xff\xc2\x9b\xe2\x80\xae" + aSlip[:12])
	r.sees(aSlip[:12])
	r.pastes("\x1bOC\x1b[D\x1b[C\x1a\x1c\x1e\xc3\x28\b" + aSlip[12:] + enter)
	r.waits(n + 1)
	r.recorded(1)
	r.pastes("\x1b[200~" + junk + "list\x1b[201~" + enter)
	r.waits(n + 2)
	for _, bad := range []string{"\x1b[31m", "\x1b]0;", "\x07", "\xff", "\xc2\x9b", "\xe2\x80\xae"} {
		if strings.Contains(r.text(), bad) {
			t.Errorf("%q on the screen", bad)
		}
	}
	r.keysOf(ctrlD)
	r.ends(exitDone)
}

// TestBoardUnknown: an unknown word names the nearest command and records nothing.
func TestBoardUnknown(t *testing.T) {
	r := onBoard(t, 80, 24)
	before, err := contents(r.dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]string{
		{"dail", `"dail" is no command: did you mean day or dial?`},
		{"lsit", `"lsit" is no command: did you mean list?`},
		{"rond last", `"rond" is no command: did you mean round?`},
		{"hello there", `"hello" is no command: ? says what can be typed`},
		{"heron", "heron alone is no command: use heron takes it for today"},
		{"dail 12.70", `did you mean day or dial?`},
		{"use nothing", `slipcase: "nothing": want a vehicle, a track, or class index 8.90`},
		{"slip frobnicate", `"frobnicate" is no part of a slip`},
	} {
		r.line(c[0])
		r.sees(c[1])
		r.keysOf(ctrlC)
	}
	// A slip that cannot be read comes back to be corrected.
	r.line("066 1947 52x98 8175@8517 10680 12822@10538 L E1")
	r.sees("52x98")
	r.keysOf(ctrlC)
	after, err := contents(r.dir)
	if err != nil {
		t.Fatal(err)
	}
	for name := range merged(before, after) {
		if before[name] != after[name] {
			t.Errorf("%s was changed", name)
		}
	}
	r.keysOf("q" + enter)
	r.ends(exitDone)
}

// TestTwoBoards: what one records the other sees, and a slip typed on both is asked about.
func TestTwoBoards(t *testing.T) {
	leftToFullRun(t)
	r := onBoard(t, 80, 24)
	r.quick(quickRun)
	other := &trailer{t: t, dir: r.dir, now: r.now, cols: 80, rows: 24, term: "xterm"}
	other.start("")
	other.waits(1)
	other.line("use heron")
	r.line(aSlip)
	r.recorded(1)
	other.line("") // Enter alone shows the board
	other.sees("last E1 L .066 12.822@105.4")
	other.keysOf(aSlip + enter)
	other.sees("not recorded: heron has the slip of 14:25")
	other.types("[e] edit: ", "e")
	other.waits(3)
	other.sees("> " + aSlip) // it is on the prompt again
	r.recorded(1)
	// A vehicle taken on one board is not taken on the other.
	other.keysOf(ctrlC)
	other.line("use plover")
	r.line("")
	r.sees("heron saltgrass")
	r.asked("031 1940 5290 8166@8526 10670 12811@10547 R E2", "[e] edit: ", "k") // within a minute of it
	if !strings.Contains(r.slips(), ",heron,,saltgrass,,right,E2,") {
		t.Errorf("%s", r.slips())
	}
	for _, b := range []*trailer{r, other} {
		b.keysOf(ctrlD)
		b.ends(exitDone)
	}
}

// TestBoardFolderGone: the folder of the log goes away while the board is open: it says so,
// the line stays, and is recorded once the folder is there again.
func TestBoardFolderGone(t *testing.T) {
	r := onBoard(t, 80, 24)
	away := r.dir + "-away"
	if err := os.Rename(r.dir, away); err != nil {
		t.Fatal(err)
	}
	r.line(aSlip)
	r.sees("log is gone, or holds no logbook any more: nothing recorded")
	if _, err := os.Stat(r.dir); err == nil {
		t.Error("a folder was made in its place")
	}
	if err := os.Rename(away, r.dir); err != nil {
		t.Fatal(err)
	}
	n := r.prompts()
	r.keysOf(enter) // the line stands on the prompt
	r.waits(n + 1)
	r.sees("recorded heron at saltgrass, E1")
	r.recorded(1)
	r.keysOf(ctrlD)
	r.ends(exitDone)
}

// TestBoardClock: the clock jumps a day, forward and back: the board says so before it
// takes a line, and takes it once.
func TestBoardClock(t *testing.T) {
	r := newBoard(t, 80, 24)
	r.quick("vehicle add plover --kind motorcycle")
	clock := filepath.Join(t.TempDir(), "clock")
	set := func(at string) {
		if err := os.WriteFile(clock, []byte(at), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	set("2026-05-02T14:25")
	r.more = []string{"SLIPCASE_TEST_CLOCK=" + clock}
	r.start("")
	r.waits(1)
	r.line("use heron class index 12.50")
	r.line("")
	r.sees("index 12.50")
	set("2026-05-03T14:26")
	r.line(aSlip)
	r.sees("the clock has gone from Sat 2 May 2026 14:25 to Sun 3 May 2026 14:26")
	r.recorded(0)
	set("2026-05-02T14:27")
	r.line("")
	r.sees("the clock has gone from Sun 3 May 2026 14:26 to Sat 2 May 2026 14:27")
	r.recorded(0)
	n := r.prompts()
	r.keysOf(enter)
	r.waits(n + 1)
	r.recorded(1)
	if !strings.Contains(r.slips(), ",2026-05-02T14:27:00Z,heron,") || !strings.Contains(r.slips(), ",index,") {
		t.Error(r.slips())
	}
	r.keysOf(ctrlD)
	r.ends(exitDone)
}
