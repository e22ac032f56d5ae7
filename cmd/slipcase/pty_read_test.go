//go:build unix

package main

import (
	"strings"
	"testing"
)

const pasted = "05/02/2026 2:25PM\nLANE L\nR/T .O53\n6O' 1..9Z2\n330' S.42\n\n1/8 8395\nMPH B3.85\n" +
	"1OOO' 10,9S3\nl/4 I3.179\nMPH 105. 80\n"

// TestPastedSlip pastes the text of a slip: what is not sure is asked by one key, the whole is
// shown, and corrected there; a blank line in the text does not end it.
func TestPastedSlip(t *testing.T) {
	leftToFullRun(t)
	r := newTrailer(t, 48)
	r.start("slip read")
	r.types("then an empty line:", strings.ReplaceAll(pasted, "\n", enter)+enter)
	r.sees(`[Enter] 330 ft 5.420, printed as "S.42"`)
	r.types("omit it", "o")
	r.sees("660 ft 8.395 @ 83.85")
	r.types("Enter records", "330 5.429"+enter)
	r.sees("330 ft 5.429")
	r.types("Enter records", enter)
	r.fits()
	r.ends(exitDone)
	if !strings.Contains(r.slips(), ",left,,0.053,1.922,5.429,8.395,83.85,10.953,,13.179,105.8,") {
		t.Errorf("recorded:\n%s", r.slips())
	}

	// Ctrl-D in the middle of the text ends it too; Ctrl-C records nothing.
	r.start("slip read")
	r.types("then an empty line:", ctrlC)
	r.ends(130)
}

// TestBoardPastedSlip pastes a printed slip's text at the prompt of the board: it is asked about
// as slip read does, with brackets around the paste and without, and recorded once.
func TestBoardPastedSlip(t *testing.T) {
	leftToFullRun(t)
	r := onBoard(t, 80, 24)
	r.pastes("\x1b[200~" + pasted + "\x1b[201~")
	r.sees(`[Enter] 330 ft 5.420, printed as "S.42"`)
	r.types("omit it", "o")
	r.sees("660 ft 8.395 @ 83.85")
	n := r.prompts()
	r.types("Enter records", "330 5.429"+enter)
	r.types("Enter records", enter)
	r.waits(n + 1)
	own := ",left,,0.053,1.922,5.429,8.395,83.85,10.953,,13.179,105.8,"
	if strings.Count(r.slips(), own) != 1 {
		t.Errorf("recorded:\n%s", r.slips())
	}
	// Ctrl-C at a question records nothing, and the board stays.
	before := r.slips()
	r.clear()
	r.pastes(strings.ReplaceAll(strings.ReplaceAll(pasted, "2:25PM", "3:05PM"), "\n", "\r"))
	r.types("omit it", ctrlC)
	r.waits(n + 2)
	if r.slips() != before {
		t.Errorf("recorded:\n%s", r.slips())
	}
	r.keysOf(ctrlD)
	r.ends(exitDone)
}
