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
	// ErrStopped is an interrupt after something was recorded.
	ErrStopped = errors.New("interrupted")
)

// reader is standard input for every question of this run.
func (t *Terminal) reader() *bufio.Reader {
	if t.lines == nil {
		t.lines = bufio.NewReader(t.In)
		if isTerminal(t.In) {
			t.lines = bufio.NewReader(returns{t.In}) // a key typed before it was raw may have been Enter
		}
	}
	return t.lines
}

// returns makes one of the two keys that end a line.
type returns struct{ in io.Reader }

func (r returns) Read(p []byte) (int, error) {
	n, err := r.in.Read(p)
	for i, b := range p[:n] {
		if b == '\r' {
			p[i] = '\n'
		}
	}
	return n, err
}

// Ask prompts for one value; Enter keeps what is offered.
func (t *Terminal) Ask(label, offered string) (string, error) {
	prompt := label
	if offered != "" {
		prompt += " [" + table.Clean(offered) + "]"
	}
	line, err := t.answer(prompt + ": ")
	if err != nil {
		return "", err
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

// answer reads a line; behind an open prompt it is edited as one of those.
func (t *Terminal) answer(label string) (string, error) {
	if t.open != nil {
		return t.open.read(label, "", true)
	}
	fmt.Fprint(t.Out, label)
	line, err := t.reader().ReadString('\n')
	if err != nil && line == "" {
		fmt.Fprintln(t.Out)
		return "", ended()
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

// betweenKeys is longer than lies between the keys of a word as it is typed.
const betweenKeys = 250 * time.Millisecond

// Key waits for one of the words: its first letter alone, without Enter, or all of it; ""
// is Enter itself. Any other key or word only repeats the question. What was typed before
// it could not be meant for it and is dropped.
func (t *Terminal) Key(prompt string, words ...string) (string, error) {
	if f, ok := t.In.(*os.File); ok && t.Interactive() {
		dropTyped(f)
		t.lines = nil
		if was, err := term.MakeRaw(int(f.Fd())); err == nil {
			lineMode.Store(&mode{was: was})
			defer endLineMode()
		}
	}
	for {
		// Asked only now: a quick answer must not be dropped with the rest.
		fmt.Fprint(t.Out, prompt+": ")
		typed, err := t.word()
		fmt.Fprint(t.Out, "\r\n")
		if err != nil {
			return "", err
		}
		for _, w := range words {
			if strings.EqualFold(typed, w) || len(typed) == 1 && w != "" && strings.EqualFold(typed, w[:1]) {
				if len(typed) == 1 {
					t.keyed = time.Now()
				}
				return w, nil
			}
		}
	}
}

// Back is the word for the question before, and the key up.
const Back = "back"

// word reads keys to the Enter, or one key that no other follows.
func (t *Terminal) word() (string, error) {
	var typed []byte
	for {
		b, err := t.reader().ReadByte()
		switch {
		case errors.Is(err, io.EOF):
			return "", ended()
		case err != nil:
			return "", err
		}
		switch b {
		case 3: // Ctrl-C, which raises no signal while single keys are read
			return "", ErrInterrupted
		case 4:
			return "", ended()
		case '\r', '\n':
			return strings.TrimSpace(string(typed)), nil
		case 8, 127: // rub out
			typed = typed[:max(len(typed)-1, 0)]
			fmt.Fprint(t.Out, "\b \b")
			continue
		}
		typed = append(typed, b)
		if b >= ' ' {
			fmt.Fprintf(t.Out, "%c", b)
		}
		switch text := string(typed); {
		case len(text) > 1 && text[0] != escape, t.follows():
		case text == up || text == upToo:
			return Back, nil
		default:
			return text, nil
		}
	}
}

// What a terminal sends for the key up, in its two modes.
const (
	escape = '\x1b'
	up     = "\x1b[A"
	upToo  = "\x1bOA"
)

// GoesBack reports an answer that is the word or the key for the question before.
func GoesBack(text string) bool {
	return strings.Contains(text, up) || strings.Contains(text, upToo) || strings.EqualFold(text, Back) ||
		strings.EqualFold(text, "up")
}

// follows reports that a key follows the one before as in a word.
func (t *Terminal) follows() bool {
	if t.reader().Buffered() > 0 {
		return true
	}
	f, ok := t.In.(*os.File)
	return ok && keyWithin(f, betweenKeys)
}

// Paste prompts for a text of several lines, which ends with an empty line that nothing
// follows, a line with a dot alone, or the input.
func (t *Terminal) Paste(prompt string) (string, error) {
	fmt.Fprintln(t.Out, prompt+":")
	var text strings.Builder
	for {
		line, err := t.reader().ReadString('\n')
		if strings.TrimSpace(line) == "." {
			return text.String(), nil
		}
		text.WriteString(line)
		blank := strings.TrimSpace(line) == ""
		switch some := strings.TrimSpace(text.String()) != ""; {
		case err != nil && !some:
			return "", ended()
		case err != nil, blank && some && !t.follows():
			return text.String(), nil
		}
	}
}
