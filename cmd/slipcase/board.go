package main

import (
	"context"
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

// board is a log held open through the day, with a prompt: each line is a slip, a reading
// or a command line, and is run as if it had been typed in a shell.
type board struct {
	*crew.Session
	dir   string
	flags []string        // of the command that opened it, for each line
	again string          // a line put back onto the prompt
	told  map[string]bool // of what could not be read
}

// openBoard opens the board and takes lines until the racer leaves.
func (a *app) openBoard(c *cobra.Command, lb *crew.Session) error {
	a.held = &board{Session: lb, dir: a.dir, told: map[string]bool{}}
	c.Flags().Visit(func(f *pflag.Flag) { a.held.flags = append(a.held.flags, "--"+f.Name+"="+f.Value.String()) })
	if err := lb.BeginDay(); err != nil {
		return err
	}
	if d, begun := (&form{typist: &typist{lb: lb}}).draft(); begun {
		a.page.Begun(d.SavedAt.In(a.now().Location()))
	}
	a.boardLine(c.Context(), "")
	for {
		was, begun := a.now(), a.held.again
		a.held.again = ""
		line, err := a.tty.Line("> ", begun, a.boardWords)
		long := (*tty.PasteError)(nil)
		switch line = strings.TrimSpace(line); {
		case errors.As(err, &long):
			a.page.NoPaste(long.Error())
		case err != nil, slices.Contains([]string{"q", "quit", "exit"}, strings.ToLower(line)):
			return nil
		case a.held.DayOf(was) != a.held.DayOf(a.now()):
			a.page.ClockMoved(was, a.now())
			a.held.again = line
			if err := a.held.BeginDay(); err != nil {
				return err
			}
		default:
			a.boardText(c.Context(), line)
		}
	}
}

// boardText takes what came at once: a line, or the lines of a paste, which are slips or
// readings, all or none, or else lines as they may be typed one by one.
func (a *app) boardText(ctx context.Context, text string) {
	lines := strings.FieldsFunc(text, func(r rune) bool { return r == '\n' })
	if len(lines) < 2 {
		a.boardLine(ctx, text)
		return
	}
	root, of := a.command(), map[typed.Kind]int{}
	for _, line := range lines {
		of[a.kindOf(root, line)]++
	}
	switch {
	case a.kindOf(root, lines[0]) == typed.AReading:
		a.boardRun(ctx, root, text, "air", "add", "-")
	case of[typed.ASlip] == len(lines):
		a.boardRun(ctx, root, text, "slip", "add", "-")
	case of[typed.Unknown] > 0:
		a.page.NoPaste(page.PastedLines(len(lines)))
	default:
		for _, line := range lines {
			a.boardLine(ctx, line)
		}
	}
}

// boardLine runs a line. One that told of a slip or a reading and was not recorded is put
// back onto the prompt.
func (a *app) boardLine(ctx context.Context, line string) {
	root, words := a.command(), strings.Fields(line)
	kind := a.kindOf(root, line)
	status := exitDone
	switch {
	case line == "":
		status = a.boardRun(ctx, root, "")
	case line == "?":
		a.page.BoardHelp(a.tty.Out)
	case kind == typed.Command:
		args, err := commandArgs(root, line)
		if err != nil {
			a.page.Note("%v", err)
			return
		}
		a.boardRun(ctx, root, "", args...)
	case kind == typed.AReading:
		status = a.boardRun(ctx, root, "", append([]string{"air", "add"}, words...)...)
	case kind == typed.ASlip:
		status = a.boardRun(ctx, root, "", append([]string{"slip", "add"}, words...)...)
	case a.isName(words[0]):
		a.page.NameAlone(words[0])
	default:
		a.page.NotKnown(words[0], nearest(root, words[0]))
	}
	if status != exitDone && status != exitInterrupted {
		a.held.again = line
	}
}

// nearest are the commands that may have been meant by a word.
func nearest(root *cobra.Command, word string) (near []string) {
	const letters = 2 // exchanged, left out or too many
	for _, c := range []*cobra.Command{root, slipCommand(root)} {
		c.SuggestionsMinimumDistance = letters
		near = append(near, c.SuggestionsFor(word)...)
	}
	alike := func(name string) bool { return strings.EqualFold(name[:1], word[:1]) }
	if slices.ContainsFunc(near, alike) {
		near = slices.DeleteFunc(near, func(name string) bool { return !alike(name) })
	}
	return near
}

// boardRun runs a command line, which Ctrl-C ends without ending the board. What it reads
// of standard input, if anything, is text.
func (a *app) boardRun(ctx context.Context, root *cobra.Command, text string, args ...string) int {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	defer tty.OnInterrupt(cancel)()
	if in := a.in; text != "" {
		a.in = strings.NewReader(text)
		defer func() { a.in = in }()
	}
	defer tty.SetKept("")
	return a.execute(ctx, root, slices.Concat(a.held.flags, args))
}

// kindOf tells what a line is.
func (a *app) kindOf(root *cobra.Command, line string) typed.Kind {
	return typed.KindOf(a.page.Bare, line, typed.Words{Name: a.isName, Command: func(word string) bool {
		return word == "slipcase" || named(root, word) || named(slipCommand(root), word)
	}})
}

func (a *app) isName(word string) bool {
	is := func(name string) bool { return strings.EqualFold(name, word) }
	vs, _ := a.held.Vehicles()
	ts, _ := a.held.Tracks()
	return slices.ContainsFunc(vs, func(v logbook.Vehicle) bool { return is(v.ID) }) ||
		slices.ContainsFunc(ts, func(t logbook.Track) bool { return is(t.ID) })
}

// named reports that a command has one under it of that name.
func named(c *cobra.Command, word string) bool {
	return slices.ContainsFunc(c.Commands(), func(sub *cobra.Command) bool { return strings.EqualFold(sub.Name(), word) })
}

// slipCommand is the command whose own commands need not name it here: list is slip list.
func slipCommand(root *cobra.Command) *cobra.Command {
	c, _, _ := root.Find([]string{"slip"})
	return c
}

// commandArgs is a command line in full: list is slip list, and air 88F 42 is air add.
func commandArgs(root *cobra.Command, line string) ([]string, error) {
	args, err := splitWords(line)
	if err != nil {
		return nil, err
	}
	if args[0] = strings.ToLower(args[0]); args[0] == "slipcase" {
		args = args[1:]
	}
	if len(args) == 0 {
		return nil, nil
	}
	if !named(root, args[0]) {
		return append([]string{"slip"}, args...), nil
	}
	group, _, _ := root.Find(args[:1])
	if len(args) > 1 && slices.Contains([]string{"slip", "air"}, args[0]) && !named(group, args[1]) &&
		!strings.HasPrefix(args[1], "--") {
		args = slices.Insert(args, 1, "add")
	}
	return args, nil
}

// useCommand takes a vehicle, a track or a class for the day.
func (a *app) useCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "use NAME | class ... | .",
		Short: "a vehicle, a track or a class for the rest of the day",
		Long: `What slips, readings and questions mean for the rest of the day that do not say otherwise:
a vehicle, a track, how the rounds are raced. "." forgets it.`,
		Example: "  slipcase use plover\n  slipcase use highmesa\n  slipcase use class index 8.90",
		Args:    cobra.MinimumNArgs(1),
		RunE:    a.reads(a.use),
	}
}

