package main

import (
	"errors"
	"fmt"
	"slices"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/tty"
)

// What looks wrong is settled in the form before it is recorded: one key each.

// errEdit sends the racer back to the review.
var errEdit = errors.New("change what is wrong")

// isRetry reports an error that the racer can mend at the review.
func isRetry(err error) bool {
	return errors.Is(err, errEdit) || statusOf(err) == exitUsage && !errors.Is(err, tty.ErrEnded)
}

// settle checks the whole slip and asks where it looks wrong, until it does not.
func (f *form) settle() error {
	for force, _ := f.c.Flags().GetBool("force"); ; {
		ds, err := f.a.look(f.lb, &f.slip)
		if err != nil {
			return err
		}
		f.slip.Forced = ""
		if len(ds) == 0 {
			return nil
		}
		if force {
			f.slip.Forced = f.a.page.Doubts(ds)
			return nil
		}
		if force, err = f.askDoubt(ds); err != nil {
			return err
		}
	}
}

// settleSlip records a slip typed at the board: what looks wrong is settled there. One to
// be edited goes back onto the prompt.
func (a *app) settleSlip(r *typist, s slip) error {
	f := &form{typist: r, slip: s}
	f.at = len(f.steps())
	err := f.settle()
	if err == nil {
		err = a.recordSlip(f.lb, &f.slip, true, f.settle)
	}
	f.dropDraft()
	return err
}

// askDoubt shows what looks wrong and takes one key; force says that the slip is to
// be recorded as it now stands.
func (f *form) askDoubt(ds []crew.Doubt) (force bool, err error) {
	t := f.a.tty.Out
	f.saveDraft() // for when the terminal goes away at the question
	for _, line := range page.Lines("not recorded: "+f.a.page.Doubts(ds), f.a.page.Room()) {
		fmt.Fprintln(t, table.Clean(line))
	}
	var words, prompt []string
	offers := crew.Offers(f.slip, ds, false)
	for _, o := range offers {
		switch o.Kind {
		case crew.AsMeant:
			words, prompt = append(words, ""), append(prompt, "[Enter] "+f.a.page.Meant(o.Meant))
		case crew.WithLift:
			words, prompt = append(words, "lifted"), append(prompt, "[l] lifted")
		case crew.AsTyped:
			words, prompt = append(words, "keep"), append(prompt, "[k] keep as typed")
		}
	}
	for _, choice := range prompt {
		fmt.Fprintf(t, "  %s\n", choice)
	}
	word, err := f.a.tty.Key("  [e] edit", append(words, "edit", tty.Back)...)
	if err != nil {
		return false, err
	}
	if word == "edit" || word == tty.Back {
		return false, errEdit
	}
	taken := offers[slices.Index(words, word)]
	f.slip = taken.Slip
	if taken.Kind == crew.AsMeant {
		f.tellResult()
		f.saveDraft()
	}
	return taken.Kind != crew.AsMeant, nil
}
