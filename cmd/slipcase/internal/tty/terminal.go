package tty

import (
	"bufio"
	"io"
	"os"
	"time"

	"golang.org/x/term"
)

// Terminal is where a person types and reads. A stream that is no terminal is read
// and written all the same; what needs a person asks Interactive first.
type Terminal struct {
	In  io.Reader
	Out io.Writer // bare, where prompts go
	Err io.Writer

	lines *bufio.Reader
	keyed time.Time // when a single key was last typed
	open  *prompt   // that stays, nil without
}

// Interactive reports whether the racer can be asked.
func (t *Terminal) Interactive() bool { return isTerminal(t.In) && isTerminal(t.Out) }

// Window is the room on the terminal in columns and lines, 0 and 0 without one.
func (t *Terminal) Window() (width, height int) { return sizeOf(t.Out) }

// ErrWidth is the room for what goes to standard error, 0 when it is no terminal.
func (t *Terminal) ErrWidth() int {
	width, _ := sizeOf(t.Err)
	return width
}

func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

func sizeOf(stream any) (width, height int) {
	if f, ok := stream.(*os.File); ok && isTerminal(f) {
		if w, h, err := term.GetSize(int(f.Fd())); err == nil {
			return w, h
		}
	}
	return 0, 0
}
