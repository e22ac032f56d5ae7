package page

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// What is read in the pits is fitted into the window: its lines are broken at blanks,
// and where it is too short the least needed of them are left out.

// Screen is an answer in parts, each needed more or less.
type Screen struct{ parts []*Part }

// Part is what of a screen is kept or left out as one.
type Part struct {
	strings.Builder
	spare int    // left out where there is no room: the highest first, 0 never
	Short string // of one that is never left out: what does in its place
}

// Spare begins a part.
func (s *Screen) Spare(n int) *Part {
	p := &Part{spare: n}
	s.parts = append(s.parts, p)
	return p
}

// Fit writes a screen, in a window only as many lines as it holds beside the next
// prompt.
func (p *Page) Fit(w io.Writer, s *Screen) {
	width, height := p.window()
	parts := slices.Clone(s.parts)
	lines := func() (n int) {
		for _, p := range parts {
			n += rows(p.String(), width)
		}
		return n
	}
	out := 0
	tall := func() bool {
		room := height - 1 // beside the prompt
		if out > 0 {
			room-- // what was left out is said
		}
		return lines() > room
	}
	for height > 0 && len(parts) > 0 && tall() {
		least := slices.MaxFunc(parts, func(a, b *Part) int { return a.spare - b.spare })
		if least.spare == 0 {
			if !shorten(parts) {
				break
			}
			continue
		}
		out += strings.Count(least.String(), "\n")
		parts = slices.DeleteFunc(parts, func(p *Part) bool { return p == least })
	}
	for _, p := range parts {
		io.WriteString(w, p.String())
	}
	if out > 0 {
		p.Wrap(w, fmt.Sprintf("(%d %s left out: a taller window shows all)", out, Plural(out, "line", "lines")))
	}
}

// shorten puts the next short form in its place; false when there is none left.
func shorten(parts []*Part) bool {
	at := slices.IndexFunc(parts, func(p *Part) bool { return p.Short != "" })
	if at < 0 {
		return false
	}
	short := &Part{}
	short.WriteString(parts[at].Short)
	parts[at] = short
	return true
}

// rows are the lines that a text takes in a window.
func rows(text string, width int) (n int) {
	for line := range strings.Lines(text) {
		n++
		if long := utf8.RuneCountInString(strings.TrimRight(line, "\n")); width > 0 && long > width {
			n += (long - 1) / width
		}
	}
	return n
}

// Folded breaks the lines of a text that a window of so many columns cannot hold, at
// blanks; what is broken off stands a little further in.
func Folded(text string, width int) string {
	if width <= 0 {
		return text
	}
	var out strings.Builder
	for line := range strings.Lines(text) {
		bare := strings.TrimRight(line, "\n")
		if utf8.RuneCountInString(bare) <= width {
			out.WriteString(line)
			continue
		}
		in := bare[:len(bare)-len(strings.TrimLeft(bare, " "))]
		for i, l := range Lines(strings.TrimSpace(bare), width-len(in)-2) {
			if i > 0 {
				out.WriteString("\n  ")
			}
			out.WriteString(in + strings.TrimLeft(l, " "))
		}
		out.WriteString(line[len(bare):])
	}
	return out.String()
}

// Kept says what was recorded, for whoever does not see the answer: one entry by its id,
// behind what was recorded before.
func Kept(before, what string, ids []string) string {
	text := count(len(ids), what)
	if len(ids) == 1 {
		text = what + " " + ids[0]
	}
	if before == "" {
		return "recorded: " + text
	}
	return before + ", " + text
}
