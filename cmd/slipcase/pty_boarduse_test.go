//go:build unix

package main

import (
	"regexp"
	"strings"
	"testing"
	"time"
)

// TestBoardUse: what is taken holds for the day, for slips and questions, also for a board
// opened later that day, and not on the next.
func TestBoardUse(t *testing.T) {
	r := newBoard(t, 80, 24)
	r.quick(quickRun)
	r.quick("track add highmesa --elevation 4200ft --length 1320ft")
	r.start("")
	r.waits(1)
	r.line("use heron")
	r.line("use highmesa")
	r.line("use class index 12.50")
	r.sees("heron highmesa index 12.50")
	r.line("88F 42 25.94")
	r.sees("recorded air at highmesa")
	r.line("")
	r.sees("a rough guess: no full run yet") // and no dial
	r.line(aSlip)
	r.recorded(1)
	r.line("dial")
	r.sees("index 12.50:")
	r.line("round 067 1947 5298 8176@8517 10681 12823@10538") // no round of that name: both lanes are wanted
	r.recorded(1)
	r.line("dial 1270 14:05 044 1947 5298 8176@8516 10681 12823@10537 R") // a slip, by its dial
	r.line("list")
	r.sees("12.823")
	r.line("help")
	r.sees("Available Commands:")
	r.line("help dial")
	r.sees("--opponent")
	r.keysOf("q" + enter)
	r.ends(exitDone)
	slips := r.slips()
	if !strings.Contains(slips, ",heron,,highmesa,,left,E1,0.066,") || !regexp.MustCompile(`,index,[^\n]*12\.5`).MatchString(slips) ||
		!strings.Contains(slips, ",heron,,highmesa,,right,,0.044,1.947,5.298,8.176,85.16,10.681,,12.823,105.37,12.7,") {
		t.Errorf("recorded:\n%s", slips)
	}
	r.start("")
	r.sees("heron highmesa index 12.50 1/4 14:25")
	r.line("use plover saltgrass heads-up")
	r.sees("plover saltgrass heads-up")
	r.line("use .")
	r.sees("heron highmesa index 12.50") // as the last slip was raced
	r.line("use plover")
	r.keysOf("q" + enter)
	r.ends(exitDone)
	r.now = "2026-05-03T09:00"
	r.start("")
	r.sees("heron 1/4 09:00")
	r.sees("use saltgrass, or use highmesa") // neither is the only one, nor was raced today
	r.waits(1)
	r.keysOf(ctrlD)
	r.ends(exitDone)
}

// TestBoardEditing: keys that move, history, completion of commands and names, Ctrl-C and
// Ctrl-D.
func TestBoardEditing(t *testing.T) {
	leftToFullRun(t)
	r := onBoard(t, 80, 24)
	r.quick(quickRun)
	// In the middle of the line, and at its beginning.
	n := r.prompts()
	r.keysOf("066 1947 528 8175@8517 10680 12822@10538 L E1")
	r.keysOf(strings.Repeat("\x1b[D", 34) + "9")
	r.seesLast("> 066 1947 5298 8175@8517 10680 12822@10538 L E1")
	r.keysOf(enter)
	r.waits(n + 1)
	r.recorded(1)
	// The line before, with another round, is a slip typed twice: Ctrl-C at the question.
	r.keysOf(up + "\b2" + enter)
	r.types("[e] edit: ", ctrlC)
	r.sees("interrupted: nothing was recorded")
	r.waits(n + 2)
	r.recorded(1)
	// Ctrl-C clears what is typed, and only that.
	r.keysOf("rubbish" + ctrlC)
	r.line("")
	r.sees("last E1 L .066")
	// Completion.
	for keys, becomes := range map[string]string{
		"cons\t": "> consistency", "use plo\t": "> use plover", "sli\tsh\t": "> slip show",
		"air li\t": "> air list", "dial --op\t": "> dial --opponent", "plo\t": "> plover", "lis\t": "> list",
		"044 1947 her\t": "> 044 1947 heron",
	} {
		r.clear()
		r.keysOf(keys)
		r.seesLast(becomes)
		r.keysOf(ctrlC)
	}
	r.clear()
	r.keysOf("co\t")
	r.sees("compare") // or what there is
	r.sees("correct")
	r.keysOf(ctrlC)
	r.line("?")
	r.sees("Enter alone shows the board")
	r.line("slipcase list")
	r.sees("12.822")
	r.line("track add reedbed --elevation 90ft --both-red first")
	r.keysOf("track add tern --elevation 90ft" + enter)
	r.types("Enter if not known:", ctrlC)
	r.sees("interrupted: nothing was recorded")
	r.keysOf(ctrlD)
	r.ends(exitDone)
	if strings.Contains(r.quick("track list"), "tern") {
		t.Error("recorded what was interrupted")
	}
}

