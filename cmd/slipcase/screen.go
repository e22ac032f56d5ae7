package main

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"
)

// What is read in the pits is fitted into the window: its lines are broken at blanks,
// and where it is too short the least needed of them are left out.

// screen is an answer in parts, each needed more or less.
type screen struct{ parts []*part }

type part struct {
	strings.Builder
	spare int    // left out where there is no room: the highest first, 0 never
	short string // of one that is never left out: what does in its place
}

// spare begins a part.
func (s *screen) spare(n int) *part {
	p := &part{spare: n}
	s.parts = append(s.parts, p)
	return p
}

// fit writes a screen, in a window only as many lines as it holds beside the next
// prompt.
func (a *app) fit(w io.Writer, s *screen) {
	width, height := a.window()
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
		least := slices.MaxFunc(parts, func(a, b *part) int { return a.spare - b.spare })
		if least.spare == 0 {
			if !shorten(parts) {
				break
			}
			continue
		}
		out += strings.Count(least.String(), "\n")
		parts = slices.DeleteFunc(parts, func(p *part) bool { return p == least })
	}
	for _, p := range parts {
		io.WriteString(w, p.String())
	}
	if out > 0 {
		a.wrapped(w, fmt.Sprintf("(%d %s left out: a taller window shows all)", out, plural(out, "line", "lines")))
	}
}

// shorten puts the next short form in its place; false when there is none left.
func shorten(parts []*part) bool {
	at := slices.IndexFunc(parts, func(p *part) bool { return p.short != "" })
	if at < 0 {
		return false
	}
	short := &part{}
	short.WriteString(parts[at].short)
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

// window is the room on the terminal, 0 and 0 without one.
func (a *app) window() (width, height int) {
	if f, ok := a.terminal.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		if w, h, err := term.GetSize(int(f.Fd())); err == nil {
			return w, h
		}
	}
	return 0, 0
}

// folded breaks the lines of a text that a window of so many columns cannot hold, at
// blanks; what is broken off stands a little further in.
func folded(text string, width int) string {
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
		for i, l := range wrapped(strings.TrimSpace(bare), width-len(in)-2) {
			if i > 0 {
				out.WriteString("\n  ")
			}
			out.WriteString(in + strings.TrimLeft(l, " "))
		}
		out.WriteString(line[len(bare):])
	}
	return out.String()
}

// errWidth is the room for what goes to standard error, 0 when it is no terminal.
func (a *app) errWidth() int {
	if f, ok := a.errOut.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil {
			return w
		}
	}
	return 0
}
