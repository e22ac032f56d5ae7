package main

import (
	"errors"
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/logbook"
	"slipcase/weather/units"

	"github.com/spf13/cobra"
)

// Exit statuses. What goes where: answers to standard output, everything else to
// standard error; an error is one line that says what was wrong and what would be
// accepted, a hint a second one that says what to type.
const (
	exitDone        = 0
	exitCould       = 1 // could not: unknown vehicle, unreadable cell, file trouble
	exitUsage       = 2 // unparsable or impossible input
	exitImplausible = 3 // possible but implausible: --force records it all the same
	exitInterrupted = 130
)

const exitHelp = `Exit status: 0 done; 1 could not (unknown name, unreadable cell, file trouble);
2 wrong usage or impossible input; 3 refused as implausible, --force records it
all the same; 130 interrupted.`

// failure is an error with its exit status.
type failure struct {
	status int
	err    error
}

func (f *failure) Error() string { return f.err.Error() }
func (f *failure) Unwrap() error { return f.err }

// usage marks an error as the racer's input that cannot be.
func usage(err error) error {
	if err == nil {
		return nil
	}
	return &failure{exitUsage, err}
}

func usagef(format string, a ...any) error { return usage(units.Errorf(format, a...)) }

// asked makes usage of what the crew found impossible of what was asked, with the flag
// that asked it, as typed.
func asked(c *cobra.Command, err error) error {
	var done *failure
	var bad *crew.Impossible
	switch {
	case errors.As(err, &done) || !errors.As(err, &bad):
		return err
	case bad.Figure:
		return usagef("--%s %s: %w", bad.Of, c.Flag(bad.Of).Value, err)
	case bad.Of != "":
		return usagef("--%s: %w", bad.Of, err)
	}
	return usage(err)
}

// refuse turns doubts into the refusal that --force overrides.
func refuse(doubts []string) error {
	return &failure{exitImplausible, &doubtful{strings.Join(doubts, "; ")}}
}

// doubtful is the refusal of what looks wrong.
type doubtful struct{ why string }

func (e *doubtful) Error() string { return "not recorded, it looks wrong: " + e.why }

// statusOf gives the exit status of an error that a command returned.
func statusOf(err error) int {
	var f *failure
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &f):
		return f.status
	case errors.Is(err, tty.ErrInterrupted), errors.Is(err, tty.ErrStopped):
		return exitInterrupted
	case errors.Is(err, tty.ErrEnded), errors.Is(err, logbook.ErrNumber):
		return exitUsage
	}
	return exitCould
}

// advised is an error that brings its own hint, of a line or more.
type advised struct {
	err  error
	hint string
}

func (e *advised) Error() string { return e.err.Error() }
func (e *advised) Unwrap() error { return e.err }

// hint says what to type next after an error, "" when the error says it all.
func hint(err error) string {
	var own *advised
	var void *crew.TakenOut
	var column *crew.NoOwnColumn
	switch {
	case errors.As(err, &column):
		return fmt.Sprintf("slipcase column add %s --kind number makes one; column list shows them", column.Name)
	case errors.As(err, &own):
		return own.hint
	case errors.As(err, &void):
		return fmt.Sprintf("slipcase %s unvoid %s puts it back", void.Of, void.ID)
	case statusOf(err) == exitImplausible:
		return "check what was typed; --force takes it as it is"
	case errors.Is(err, logbook.ErrNoLogbook):
		return "slipcase init makes one; --logbook or SLIPCASE_LOGBOOK names another; slipcase demo shows one"
	case errors.Is(err, logbook.ErrMissing):
		return "slipcase check --repair makes it anew from the journal"
	case errors.Is(err, logbook.ErrJournaled),
		errors.Is(err, logbook.ErrNoVersion),
		errors.Is(err, logbook.ErrDamagedVersion),
		errors.Is(err, logbook.ErrCutOff):
		return repairHint
	case errors.Is(err, logbook.ErrOwnFile):
		return "name another file, as season-2026.zip"
	case errors.Is(err, logbook.ErrBackupThere):
		return "name another file, or --force replaces it"
	case errors.Is(err, logbook.ErrNotEmpty):
		return "name another folder, or --merge adds to the logbook there"
	case errors.Is(err, logbook.ErrSeveral):
		return "--vehicle says whose"
	case errors.Is(err, logbook.ErrLetters):
		return "a vehicle or track takes any text as its --title"
	case errors.Is(err, logbook.ErrUnknown):
		return "slipcase vehicle list, track list, setup list, slip list, air list, power list, plan list, part list, part show NAME show what is there"
	}
	return ""
}
