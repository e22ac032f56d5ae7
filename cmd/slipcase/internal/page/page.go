package page

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/jedib0t/go-pretty/v6/text"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Page writes answers. No color is used anywhere, so nothing depends on it.
type Page struct {
	Out    io.Writer // answers
	Err    io.Writer // notes beside them
	Format table.Format
	Units  units.System
	Bare   units.System // what numbers without unit mean: what may be typed again says its unit where they differ
	// Window is the room on the terminal in columns and lines, 0 and 0 without one;
	// ErrWidth the columns where notes go.
	Window   func() (width, height int)
	ErrWidth func() int
	Mute     bool // no command can be typed where it is read
}

func (p *Page) window() (width, height int) { return p.Window() }

// Width is the room on the terminal, 0 without one.
func (p *Page) Width() int {
	w, _ := p.window()
	return w
}

func (p *Page) errWidth() int { return p.ErrWidth() }

// Wrap writes a line, broken between words where the terminal is narrower.
func (p *Page) Wrap(w io.Writer, line string) {
	if width := p.Width(); width > 0 {
		line = text.WrapSoft(line, max(20, width))
	}
	for l := range strings.SplitSeq(line, "\n") {
		fmt.Fprintln(w, strings.TrimRight(l, " "))
	}
}

// Room is the width to write in: the terminal's, at most 80 columns.
func (p *Page) Room() int {
	if w := p.Width(); w > 0 {
		return min(w, 80)
	}
	return 80
}

// Lines breaks text into lines of at most width columns, at blanks.
func Lines(words string, width int) []string {
	lines := strings.Split(text.WrapSoft(words, max(width, 10)), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return lines
}

// Answer prints a result: value as JSON, or t as CSV or Markdown, or what text
// writes for a person; without text the table serves him too.
func (p *Page) Answer(value any, t table.Table, text func(w io.Writer)) error {
	switch {
	case p.Format == table.JSON:
		return writeJSON(p.Out, value)
	case p.Format == table.Text && text != nil:
		var b strings.Builder
		text(&b)
		_, err := io.WriteString(p.Out, commandsApart(b.String(), p.Width()))
		return err
	case p.Format == table.Text && len(t.Rows) == 0:
		_, err := fmt.Fprintln(p.Out, "none recorded yet")
		return err
	}
	return t.Render(p.Out, p.Format, p.Width())
}

// commandsApart puts a command that is offered behind its words on a line of its own where
// both are wider than the window, so that it can be read, and copied, whole; what was
// recorded is broken at blanks.
func commandsApart(text string, width int) string {
	const apart = "   slipcase "
	var b strings.Builder
	for line := range strings.Lines(text) {
		words, command, offered := strings.Cut(line, apart)
		switch wide := width > 0 && utf8.RuneCountInString(strings.TrimRight(line, "\n")) > width; {
		case wide && offered:
			line = words + "\n    " + strings.TrimLeft(apart, " ") + command
		case wide && strings.HasPrefix(line, "recorded  "):
			line = Folded(line, width)
		}
		b.WriteString(line)
	}
	return b.String()
}

// Aside tells on standard error what a person would read beside the answer, where
// the form of the answer has no place for it.
func (p *Page) Aside(remarks []string) {
	if p.Format == table.CSV || p.Format == table.Markdown {
		for _, r := range remarks {
			p.Note("note: %s", r)
		}
	}
}

// Wrong says what is wrong, its figures and examples in the units of the reader.
func (p *Page) Wrong(err error) string { return units.In(err, p.Units) }

// Note writes a line for the racer beside the answer.
func (p *Page) Note(format string, args ...any) {
	for i, a := range args {
		if err, ok := a.(error); ok {
			args[i] = p.Wrong(err)
		}
	}
	fmt.Fprintln(p.Err, Folded(table.Clean(fmt.Sprintf(format, args...)), p.errWidth()))
}

// Show writes a quantity in the units asked for, a dash when absent.
func (p *Page) Show(k units.Kind, n units.Number) string {
	if !n.Known() {
		return "-"
	}
	return k.Format(p.Units, n.Value())
}

// Cell is a quantity in a table: bare in CSV, where the heading has the unit.
func (p *Page) Cell(k units.Kind, n units.Number) string {
	switch {
	case !n.Known():
		return ""
	case p.Format == table.CSV:
		return p.bare(k, n.Value())
	}
	return k.Format(p.Units, n.Value())
}

// Suffix is the unit of cell as it ends a CSV heading: ft, m, mph, km_h.
func (p *Page) Suffix(k units.Kind) string {
	return strings.ToLower(strings.ReplaceAll(k.Symbol(p.Units), "/", "_"))
}

// Share is a probability or share of one: bare in CSV, and to a person never surer
// than there is evidence for.
func (p *Page) Share(v float64) string {
	switch {
	case p.Format == table.CSV:
		return strconv.FormatFloat(rounded(v, ToShare), 'f', -1, 64)
	case v > 0.99 && v < 1:
		return "over 99 %"
	case v > 0 && v < 0.01:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*v)
}

// Stamp is a moment in a table; in CSV it keeps its offset.
func (p *Page) Stamp(t time.Time) string {
	switch {
	case t.IsZero():
		return ""
	case p.Format == table.CSV:
		return t.Format(time.RFC3339)
	}
	return t.Format("2006-01-02 15:04")
}

// Speed is a speed alone, in the units shown.
func (p *Page) Speed(n units.Number) string {
	if !n.Known() {
		return ""
	}
	return fmt.Sprintf("%.2f", units.Speed.In(p.Units, n.Value()))
}

// RunText is a time and its speed as the trade writes them.
func (p *Page) RunText(s crew.Splits, m crew.Mark) string {
	return fmt.Sprintf("%.3f%s", s.ETs[m].Value(), p.atSpeed(s.MPHs[m]))
}

// atSpeed is the speed behind a time, "" without one; a metric one tells its unit.
func (p *Page) atSpeed(mph units.Number) string {
	switch {
	case !mph.Known():
		return ""
	case p.Units == units.US && p.Bare == units.US:
		return " @ " + p.Speed(mph)
	}
	return " @ " + p.Speed(mph) + " " + units.Speed.Symbol(p.Units)
}

// Say writes a label and its text, wrapped behind it; in a narrow window under it.
func (p *Page) Say(w io.Writer, label, words string) {
	const narrow, least = 60, 12
	indent, beside, room := 19, 17, 80
	if width := p.Width(); width > 0 && width < room {
		room = width
		if width < narrow {
			indent, beside = 4, 7
		}
	}
	head := fmt.Sprintf("%-*s  ", beside, label)
	lines := hanging(table.Clean(words), max(least, room-utf8.RuneCountInString(head)), max(least, room-indent))
	fmt.Fprintf(w, "%s%s\n", head, lines[0])
	for _, l := range lines[1:] {
		fmt.Fprintf(w, "%*s%s\n", indent, "", l)
	}
}

// hanging breaks words into a line of at most first columns and further ones of rest.
func hanging(words string, first, rest int) []string {
	if utf8.RuneCountInString(words) <= first {
		return []string{words}
	}
	lines, room := []string{""}, first
	for _, word := range strings.Fields(words) {
		last := len(lines) - 1
		switch {
		case lines[last] == "":
			lines[last] = word
		case utf8.RuneCountInString(lines[last])+1+utf8.RuneCountInString(word) <= room:
			lines[last] += " " + word
		default:
			lines, room = append(lines, word), rest
		}
	}
	return lines
}

func Plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func OrDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// When shows a moment to a person.
func When(t time.Time) string { return t.Format("Mon 2 Jan 2006 15:04") }
