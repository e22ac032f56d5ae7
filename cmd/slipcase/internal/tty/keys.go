package tty

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"
	"time"

	"golang.org/x/term"

	"slipcase/cmd/slipcase/internal/table"
)

var (
	// ErrEnded is wrapped when the input ends where an answer was asked for.
	ErrEnded = errors.New("the input ended: nothing was recorded")
	// ErrInterrupted is a Ctrl-C read as a key.
	ErrInterrupted = errors.New("interrupted: nothing was recorded")
)

// reader is standard input for every question of this run.
func (t *Terminal) reader() *bufio.Reader {
	if t.lines == nil {
		t.lines = bufio.NewReader(t.In)
	}
	return t.lines
}

// Ask prompts for one value; Enter keeps what is offered.
func (t *Terminal) Ask(label, offered string) (string, error) {
	prompt := label
	if offered != "" {
		prompt += " [" + table.Clean(offered) + "]"
	}
	fmt.Fprint(t.Out, prompt+": ")
	line, err := t.reader().ReadString('\n')
	if err != nil && line == "" {
		fmt.Fprintln(t.Out)
		return "", ended()
	}
	line = strings.TrimSpace(otherKeys.ReplaceAllString(line, ""))
	justKeyed := time.Since(t.keyed) < time.Second
	t.keyed = time.Time{}
	if line == "" && justKeyed {
		return t.Ask(label, offered) // Enter typed behind a single key
	}
	if line == "" {
		return offered, nil
	}
	return line, nil
}

// otherKeys are what arrows but up and the like send: no figure, and no name.
var otherKeys = regexp.MustCompile("\x1b(\\[|O)[0-9;]*[B-Z~]")

func ended() error {
	if words := Parting(); words != "" {
		return fmt.Errorf("%w; %s", ErrEnded, words)
	}
	return ErrEnded
}

// Key waits for one of the keys, without Enter; '\n' among them is Enter itself.
// What was typed before the question could not be meant for it and is dropped.
func (t *Terminal) Key(prompt, keys string) (byte, error) {
	if f, ok := t.In.(*os.File); ok && t.Interactive() {
		dropTyped(f)
		t.lines = nil
		if was, err := term.MakeRaw(int(f.Fd())); err == nil {
			lineMode.Store(was)
			defer endLineMode()
		}
	}
	// Asked only now: a quick answer to it must not be dropped with the rest.
	fmt.Fprint(t.Out, prompt+": ")
	for {
		b, err := t.reader().ReadByte()
		if err != nil {
			fmt.Fprint(t.Out, "\r\n")
			if errors.Is(err, io.EOF) {
				return 0, ended()
			}
			return 0, err
		}
		switch b {
		case 3: // Ctrl-C, which raises no signal while single keys are read
			fmt.Fprint(t.Out, "\r\n")
			return 0, ErrInterrupted
		case 4:
			fmt.Fprint(t.Out, "\r\n")
			return 0, ended()
		case '\r':
			b = '\n'
		}
		if b >= 'A' && b <= 'Z' {
			b += 'a' - 'A'
		}
		if strings.IndexByte(keys, b) >= 0 {
			if b != '\n' {
				fmt.Fprintf(t.Out, "%c", b)
				t.keyed = time.Now()
			}
			fmt.Fprint(t.Out, "\r\n")
			return b, nil
		}
	}
}
