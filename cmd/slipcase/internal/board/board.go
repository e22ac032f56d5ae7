// Package board is the prompt that a log is held open at through the day: each line typed is
// a slip, a reading or a command, and is run as if it had been typed in a shell.
package board

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/printed"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/cmd/slipcase/internal/typed"
)

// Board is a log held open, and what runs the lines typed.
type Board struct {
	*crew.Session
	TTY   *tty.Terminal
	Page  *page.Page
	Flags []string // that each command line begins with
	Tree  func() *cobra.Command
	// Run runs a command line; in is what it reads of standard input, nil for what there is.
	// It tells whether the line is done with, or is to be put right.
	Run func(ctx context.Context, root *cobra.Command, in io.Reader, args []string) bool

	again string          // a line put back onto the prompt
	told  map[string]bool // of what could not be read
}

// moreMemory lets garbage grow, percent, while a racer waits for a verdict: its fits make
// megabytes of it, and a board holds few.
const moreMemory = 400

// Open shows the board and takes lines until the racer leaves.
func (b *Board) Open(ctx context.Context) error {
	debug.SetGCPercent(moreMemory)
	if err := b.BeginDay(); err != nil {
		return err
	}
	b.line(ctx, "")
	tty.OnEnd(b.keepLine)
	if b.again = b.TakeLine(); b.again != "" {
		b.Page.LineLeft()
	}
	for {
		was, begun := b.Now(), b.again
		b.again = ""
		text, err := b.TTY.Line("> ", begun, b.Complete)
		long := (*tty.PasteError)(nil)
		switch text = strings.TrimSpace(text); {
		case errors.As(err, &long):
			b.Page.NoPaste(long.Error())
		case err != nil:
			b.keepLine(tty.HalfTyped())
			return nil
		case slices.Contains([]string{"q", "quit", "exit"}, strings.ToLower(text)):
			return nil
		case b.DayOf(was) != b.DayOf(b.Now()):
			b.Page.ClockMoved(was, b.Now())
			b.again = text
			if err := b.BeginDay(); err != nil {
				return err
			}
		default:
			b.text(ctx, text)
		}
	}
}

// keepLine keeps what was typed when the terminal went away; Ctrl-D leaves nothing.
func (b *Board) keepLine(line string) {
	if line = strings.TrimSpace(line); line == "" {
		return
	}
	if err := b.KeepLine(line); err != nil {
		b.Page.Note("the line is not kept, %v: %s", err, line)
	}
}

// Swap puts the log that has come in the place of the one held open.
func (b *Board) Swap(s *crew.Session) error {
	b.Session = s
	return b.BeginDay()
}

// text takes what came at once: a line, or the lines of a paste, which are slips or
// readings, all or none, the text of a printed slip, or else lines as they may be typed one by
// one.
func (b *Board) text(ctx context.Context, text string) {
	lines := strings.FieldsFunc(text, func(r rune) bool { return r == '\n' })
	if len(lines) < 2 {
		b.line(ctx, text)
		return
	}
	root, of := b.Tree(), map[typed.Kind]int{}
	for _, line := range lines {
		of[b.kindOf(root, line)]++
	}
	read, notPrinted := printed.Read(text)
	switch {
	case of[typed.ASlip] == len(lines) && typed.WholeSlip(b.Page.Bare, lines[0], b.words(root)):
		b.run(ctx, root, text, "slip", "add", "-")
	case of[typed.Command] < len(lines) && notPrinted == nil:
		b.runOn(ctx, root, &printed.Paste{Reader: strings.NewReader(text), Slip: read}, "slip", "read", "-")
	case b.kindOf(root, lines[0]) == typed.AReading:
		b.run(ctx, root, text, "air", "add", "-")
	case of[typed.ASlip] == len(lines):
		b.run(ctx, root, text, "slip", "add", "-")
	case of[typed.Unknown] > 0:
		b.Page.NoPaste(page.PastedLines(len(lines)))
	default:
		for _, line := range lines {
			b.line(ctx, line)
		}
	}
}

// line runs a line. One that told of a slip or a reading and was not recorded is put
// back onto the prompt.
func (b *Board) line(ctx context.Context, line string) {
	root, words := b.Tree(), strings.Fields(line)
	kind := b.kindOf(root, line)
	done := true
	switch {
	case line == "":
		done = b.run(ctx, root, "")
	case line == "?":
		b.Page.BoardHelp(b.TTY.Out)
	case kind == typed.Command:
		args, err := commandArgs(root, line)
		if err != nil {
			b.Page.Note("%v", err)
			return
		}
		b.run(ctx, root, "", args...)
	case kind == typed.AReading:
		done = b.run(ctx, root, "", append([]string{"air", "add"}, words...)...)
	case kind == typed.ASlip:
		done = b.run(ctx, root, "", append([]string{"slip", "add"}, words...)...)
	case b.isName(words[0]):
		b.Page.NameAlone(words[0])
	default:
		b.Page.NotKnown(words[0], nearest(root, words[0]))
	}
	if !done {
		b.again = line
		b.Page.PutBack()
	}
}

// run runs a command line, which Ctrl-C ends without ending the board. What it reads of
// standard input, if anything, is text.
func (b *Board) run(ctx context.Context, root *cobra.Command, text string, args ...string) bool {
	if text != "" {
		return b.runOn(ctx, root, strings.NewReader(text), args...)
	}
	return b.runOn(ctx, root, nil, args...)
}

// runOn is run with what it reads of standard input, nil for what there is.
func (b *Board) runOn(ctx context.Context, root *cobra.Command, in io.Reader, args ...string) bool {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	defer tty.OnInterrupt(cancel)()
	defer tty.SetKept("")
	return b.Run(ctx, root, in, slices.Concat(b.Flags, args))
}

// kindOf tells what a line is.
func (b *Board) kindOf(root *cobra.Command, line string) typed.Kind {
	return typed.KindOf(b.Page.Bare, line, b.words(root))
}

// words are those that a line may begin with.
func (b *Board) words(root *cobra.Command) typed.Words {
	root.InitDefaultHelpCmd() // which is there only once a line has run
	vs, _ := b.Vehicles()     // of a log that cannot be read the command will tell
	ts, _ := b.Tracks()
	return typed.Words{
		Name: func(word string) bool {
			is := func(name string) bool { return strings.EqualFold(name, word) }
			return slices.ContainsFunc(vs, func(v crew.Vehicle) bool { return is(v.ID) }) ||
				slices.ContainsFunc(ts, func(t crew.Track) bool { return is(t.ID) })
		},
		Command: func(word string) bool {
			return word == "slipcase" || named(root, word) || named(slipCommand(root), word)
		},
	}
}

func (b *Board) isName(word string) bool {
	vehicle, track := b.named(word)
	return vehicle != "" || track != ""
}

// Newly are those things that were not told yet: the same files are read on and on.
func Newly[T any](b *Board, all []T) []T {
	if b == nil {
		return all
	}
	return slices.DeleteFunc(slices.Clone(all), func(it T) bool {
		says := fmt.Sprint(it)
		was := b.told[says]
		if b.told == nil {
			b.told = map[string]bool{}
		}
		b.told[says] = true
		return was
	})
}
