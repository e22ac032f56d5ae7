package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/board"
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/form"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// app is the program with all that it takes from outside, so that a test can
// hold the clock and the ids.
type app struct {
	in          io.Reader
	out, errOut io.Writer
	now         func() time.Time
	newID       func(kind byte) string

	tty    *tty.Terminal
	page   *page.Page
	format table.Format
	units  units.System
	dir    string
	strict bool
	held   *board.Board // nil without
}

// run runs one command line and returns its exit status. Where its context ends, long
// work does too, and nothing is recorded.
func (a *app) run(ctx context.Context, args []string) int {
	a.tty = &tty.Terminal{In: a.in, Out: a.out, Err: a.errOut}
	buffered := bufio.NewWriter(a.out)
	a.out = buffered
	a.page = &page.Page{Out: a.out, Err: a.errOut, Window: a.tty.Window, ErrWidth: a.tty.ErrWidth}
	return a.execute(ctx, a.command(), args)
}

// typing reports that standard input is what the racer types, and no text that the board has
// handed in.
func (a *app) typing() bool { return a.in == a.tty.In && a.tty.Interactive() }

// execute runs a command line by a fresh tree of the commands.
func (a *app) execute(ctx context.Context, root *cobra.Command, args []string) int {
	root.SetArgs(bareMinus(root, args))
	tty.SetKept("")
	c, err := root.ExecuteContextC(ctx)
	var f *failure
	if err != nil && !errors.As(err, &f) {
		err = wrongUsage(c, err)
	}
	if ferr := a.out.(*bufio.Writer).Flush(); ferr != nil && (err == nil || errors.Is(err, ferr)) {
		err = unshown(ferr)
	}
	if errors.Is(err, syscall.EPIPE) {
		err = nil // the reader has seen enough
	}
	if err != nil && !errors.Is(err, form.ErrEdit) {
		a.page.Note("slipcase: %v", err)
		for line := range strings.Lines(hint(err)) {
			a.page.Note("  %s", strings.TrimSpace(line))
		}
	}
	return statusOf(err)
}

// unshown is the error of an answer that could not be written, which undoes nothing.
func unshown(err error) error {
	if kept := tty.Kept(); kept != "" {
		return &advised{fmt.Errorf("recorded, but it could not be shown: %w", err), kept}
	}
	return fmt.Errorf("writing the answer: %w", err)
}

func (a *app) command() *cobra.Command {
	var format, system string
	root := &cobra.Command{
		Use:   "slipcase",
		Short: "time slips, corrected for the air; the next run, forecast",
		Long: `slipcase keeps your time slips, corrects them for the air and forecasts the next run.
Quantities take a unit (31C, 28.94inHg, 1565kg, 374m); a bare number means the US unit,
or the metric one in a logbook made with init --units metric.`,
		Example: `  slipcase demo
  slipcase init
  slipcase slip add --vehicle heron --track saltgrass --60 1.912 --660 8.412@{83.77|134.81} --1320 13.212@{105.84|170.33}`,
		Args:          cobra.NoArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		PersistentPreRunE: func(c *cobra.Command, _ []string) error {
			a.format = table.Format(format)
			if !slices.Contains(table.Formats, a.format) {
				return usagef("--format %q: want table, csv, json or markdown", format)
			}
			a.page.Format = a.format
			if c.Name() == cobra.ShellCompRequestCmd {
				writeExamples(c.Root(), logbook.UnitsOf(a.dir))
				a.completes(c.Root()) // of no use to any other command, and cobra keeps it for ever
			}
			return a.setUnits(c, system)
		},
		RunE: do(a.greet),
	}
	root.SuggestionsMinimumDistance = 2
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(flagError)
	root.SetGlobalNormalizationFunc(americanFlag)
	root.SetOut(a.out)
	root.SetErr(a.errOut)
	p := root.PersistentFlags()
	p.StringVar(&a.dir, "logbook", defaultDir(), "folder of the logbook")
	p.StringVar(&format, "format", "table", "table, csv, json or markdown")
	p.StringVar(&system, "units", "", "us or metric, for what is shown; the logbook's own when left out")
	p.BoolVar(&a.strict, "strict", false, "stop at the first row that cannot be read, instead of leaving it out")
	p.Bool("no-color", false, "accepted for scripts: no color is ever used")
	root.AddCommand(a.demoCommand(), a.initCommand(), a.vehicleCommand(), a.trackCommand(), a.setupCommand(),
		a.airCommand(), a.slipCommand(), a.forecastCommand(), a.correctCommand(),
		a.roundCommand(), a.dialCommand(), a.consistencyCommand(), a.backtestCommand(), a.trendCommand(), a.compareCommand(),
		a.dayCommand(), a.bestCommand(), a.seasonCommand(),
		a.powerCommand(), a.gearingCommand(), a.boostCommand(), a.planCommand(), a.partCommand(), a.passCommand(),
		a.columnCommand(),
		a.checkCommand(), a.backupCommand(), a.restoreCommand(), a.mergeCommand(), a.importCommand(), a.exportCommand(),
		a.pictureCommand(), a.reportCommand(), a.serveCommand(),
		a.versionCommand(), a.manCommand())
	if a.held != nil {
		root.AddCommand(a.useCommand())
	}
	explainExit(root)
	a.foldHelp(root)
	return root
}

