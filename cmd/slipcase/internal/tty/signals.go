package tty

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"sync"
	"sync/atomic"
	"syscall"

	"golang.org/x/term"
)

var (
	// Recording is held while files change: an interrupt waits for it, so that
	// nothing is left half recorded.
	Recording sync.Mutex

	// lastWords is what whoever is interrupted should know.
	lastWords atomic.Value
	// keptWords is what stays, though the answer to it may not be seen.
	keptWords atomic.Value
	// lineMode is the terminal's own state while it is read key by key.
	lineMode atomic.Pointer[mode]
	// lineBegun is the line that stands at an open prompt.
	lineBegun atomic.Value
	// lastly is done with it where the program is ended from outside.
	lastly atomic.Pointer[func(line string)]
	// instead is what Ctrl-C does instead of ending the program.
	instead atomic.Pointer[func()]
)

// mode is the terminal's own state, and where it is told so.
type mode struct {
	was *term.State
	out io.Writer // nil where pastes are in no brackets
}

// OnInterrupt makes Ctrl-C call f instead of ending the program, until the function that it
// returns is called.
func OnInterrupt(f func()) func() {
	before := instead.Swap(&f)
	return func() { instead.Store(before) }
}

// HalfTyped is the line that stands at an open prompt, not yet entered.
func HalfTyped() string {
	line, _ := lineBegun.Load().(string)
	return line
}

// OnEnd calls f with a line that is half typed where a signal ends the program.
func OnEnd(f func(line string)) { lastly.Store(&f) }

// SetParting sets what an interrupt says last; "" for nothing.
func SetParting(words string) { lastWords.Store(words) }

// Parting is what SetParting has set.
func Parting() string {
	words, _ := lastWords.Load().(string)
	return words
}

// Signal is why a context of Heed ended: what the shell is told of it.
type Signal struct{ Status int }

func (s *Signal) Error() string { return fmt.Sprintf("stopped by a signal, status %d", s.Status) }

// SetKept sets what is recorded whatever comes of the answer to it; "" for nothing.
func SetKept(words string) { keptWords.Store(words) }

// Kept is what SetKept has set.
func Kept() string {
	words, _ := keptWords.Load().(string)
	return words
}

const (
	interrupted = 130 // Ctrl-C
	hungUp      = 129 // the terminal went away
)

// Heed makes Ctrl-C, a request to end and a lost terminal end a context, with a
// *Signal as its cause, and a reader that goes away (| head -1) a failed write.
func Heed(parent context.Context) context.Context {
	signal.Ignore(syscall.SIGPIPE)
	ctx, cancel := context.WithCancelCause(parent)
	heard := make(chan os.Signal, 1)
	signal.Notify(heard, os.Interrupt, syscall.SIGHUP, syscall.SIGTERM)
	go func() {
		for sig := range heard {
			if sig == syscall.SIGHUP {
				cancel(&Signal{hungUp})
				continue
			}
			if f := instead.Load(); f != nil && sig == os.Interrupt {
				(*f)()
				continue
			}
			cancel(&Signal{interrupted})
		}
	}()
	return ctx
}

// Finish runs a job until it ends or its context does; then it waits for what is
// being recorded, puts the terminal back and gives the signal's status. The job is
// left where it stands: the program has to end.
func Finish(ctx context.Context, job func() int) int {
	done := make(chan int, 1)
	go func() { done <- job() }()
	select {
	case status := <-done:
		return status
	case <-ctx.Done():
	}
	Recording.Lock()
	endLineMode()
	if f := lastly.Load(); f != nil && HalfTyped() != "" {
		(*f)(HalfTyped())
	}
	var sig *Signal
	if !errors.As(context.Cause(ctx), &sig) {
		return interrupted
	}
	for _, words := range []string{Kept(), Parting()} {
		if words != "" && sig.Status == interrupted {
			fmt.Fprintf(os.Stderr, "\n%s\n", words)
			break // what is kept in the log needs no draft
		}
	}
	return sig.Status
}

func endLineMode() {
	m := lineMode.Swap(nil)
	if m == nil {
		return
	}
	if m.out != nil {
		io.WriteString(m.out, "\x1b[?2004l")
	}
	term.Restore(int(os.Stdin.Fd()), m.was)
}
