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
	for {
		ds, err := f.a.look(f.lb, &f.slip)
		if err != nil {
			return err
		}
		f.slip.Forced = ""
		if len(ds) == 0 {
			return nil
		}
		force, _ := f.c.Flags().GetBool("force")
		if force {
			f.slip.Forced = f.a.page.Doubts(ds)
			return nil
		}
		done, err := f.askDoubt(ds)
		if done || err != nil {
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

// askDoubt shows what looks wrong and takes one key; done says that the slip is to
// be recorded as it now stands.
func (f *form) askDoubt(ds []crew.Doubt) (done bool, err error) {
	t := f.a.tty.Out
	f.saveDraft() // for when the terminal goes away at the question
	for _, line := range page.Lines("not recorded: "+f.a.page.Doubts(ds), f.a.page.Room()) {
		fmt.Fprintln(t, table.Clean(line))
	}
	words, prompt := []string{"keep", "edit", tty.Back}, []string{"[k] keep as typed", "[e] edit"}
	lift := slices.IndexFunc(ds, func(d crew.Doubt) bool { return d.Lift })
	if lift >= 0 {
		words, prompt = append(words, "lifted"), append([]string{"[l] lifted"}, prompt...)
	}
	// One reading at a time; what else looks wrong is asked after it.
	read := slices.IndexFunc(ds, func(d crew.Doubt) bool { return len(d.Readings) > 0 })
	if read >= 0 {
		words, prompt = append(words, ""), append([]string{"[Enter] " + f.a.page.Meant(ds[read].Readings[0])}, prompt...)
	}
	for _, choice := range prompt[:len(prompt)-1] {
		fmt.Fprintf(t, "  %s\n", choice)
	}
	word, err := f.a.tty.Key("  "+prompt[len(prompt)-1], words...)
	if err != nil {
		return false, err
	}
	switch word {
	case "":
		ds[read].Readings[0].Apply(&f.slip)
		f.tellResult()
	case "lifted":
		f.slip.FullPower = string(crew.Lifted)
		f.slip.Forced = f.a.page.Doubts(slices.Delete(ds, lift, lift+1)) // the lift answers that one
		return true, nil
	case "edit", tty.Back:
		return false, errEdit
	case "keep":
		f.slip.Forced = f.a.page.Doubts(ds)
		return true, nil
	}
	f.saveDraft()
	return false, nil
}