// explainExit ends the help of every command with its exit statuses, and makes
// a mistyped command a matter of usage.
func explainExit(c *cobra.Command) {
	if c.Long == "" {
		c.Long = c.Short
	}
	c.Long += "\n\n" + exitHelp
	wordsToo(c)
	for _, sub := range c.Commands() {
		explainExit(sub)
	}
	if c.HasSubCommands() && c.RunE == nil {
		c.Args = cobra.ArbitraryArgs
		c.RunE = do(func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usagef("%q is no command of %s: see %s --help", args[0], c.CommandPath(), c.CommandPath())
			}
			return c.Help()
		})
	}
}

// do marks the errors that come from a command itself, so that all others, which
// are cobra's about the command line, count as wrong usage.
func do(f func(c *cobra.Command, args []string) error) func(*cobra.Command, []string) error {
	return func(c *cobra.Command, args []string) error {
		err := c.Context().Err()
		if err == nil {
			err = asked(c, f(c, args))
		}
		switch {
		case err == nil:
			return nil
		case errors.Is(err, context.Canceled) && tty.Kept() != "":
			err = fmt.Errorf("%w; %s", tty.ErrStopped, tty.Kept())
		case errors.Is(err, context.Canceled):
			err = tty.ErrInterrupted
		}
		return &failure{statusOf(err), err}
	}
}

// setUnits settles what is shown and what bare numbers mean, and reads the flags that
// have some: the log's units, unless --units says what is shown.
func (a *app) setUnits(c *cobra.Command, shown string) (err error) {
	bare := logbook.UnitsOf(a.dir)
	if a.units = bare; c.Flags().Changed("units") {
		if a.units, err = units.ParseSystem(shown); err != nil {
			return usagef("--units %w", err)
		}
	}
	a.page.Units, a.page.Bare = a.units, bare
	setBare(c, bare)
	return readFlags(c, bare)
}

// defaultDir is where the logbook is when nothing else is said.
func defaultDir() string {
	if dir := os.Getenv("SLIPCASE_LOGBOOK"); dir != "" {
		return dir
	}
	if dir := os.Getenv("XDG_DATA_HOME"); dir != "" {
		return filepath.Join(dir, "slipcase")
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "slipcase-logbook"
	}
	switch runtime.GOOS {
	case "windows":
		return filepath.Join(home, "AppData", "Local", "slipcase")
	case "darwin":
		return filepath.Join(home, "Library", "Application Support", "slipcase")
	}
	return filepath.Join(home, ".local", "share", "slipcase")
}

func (a *app) options() logbook.Options {
	return logbook.Options{Now: a.now, NewID: a.newID, Busy: &tty.Recording, Recorded: recorded, Strict: a.strict}
}

// recorded keeps what was recorded for whoever does not come to see the answer.
func recorded(what string, ids []string) { tty.SetKept(page.Kept(tty.Kept(), what, ids)) }

// open opens the logbook in use.
func (a *app) open() (*crew.Session, error) { return a.openAt(a.dir) }

// openAt opens the logbook in a folder; the one that is held open is that.
func (a *app) openAt(dir string) (*crew.Session, error) {
	lb, err := logbook.Open(dir, a.options())
	switch held := a.held; {
	case held == nil || dir != held.Dir():
	case err != nil:
		return nil, page.Gone(dir)
	case lb.ID() == held.ID() || held.ID() == "":
		held.Refresh()
		return held.Session, nil
	default: // another one in its place
		err := held.Swap(crew.NewSession(lb, a.now))
		return held.Session, err
	}
	if err != nil {
		return nil, err
	}
	return crew.NewSession(lb, a.now), nil
}

// greet answers slipcase alone: on a terminal the board, else what there is and what to
// type next.
func (a *app) greet(c *cobra.Command, _ []string) error {
	lb, err := a.open()
	if errors.Is(err, logbook.ErrNoLogbook) {
		a.page.FirstWords()
		return nil
	}
	if err != nil {
		return err
	}
	switch {
	case a.held != nil:
		return a.held.Show()
	case a.tty.Interactive() && a.format == table.Text:
		return a.openBoard(c, lb)
	}
	slips, err := lb.Slips("")
	if err != nil {
		return err
	}
	due, err := lb.DueOf("", a.now())
	if err != nil {
		return err
	}
	a.page.Greeting(lb.Dir(), slips, due)
	a.leftOut(lb)
	return nil
}
