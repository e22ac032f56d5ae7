package main

import (
	"errors"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
)

// look says what looks wrong with a slip that is to be recorded, together with those
// beside it. One that cannot be comes back as an error, with what was likely meant where
// that can be told.
func (a *app) look(lb *crew.Session, s *slip, beside ...*slip) ([]crew.Doubt, error) {
	ds, err := lb.Look(s, beside...)
	if bad := (*crew.Impossible)(nil); errors.As(err, &bad) {
		if offers := crew.Offers(*s, ds, true); len(offers) > 0 {
			return ds, usagef("%w; likely %s", err, a.page.Meant(offers[0].Meant))
		}
		return ds, usage(err)
	}
	return ds, err
}

// checkSlip refuses an impossible slip, one that names what is not there, and a
// doubtful one unless forced.
func (a *app) checkSlip(c *cobra.Command, lb *crew.Session, s *slip, beside ...*slip) error {
	ds, err := a.look(lb, s, beside...)
	if err != nil {
		return err
	}
	return forced(c, &s.Entry, a.page.WithLikely(ds))
}
