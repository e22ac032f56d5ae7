package tty

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"time"

	"golang.org/x/term"
)

// A prompt that stays open is golang.org/x/term's Terminal over the one reader: it edits,
// remembers and completes a line. The keys reach it one at a time, so that it never reads
// ahead of a question, and what it would take amiss does not reach it at all.

// ErrLeft is what Line returns when the racer leaves: Ctrl-D, or the terminal is gone.
var ErrLeft = errors.New("left")

// PasteError tells of a pasted text that is too long to be meant.
type PasteError struct{ Bytes int }

func (e *PasteError) Error() string { return fmt.Sprintf("a paste of %d bytes", e.Bytes) }

// Completing gives the words that the last one begun on a line may become.
type Completing func(line string) []string

// prompt is the terminal while a prompt stays open on it.
type prompt struct {
	t      *Terminal
	term   *term.Terminal
	keys   *keys
	past   *past
	may    Completing
	width  int
	height int
}

// Line reads a line at a prompt that stays open; begun stands on it already. A text of
// several lines that is pasted comes as one. Ctrl-C clears the line. A terminal that cannot
// edit gets plain lines.
func (t *Terminal) Line(label, begun string, may Completing) (string, error) {
	if !t.edits() {
		return t.plain(label, begun)
	}
	if t.open == nil {
		t.open = newPrompt(t)
	}
	t.open.may = may
	return t.open.read(label, begun, false)
}

// edits reports a terminal on which a line can be edited.
func (t *Terminal) edits() bool {
	name := os.Getenv("TERM")
	return t.Interactive() && name != "" && name != "dumb" && runtime.GOOS != "windows"
}

// plain reads a line that the terminal itself edits.
func (t *Terminal) plain(label, begun string) (string, error) {
	if begun != "" {
		fmt.Fprintf(t.Out, "not taken: %s\n", begun)
	}
	fmt.Fprint(t.Out, label)
	defer OnInterrupt(func() { fmt.Fprint(t.Out, "\r\n"+label) })() // the terminal has dropped the line
	line, err := t.reader().ReadString('\n')
	if err != nil && line == "" {
		fmt.Fprintln(t.Out)
		return "", ErrLeft
	}
	return t.withMore(clean(line))
}

// withMore adds the lines that come behind a line at once, as those of a paste without
// brackets do: nobody types them.
func (t *Terminal) withMore(line string) (string, error) {
	n := len(line)
	for t.lineFollows() {
		next, err := t.reader().ReadString('\n')
		if err != nil && next == "" {
			break
		}
		if n += len(next); n <= longestPaste {
			line += "\n" + clean(next)
		}
	}
	if n > longestPaste {
		return "", &PasteError{n}
	}
	return line, nil
}

// betweenLines is longer than lies between the lines of a paste.
const betweenLines = 3 * time.Millisecond

// lineFollows reports that a whole line follows at once.
func (t *Terminal) lineFollows() bool {
	for {
		waiting, _ := t.reader().Peek(t.reader().Buffered())
		if bytes.ContainsAny(waiting, "\n") {
			return true
		}
		f, ok := t.In.(*os.File)
		if !ok || len(waiting) == t.reader().Size() || !keyWithin(f, betweenLines) {
			return false
		}
		if _, err := t.reader().Peek(len(waiting) + 1); err != nil {
			return false
		}
	}
}

func newPrompt(t *Terminal) *prompt {
	p := &prompt{t: t, keys: &keys{t: t}, past: &past{}}
	p.term = term.NewTerminal(p.keys, "")
	p.term.History, p.term.AutoCompleteCallback = p.past, p.complete
	p.keys.before = p.resize
	return p
}

// read reads a line, or the answer to a question, which Ctrl-C and Ctrl-D end.
func (p *prompt) read(label, begun string, question bool) (string, error) {
	defer p.raw()()
	p.term.SetPrompt(label)
	p.resize()
	*p.keys = keys{t: p.t, before: p.resize, question: question, queue: []byte(begun)}
	p.past.closed = question
	line, err := p.term.ReadLine()
	if !question && err == nil {
		lineBegun.Store("")
	}
	switch k := p.keys; {
	case k.cut != nil:
		return "", k.cut
	case k.tooLong > 0:
		return "", &PasteError{k.tooLong}
	case err != nil && errors.Is(err, io.EOF) && question:
		return "", ended()
	case err != nil:
		fmt.Fprint(p.t.Out, "\r\n")
		return "", ErrLeft
	case question || k.pasted != "":
		return line + k.pasted, nil
	default:
		return p.t.withMore(line)
	}
}

// raw takes keys as they are typed, pastes in brackets, until the function that it returns
// is called or the program ends.
func (p *prompt) raw() func() {
	f, ok := p.t.In.(*os.File)
	if !ok {
		return func() {}
	}
	was, err := term.MakeRaw(int(f.Fd()))
	if err != nil {
		return func() {}
	}
	lineMode.Store(&mode{was, p.t.Out})
	p.term.SetBracketedPasteMode(true)
	return endLineMode
}

// resize tells the editor of a window that has changed.
func (p *prompt) resize() {
	w, h := p.t.Window()
	if w > 0 && (w != p.width || h != p.height) {
		p.width, p.height = w, h
		_ = p.term.SetSize(w, h) // what cannot be drawn now is drawn with the next key
	}
}

// complete completes the word before the cursor; of several it shows what they are.
func (p *prompt) complete(line string, pos int, key rune) (string, int, bool) {
	if string(key) == tellLine && !p.keys.question {
		lineBegun.Store(line)
	}
	if key != '\t' {
		return "", 0, false
	}
	if p.may == nil || p.keys.question {
		return line, pos, true
	}
	head := line[:pos]
	at := strings.LastIndexByte(head, ' ') + 1
	words := p.may(head)
	into := common(words)
	switch {
	case len(words) == 1:
		into += " "
	case len(into) <= len(head)-at:
		if len(words) > 1 {
			fmt.Fprintln(p.term, clip(strings.Join(words, "  "), 3*max(p.width, 20)-4))
		}
		return line, pos, true
	}
	return head[:at] + into + line[pos:], at + len(into), true
}

// common is what all words begin with.
func common(words []string) string {
	if len(words) == 0 {
		return ""
	}
	first := words[0]
	for _, w := range words[1:] {
		for !strings.HasPrefix(w, first) {
			first = first[:len(first)-1]
		}
	}
	return first
}

func clip(text string, most int) string {
	if len(text) > most {
		return strings.ToValidUTF8(text[:most], "") + " ..."
	}
	return text
}

// past are the lines typed before, the latest first; answers to questions are not kept.
type past struct {
	lines  []string
	closed bool
}

const mostPast = 100

// Add keeps a line.
func (h *past) Add(line string) {
	if line = strings.TrimSpace(line); line == "" || h.closed || len(h.lines) > 0 && h.lines[0] == line {
		return
	}
	h.lines = append([]string{line}, h.lines[:min(len(h.lines), mostPast-1)]...)
}

// Len is how many there are.
func (h *past) Len() int { return len(h.lines) }

// At is one of them, the latest first.
func (h *past) At(i int) string { return h.lines[i] }
