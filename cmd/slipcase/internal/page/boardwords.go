package page

import (
	"fmt"
	"strings"
	"time"
)

// boardHelp is what can be typed at the board.
var boardHelp = [][2]string{
	{"a slip", "042 1912 5437 8412@{8377|13481} 10980 13212@{10584|17033} L E1 d1325: as it is printed, " +
		`"." for a missing time; behind a / the other lane, / 051 12430@{10940|17606} 1240`},
	{"a paste", "all the text of a printed slip, or slips or readings, a line each"},
	{"the air", "{88F 42 28.94|31C 42 980}: temperature, humidity, station pressure"},
	{"use", "use plover, use highmesa, use class index 8.90: for today; use . forgets it"},
	{"commands", "dial, round, list, show last, amend last --result won, and all others: help; dial --help explains one"},
	{"keys", "Enter alone shows the board, Tab completes, Up brings a line back, Ctrl-C clears it; q or Ctrl-D leaves"},
}

// NotKnown says that a word begins no line here, and which were meant perhaps.
func (p *Page) NotKnown(word string, near []string) {
	meant := "? says what can be typed"
	if len(near) > 0 {
		meant = "did you mean " + strings.Join(near, " or ") + "?"
	}
	p.Note("%q is no command: %s", word, meant)
}

// PutBack says that a line not done with stands on the prompt again.
func (p *Page) PutBack() { p.Note("the line is back on the prompt: change it, or Ctrl-C clears it") }

// NameAlone says what the name of a vehicle or track alone may be meant for.
func (p *Page) NameAlone(name string) {
	p.Note("%[1]s alone is no command: use %[1]s takes it for today", name)
}

// NoPaste says that a pasted text was not taken.
func (p *Page) NoPaste(what string) {
	p.Note("%s: no slip's text, and no slips or readings, a line each; nothing recorded", what)
}

// PastedLines is what a paste is called by its lines.
func PastedLines(n int) string { return fmt.Sprintf("a paste of %d lines", n) }

// ClockMoved says that the day is another one than the prompt was at.
func (p *Page) ClockMoved(was, is time.Time) {
	p.Note("the clock has gone from %s to %s: today is a new day, nothing recorded yet. Enter takes the line",
		When(was), When(is))
}

// NotKept says that what is in use will be forgotten with the board.
func (p *Page) NotKept(err error) { p.Note("it holds here, but is not kept for the day: %v", err) }

// Gone says that the folder of the log is not there any more.
func Gone(dir string) error {
	return fmt.Errorf("%s is gone, or holds no logbook any more: nothing recorded", dir)
}

// Begun says that a slip was being typed when the terminal went away.
func (p *Page) Begun(at time.Time) { p.Note("a slip was begun %s: slip add goes on with it", When(at)) }

// LineLeft says that a line was being typed when the terminal went away.
func (p *Page) LineLeft() {
	p.Note("a line was begun when the terminal went away: it stands at the prompt again")
}