func (a *app) use(c *cobra.Command, args []string, lb *crew.Session) error {
	u := lb.InUse()
	if len(args) == 1 && args[0] == absent {
		u, args = crew.Use{}, nil
	}
	r, err := a.typist(c, lb)
	if err != nil {
		return err
	}
	vehicle, track, words, err := r.names(args)
	if err != nil {
		return usage(err)
	}
	if vehicle != "" {
		v, err := vehicleNamed(lb, vehicle)
		if err != nil {
			return err
		}
		u.Vehicle = v.ID
	}
	if track != "" {
		t, err := trackNamed(lb, track)
		if err != nil {
			return err
		}
		u.Track = t.ID
	}
	said := u.Said()
	if err := typed.ParseUse(bareIn(c), words, &said); err != nil {
		return usage(err)
	}
	if err := lb.KeepUse(u.Saying(said)); err != nil {
		a.page.NotKept(err)
	}
	return a.showBoard(lb)
}

// showBoard shows what there is to say between rounds.
func (a *app) showBoard(lb *crew.Session) error {
	b, err := lb.Board()
	if err == nil {
		a.page.Board(b)
	}
	return err
}

// boardWords are what the last word begun on a line may become.
func (a *app) boardWords(line string) []string {
	words := append(strings.Fields(line), "")
	if !strings.HasSuffix(line, " ") && len(words) > 1 {
		words = words[:len(words)-1]
	}
	root := a.command()
	first, begun := len(words) == 1, words[len(words)-1]
	if !first {
		switch kind := a.kindOf(root, words[0]); kind {
		case typed.Command:
			words, _ = commandArgs(root, strings.Join(words[:len(words)-1], " "))
			words = append(words, begun)
		default:
			words = append([]string{"slip", "add"}, words...)
		}
	}
	found := a.completed(root, words)
	if first {
		found = append(found, a.completed(a.command(), []string{"slip", begun})...)
		found = append(found, a.completed(a.command(), []string{"slip", "add", begun})...)
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// completed asks the commands what a line may become.
func (a *app) completed(root *cobra.Command, words []string) (found []string) {
	var out strings.Builder
	root.SetOut(&out)
	root.SetErr(io.Discard)
	root.SetArgs(slices.Concat([]string{cobra.ShellCompNoDescRequestCmd}, a.held.flags, words))
	if root.Execute() != nil {
		return nil
	}
	for word := range strings.Lines(out.String()) {
		if word = strings.TrimSpace(word); word != "" && word[0] != ':' {
			found = append(found, word)
		}
	}
	return found
}
