package main

import (
	"context"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/board"
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
)

// openBoard opens the board and takes lines until the racer leaves. Each has the flags of
// the command that opened it.
func (a *app) openBoard(c *cobra.Command, lb *crew.Session) error {
	var flags []string
	c.Flags().Visit(func(f *pflag.Flag) { flags = append(flags, "--"+f.Name+"="+f.Value.String()) })
	a.held = &board.Board{Session: lb, TTY: a.tty, Page: a.page, Flags: flags, Tree: a.command}
	a.held.Run = func(ctx context.Context, root *cobra.Command, in io.Reader, args []string) bool {
		was := a.in
		if in != nil {
			a.in = in
		}
		defer func() { a.in = was }()
		return slices.Contains([]int{exitDone, exitInterrupted}, a.execute(ctx, root, args))
	}
	if d, begun := (&form{typist: &typist{lb: lb}}).draft(); begun {
		a.page.Begun(d.SavedAt.In(a.now().Location()))
	}
	return a.held.Open(c.Context())
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
