package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"golang.org/x/term"

	"slipcase/cmd/slipcase/internal/table"
)

var (
	errInputEnded  = errors.New("the input ended: nothing was recorded")
	errInterrupted = &failure{exitInterrupted, errors.New("interrupted: nothing was recorded")}

	// draftKept says that a form has left a draft, for whoever is interrupted.
	draftKept atomic.Bool
	// lineMode is the terminal's own state while a single key is waited for.
	lineMode atomic.Pointer[term.State]
)

// exitHangup is what a shell reports of a program whose terminal went away.
const exitHangup = 129

// recording is held while files change: an interrupt waits for it, so that
// nothing is left half recorded.
var recording sync.Mutex

// heedSignals sets what a closed pipe, Ctrl-C and a lost terminal do.
func heedSignals() {
	// A reader that goes away (| head -1) is no failure: let the write say so
	// instead of the signal that kills.
	signal.Ignore(syscall.SIGPIPE)
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt, syscall.SIGHUP, syscall.SIGTERM)
	go func() {
		sig := <-stop
		recording.Lock()
		endLineMode()
		if sig == syscall.SIGHUP {
			os.Exit(exitHangup)
		}
		if draftKept.Load() {
			fmt.Fprint(os.Stderr, "\na draft is kept: slipcase slip add goes on with it\n")
		}
		os.Exit(exitInterrupted)
	}()
}

func endLineMode() {
	if was := lineMode.Swap(nil); was != nil {
		term.Restore(int(os.Stdin.Fd()), was)
	}
}

// reader is standard input for every question of this run.
func (a *app) reader() *bufio.Reader {
	if a.lines == nil {
		a.lines = bufio.NewReader(a.in)
	}
	return a.lines
}

// ask prompts for one value; Enter keeps what is offered.
func (a *app) ask(label, offered string) (string, error) {
	prompt := label
	if offered != "" {
		prompt += " [" + table.Clean(offered) + "]"
	}
	fmt.Fprint(a.terminal, prompt+": ")
	line, err := a.reader().ReadString('\n')
	if err != nil && line == "" {
		fmt.Fprintln(a.terminal)
		return "", a.ended()
	}
	line = strings.TrimSpace(otherKeys.ReplaceAllString(line, ""))
	justKeyed := time.Since(a.keyed) < time.Second
	a.keyed = time.Time{}
	if line == "" && justKeyed {
		return a.ask(label, offered) // Enter typed behind a single key
	}
	if line == "" {
		return offered, nil
	}
	return line, nil
}

// otherKeys are what arrows but up and the like send: no figure, and no name.
var otherKeys = regexp.MustCompile("\x1b(\\[|O)[0-9;]*[B-Z~]")

func (a *app) ended() error {
	if draftKept.Load() {
		return usagef("%w; a draft is kept: slipcase slip add goes on with it", errInputEnded)
	}
	return usage(errInputEnded)
}

// key waits for one of the keys, without Enter; '\n' among them is Enter itself.
// What was typed before the question could not be meant for it and is dropped.
func (a *app) key(prompt, keys string) (byte, error) {
	if f, ok := a.in.(*os.File); ok && a.interactive() {
		dropTyped(f)
		a.lines = nil
		if was, err := term.MakeRaw(int(f.Fd())); err == nil {
			lineMode.Store(was)
			defer endLineMode()
		}
	}
	// Asked only now: a quick answer to it must not be dropped with the rest.
	fmt.Fprint(a.terminal, prompt+": ")
	for {
		b, err := a.reader().ReadByte()
		if err != nil {
			fmt.Fprint(a.terminal, "\r\n")
			if errors.Is(err, io.EOF) {
				return 0, a.ended()
			}
			return 0, err
		}
		switch b {
		case 3: // Ctrl-C, which raises no signal while single keys are read
			fmt.Fprint(a.terminal, "\r\n")
			return 0, errInterrupted
		case 4:
			fmt.Fprint(a.terminal, "\r\n")
			return 0, a.ended()
		case '\r':
			b = '\n'
		}
		if b >= 'A' && b <= 'Z' {
			b += 'a' - 'A'
		}
		if strings.IndexByte(keys, b) >= 0 {
			if b != '\n' {
				fmt.Fprintf(a.terminal, "%c", b)
				a.keyed = time.Now()
			}
			fmt.Fprint(a.terminal, "\r\n")
			return b, nil
		}
	}
}
