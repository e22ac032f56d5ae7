package main

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
)

// voidable is a kind of entry that is taken out and put back by commands.
type voidable[T any] struct {
	group, what string // the commands that it belongs to, what it is called where not the same
	arg         string // of the commands
	example     string
	long        string // more to know of what is named

	entry    func(*T) *logbook.Entry
	find     func(c *cobra.Command, lb *crew.Session, ref string) (T, error)
	findVoid func(lb *logbook.Logbook, ref string) (T, error)
	amend    func(lb *logbook.Logbook, id string, change func(*T) error) (T, error)
	slips    func(lb *crew.Session, of T) (int, error) // that use it: it stays while there are some; nil when none can
	moves    string                                    // how slips come to use it no more, where they can use it
	needs    func(lb *crew.Session, it T) error        // what must stand for it to stand; nil for nothing
	leaves   func(lb *crew.Session, it T) error        // what must make sense without it; nil for nothing
	show     func(p *page.Page, it T) error
	called   func(T) string
}

// commands are the two.
func (v voidable[T]) commands(a *app) (void, unvoid *cobra.Command) {
	v.group = cmp.Or(v.group, v.what)
	void = &cobra.Command{
		Use: "void " + v.arg, Short: strings.Replace("take a "+v.what, " a e", " an e", 1) + " out; its history stays", Args: cobra.ExactArgs(1),
		Example: fmt.Sprintf("  slipcase %[1]s void %[2]s\n  slipcase %[1]s void last", v.group, v.example),
	}
	void.Long = void.Short + "."
	if v.slips != nil {
		void.Long += "\nOne that slips use stays: void them first, or amend them."
	}
	if v.long != "" {
		void.Long += "\n\n" + v.long
	}
	void.RunE = a.writes(func(c *cobra.Command, args []string, lb *crew.Session) error {
		it, err := v.find(c, lb, args[0])
		if errors.Is(err, logbook.ErrUnknown) && !strings.HasPrefix(args[0], "last") {
			// A void one is found by its name only among those to put back.
			if gone, none := v.findVoid(lb.Logbook, args[0]); none == nil {
				it, err = gone, nil
			}
		}
		if err != nil {
			return err
		}
		return v.set(a, lb, it, logbook.Void)
	})
	unvoid = &cobra.Command{
		Use: "unvoid " + strings.TrimSuffix(v.arg, "|last") + "|last", Short: "put a void " + v.what + " back", Args: cobra.ExactArgs(1),
		Long:    "Puts a void " + v.what + " back. \"last\" is the one voided last.",
		Example: fmt.Sprintf("  slipcase %s unvoid last", v.group),
		RunE: a.writes(func(_ *cobra.Command, args []string, lb *crew.Session) error {
			it, err := v.findVoid(lb.Logbook, args[0])
			if err != nil {
				return err
			}
			return v.set(a, lb, it, logbook.Fact)
		}),
	}
	return void, unvoid
}

// set takes an entry out or puts it back.
func (v voidable[T]) set(a *app, lb *crew.Session, it T, status logbook.Status) error {
	if v.entry(&it).Status == status && status == logbook.Fact {
		return fmt.Errorf("%s %s is not void: it is in the log", v.what, v.called(it))
	} else if v.entry(&it).Status == status {
		return &advised{
			fmt.Errorf("%s %s is void already", v.what, v.called(it)),
			fmt.Sprintf("slipcase %s unvoid %s puts it back", v.group, v.entry(&it).ID),
		}
	}
	// Looked at under the lock: a slip recorded meanwhile counts.
	it, err := v.amend(lb.Logbook, v.entry(&it).ID, func(now *T) error {
		v.entry(now).Status = status
		switch {
		case status == logbook.Fact && v.needs != nil:
			return v.needs(lb, *now)
		case status == logbook.Void && v.slips != nil:
			return v.unused(lb, it)
		case status == logbook.Void && v.leaves != nil:
			return v.leaves(lb, *now)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return v.show(a.page, it)
}

// unused refuses what slips use.
func (v voidable[T]) unused(lb *crew.Session, it T) error {
	n, err := v.slips(lb, it)
	if err != nil || n == 0 {
		return err
	}
	return &advised{
		fmt.Errorf("%s %s stays: %d %s it", v.what, v.called(it), n, page.Plural(n, "slip uses", "slips use")),
		fmt.Sprintf("slipcase slip list --%s %s --last 0 shows them; %s", v.group, v.entry(&it).ID, v.moves),
	}
}

// formerly is a command under the word that it had before, which help does not show.
func formerly(word string, c *cobra.Command) *cobra.Command {
	old := *c
	_, arg, _ := strings.Cut(c.Use, " ")
	old.Use, old.Hidden = word+" "+arg, true
	return &old
}

// taken says of a name that is taken whether what has it is void.
func taken(err, void error) error {
	if void == nil || !errors.Is(err, logbook.ErrExists) {
		return err
	}
	return fmt.Errorf("%w: %w", err, void)
}
