package form

import (
	"errors"
	"fmt"
	"slices"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/logbook"
)

// What looks wrong is settled in the form before it is recorded: one key each.

// ErrEdit sends the racer back to the review.
var ErrEdit = errors.New("change what is wrong")

// isRetry reports an error that the racer can mend at the review.
func isRetry(err error) bool {
	bad := (*crew.Impossible)(nil)
	return errors.Is(err, ErrEdit) || errors.As(err, &bad) || errors.Is(err, logbook.ErrNumber)
}

// Settle checks the whole slip and asks where it looks wrong, until it does not.
func (f *Form) Settle() error {
	for {
		ds, err := f.Look(&f.Slip)
		if err != nil {
			return err
		}
		f.Slip.Forced = ""
		if len(ds) == 0 {
			return nil
		}
		if f.Force {
			f.Slip.Forced = f.Page.Doubts(ds)
			return nil
		}
		done, err := f.askDoubt(ds)
		if done || err != nil {
			return err
		}
	}
}

// askDoubt shows what looks wrong and takes one key; done says that the slip is to
// be recorded as it now stands.
func (f *Form) askDoubt(ds []crew.Doubt) (done bool, err error) {
	t := f.TTY.Out
	f.saveDraft() // for when the terminal goes away at the question
	for _, line := range page.Lines("not recorded: "+f.Page.Doubts(ds), f.Page.Room()) {
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
		words, prompt = append(words, ""), append([]string{"[Enter] " + f.Page.Meant(ds[read].Readings[0])}, prompt...)
	}
	for _, choice := range prompt[:len(prompt)-1] {
		fmt.Fprintf(t, "  %s\n", choice)
	}
	word, err := f.TTY.Key("  "+prompt[len(prompt)-1], words...)
	if err != nil {
		return false, err
	}
	switch word {
	case "":
		ds[read].Readings[0].Apply(&f.Slip)
		f.tellResult()
	case "lifted":
		f.Slip.FullPower = string(crew.Lifted)
		f.Slip.Forced = f.Page.Doubts(slices.Delete(ds, lift, lift+1)) // the lift answers that one
		return true, nil
	case "edit", tty.Back:
		return false, ErrEdit
	case "keep":
		f.Slip.Forced = f.Page.Doubts(ds)
		return true, nil
	}
	f.saveDraft()
	return false, nil
}
