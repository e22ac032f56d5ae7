package main

import (
	"context"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/board"
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/form"
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
	if d, begun := form.ReadDraft(lb.Dir()); begun {
		a.page.Begun(d.SavedAt.In(a.now().Location()))
	}
	return a.held.Open(c.Context())
}

// useCommand takes a vehicle, a track or a class for the day.
func (a *app) useCommand() *cobra.Command {
	c := board.UseCommand()
	c.RunE = a.reads(func(c *cobra.Command, args []string, _ *crew.Session) error {
		return a.held.Use(bareIn(c), args)
	})
	return c
}
