package main

import (
	"errors"
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/table"
)

// errEdit sends the racer back to the review.
var errEdit = errors.New("change what is wrong")

// isRetry reports an error that the racer can mend at the review.
func isRetry(err error) bool {
	return errors.Is(err, errEdit) || statusOf(err) == exitUsage && !errors.Is(err, errInputEnded)
}

// settle checks the whole slip and, where it looks wrong, asks.
func (f *form) settle() error {
	if err := resolveSlip(f.lb, &f.slip); err != nil {
		return err
	}
	doubts := f.slip.Doubts(f.now)
	if len(doubts) == 0 {
		return nil
	}
	if ok, _ := f.c.Flags().GetBool("force"); !ok {
		fmt.Fprintf(f.a.terminal, "not recorded: %s\n", table.Clean(strings.Join(doubts, "; ")))
		key, err := f.a.key("  [k] keep as typed  [e] edit", "ke")
		if err != nil {
			return err
		}
		if key == 'e' {
			return errEdit
		}
	}
	f.slip.Forced = strings.Join(doubts, "; ")
	return nil
}
