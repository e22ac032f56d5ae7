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
	for force := f.Force; ; {
		ds, err := f.Look(&f.Slip)
		if err != nil {
			return err
		}
		f.Slip.Forced = ""
		if len(ds) == 0 {
			return nil
		}
		if force {
			f.Slip.Forced = f.Page.Doubts(ds)
			return nil
		}
		if force, err = f.askDoubt(ds); err != nil {
			return err
		}
	}
}

// askDoubt shows what looks wrong and takes one key; force says that the slip is to
// be recorded as it now stands.
func (f *Form) askDoubt(ds []crew.Doubt) (force bool, err error) {
	t := f.TTY.Out
	f.saveDraft() // for when the terminal goes away at the question
	for _, line := range page.Lines("not recorded: "+f.Page.Doubts(ds), f.Page.Room()) {
		fmt.Fprintln(t, table.Clean(line))
	}
	var words, prompt []string
	offers := crew.Offers(f.Slip, ds, false)
	for _, o := range offers {
		switch o.Kind {
		case crew.AsMeant:
			words, prompt = append(words, ""), append(prompt, "[Enter] "+f.Page.Meant(o.Meant))
		case crew.WithLift:
			words, prompt = append(words, "lifted"), append(prompt, "[l] lifted")
		case crew.AsTyped:
			words, prompt = append(words, "keep"), append(prompt, "[k] keep as typed")
		}
	}
	for _, choice := range prompt {
		fmt.Fprintf(t, "  %s\n", choice)
	}
	word, err := f.TTY.Key("  [e] edit", append(words, "edit", tty.Back)...)
	if err != nil {
		return false, err
	}
	if word == "edit" || word == tty.Back {
		return false, ErrEdit
	}
	taken := offers[slices.Index(words, word)]
	f.Slip = taken.Slip
	if taken.Kind == crew.AsMeant {
		f.tellResult()
		f.saveDraft()
	}
	return taken.Kind != crew.AsMeant, nil
}