// seesLast waits until the last line of the screen is this.
func (r *trailer) seesLast(want string) {
	r.t.Helper()
	for deadline := time.Now().Add(30 * time.Second); time.Now().Before(deadline); time.Sleep(time.Millisecond) {
		lines := strings.Split(strings.TrimRight(r.screen(), "\n"), "\n")
		if strings.TrimSpace(lines[len(lines)-1]) == want {
			return
		}
	}
	r.t.Errorf("want %q:\n%s", want, r.screen())
}

// TestBoardForm is the form that asks, from the prompt of the board.
func TestBoardForm(t *testing.T) {
	r := onBoard(t, 80, 24)
	r.keysOf("slip add" + enter)
	r.typesSlip("left E1 1325", "042", "1912", "13212@10584", "")
	r.types("Enter records", up) // back
	r.types("other lane: ", enter)
	r.types("Enter records", enter)
	r.waits(2)
	r.sees("13.212 @ 105.84")
	r.keysOf(ctrlD)
	r.ends(exitDone)
	if !strings.Contains(r.slips(), ",left,E1,0.042,1.912,5.437,8.412,83.77,10.98,,13.212,105.84,13.25,") {
		t.Error(r.slips())
	}
}

// TestBoardPlain: a dumb terminal gets plain lines, without a single escape, and none gets
// a color.
func TestBoardPlain(t *testing.T) {
	leftToFullRun(t)
	r := newBoard(t, 80, 24)
	r.term, r.more = "dumb", []string{"NO_COLOR=1"}
	r.start("")
	r.types("> ", "88F 42 28.94"+enter)
	r.sees("recorded air at saltgrass")
	r.types("> ", aSlip+enter)
	r.sees("in standard air")
	r.types("> ", "rubb"+ctrlC)
	r.types("> ", oddSlip+enter)
	r.types("[e] edit: ", "e")
	r.sees("not taken: " + oddSlip)
	r.types("> ", "dial"+enter)
	r.sees("breakout risk")
	r.types("> ", ctrlD)
	r.ends(exitDone)
	r.recorded(1)
	if strings.Contains(r.text(), "\x1b") {
		t.Errorf("%q", r.text())
	}
	if strings.Count(r.slips(), "\n") != 2 {
		t.Error(r.slips())
	}
	colored := onBoard(t, 80, 24)
	colored.line(aSlip)
	colored.keysOf(ctrlD)
	colored.ends(exitDone)
	if regexp.MustCompile("\x1b\\[[0-9;]*m").Match(colored.all.Bytes()) {
		t.Errorf("%q", colored.all.String())
	}
}

// TestBoardPutsBack: a line that was refused stands at the prompt again, and a word says so:
// it is changed there, or cleared, and nothing is typed behind it unseen.
func TestBoardPutsBack(t *testing.T) {
	const back = "the line is back on the prompt: change it, or Ctrl-C clears it"
	r := onBoard(t, 80, 24)
	r.quick(quickRun)
	r.keysOf("066 1947 5298 8175@8517 10680 12822@10538 L E1 oops" + enter)
	r.sees(back)
	r.seesLast("> 066 1947 5298 8175@8517 10680 12822@10538 L E1 oops")
	r.recorded(0)
	n := r.prompts()
	r.keysOf(strings.Repeat("\b", len(" oops")) + enter)
	r.waits(n + 1)
	r.recorded(1)
	n = r.prompts()
	r.keysOf("931F 42 28.94" + enter)
	r.waits(n + 1) // not the line as it was typed
	r.seesLast("> 931F 42 28.94")
	r.keysOf(ctrlC)
	r.line("88F 42 28.94")
	r.sees("recorded air at saltgrass")
	r.keysOf("q" + enter)
	r.ends(exitDone)
}
