package tty

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// keys hands what is typed to the editor of a line, a key at a time.
type keys struct {
	t        *Terminal
	before   func() // called before a key is handed on
	question bool   // an answer is typed: Ctrl-C and Ctrl-D end it, the key up goes back
	queue    []byte // to be handed on
	pasted   string // of several lines, which ends the line
	tooLong  int    // bytes of a paste that is too long
	cut      error  // why the answer was ended
	told     bool   // the line as it stands is to be asked for
}

const (
	clearLine = "\x05\x15" // to its end, then all before it
	enterKey  = "\r"
	tellLine  = "\x1c" // means nothing to the editor, which asks complete about it with its line

	// longestLine and longestPaste are more than any line and any page of slips, bytes.
	longestLine, longestPaste = 2000, 64 << 10
)

// editing are the control keys that the editor knows.
const editing = "\x01\x02\x04\x05\x06\b\t\x0b\x0c\x0e\x10\x15\x17\x7f"

// sequences are the keys that send several bytes behind an escape, as the editor knows them.
var sequences = map[string]string{
	"A": "\x1b[A", "B": "\x1b[B", "C": "\x1b[C", "D": "\x1b[D", "H": "\x1b[H", "F": "\x1b[F", "3~": "\x1b[3~",
	"1~": "\x1b[H", "7~": "\x1b[H", "4~": "\x1b[F", "8~": "\x1b[F",
	"1;3C": "\x1b[1;3C", "1;3D": "\x1b[1;3D", "1;5C": "\x1b[1;3C", "1;5D": "\x1b[1;3D",
}

// Read hands on the next key, and behind each the one that makes the editor tell its line.
func (k *keys) Read(p []byte) (int, error) {
	if len(k.queue) == 0 && k.told {
		k.queue, k.told = []byte(tellLine), false
		n := copy(p, k.queue)
		k.queue = k.queue[n:]
		return n, nil
	}
	for len(k.queue) == 0 {
		if err := k.next(); err != nil {
			return 0, err
		}
	}
	k.before()
	n := copy(p, k.queue)
	k.queue, k.told = k.queue[n:], true
	return n, nil
}

// Write shows what the editor draws.
func (k *keys) Write(p []byte) (int, error) { return k.t.Out.Write(p) }

// next reads a key into the queue, nothing for one that means nothing on a line.
func (k *keys) next() error {
	r, size, err := k.t.reader().ReadRune()
	switch {
	case err != nil:
		return err
	case r == 3 && k.question:
		k.end(ErrInterrupted)
	case r == 4 && k.question:
		k.end(ended())
	case r == 3:
		k.queue = []byte(clearLine)
	case r == '\n' || r == '\r':
		k.queue = []byte(enterKey)
	case r == escape:
		return k.sequence()
	case r == utf8.RuneError && size == 1: // no letter at all
	case strings.ContainsRune(editing, r), unicode.IsPrint(r):
		k.queue = utf8.AppendRune(nil, r)
	}
	return nil
}

// end ends an answer.
func (k *keys) end(why error) { k.cut, k.queue = why, []byte(clearLine+enterKey) }

// sequence reads a key of several bytes. An escape alone means nothing.
func (k *keys) sequence() error {
	if !k.t.follows() {
		return nil
	}
	if b, err := k.t.reader().ReadByte(); err != nil || b != '[' && b != 'O' {
		return err
	}
	const longest = 16
	var seq []byte
	for len(seq) < longest && (len(seq) == 0 || seq[len(seq)-1] < '@') {
		b, err := k.t.reader().ReadByte()
		if err != nil {
			return err
		}
		seq = append(seq, b)
	}
	switch key := string(seq); {
	case key == "200~":
		return k.paste()
	case key == "A" && k.question:
		k.queue = []byte(clearLine + Back + enterKey)
	default:
		k.queue = []byte(sequences[key])
	}
	return nil
}

var pasteEnd = []byte("\x1b[201~")

// paste reads a pasted text to its end. A line of it can be edited before Enter, several
// are taken at once.
func (k *keys) paste() error {
	var text []byte
	n := 0
	for !bytes.HasSuffix(text, pasteEnd) {
		b, err := k.t.reader().ReadByte()
		if err != nil {
			return err
		}
		if text = append(text, b); len(text) > longestPaste {
			text = bytes.Clone(text[len(text)-len(pasteEnd):]) // its end is still to be seen
		}
		n++
	}
	n -= len(pasteEnd)
	lines := clean(string(bytes.TrimSuffix(text, pasteEnd)))
	switch several := strings.Contains(lines, "\n"); {
	case n > longestPaste-len(pasteEnd) || !several && len(lines) > longestLine:
		k.tooLong, k.queue = n, []byte(clearLine+enterKey)
	case several:
		k.pasted, k.queue = lines, []byte("\x05"+enterKey)
	default:
		k.queue = []byte(lines)
	}
	return nil
}

// clean is a text without what no line of a slip has: control bytes become blanks, the
// ends of lines alike.
func clean(text string) string {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '\r':
			return '\n'
		case r == '\n' || unicode.IsPrint(r) && r != utf8.RuneError:
			return r
		}
		return ' '
	}, text)
	return strings.TrimSpace(text)
}
