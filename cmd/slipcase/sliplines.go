package main

import (
	"bufio"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
)

// addSlipLines records slips from a pipe, a line each, all of them or none.
func (a *app) addSlipLines(c *cobra.Command, lb *crew.Session) error {
	r, err := a.typist(c, lb)
	if err != nil {
		return err
	}
	var recs []*slip
	var bad []error
	lines := bufio.NewScanner(a.in)
	for n := 1; lines.Scan(); n++ {
		if err := c.Context().Err(); err != nil {
			return err
		}
		text := strings.TrimSpace(lines.Text())
		if text == "" || text[0] == '#' {
			continue
		}
		s, err := r.slip(text)
		if err == nil {
			err = usage(a.batchTime(recs, s))
		}
		if err == nil {
			err = a.checkSlip(c, lb, &s, recs...)
		}
		if err != nil {
			bad = append(bad, &failure{max(statusOf(err), exitUsage), fmt.Errorf("line %d: %w", n, err)})
			continue
		}
		recs = append(recs, &s)
		// The next line may leave out the date, and is read by this one's times.
		r.now, r.before = s.Time.Time, &s
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("reading the slips: %w", err)
	}
	if len(bad) > 0 {
		return batchError(bad)
	}
	if len(recs) == 0 {
		return usagef("no slip on standard input: want one a line, as 14:25 .042 1.912 5.437 8.412@83.77 10.980 13.212@105.84")
	}
	if err := lb.AddSlips(recs...); err != nil {
		return err
	}
	slips := make([]slip, len(recs))
	for i, s := range recs {
		slips[i] = *s
	}
	return a.page.SlipsRecorded(slips)
}

// batchTime refuses a slip at the moment of another: several lines without their
// time would all be of now.
func (a *app) batchTime(before []*slip, s slip) error {
	for _, b := range before {
		if b.Vehicle == s.Vehicle && b.Time.Equal(s.Time.Time) {
			return fmt.Errorf("%s is the time of another line: want each line with its own, as 14:25 or 2026-05-02 14:25",
				s.Time.Format("2006-01-02 15:04"))
		}
	}
	return nil
}

// batchError tells of the first lines that are wrong; one that cannot be outweighs
// one that only looks wrong.
func batchError(bad []error) error {
	const shown = 3
	status := exitImplausible
	for _, err := range bad {
		status = min(status, statusOf(err))
	}
	text := errors.Join(bad[:min(shown, len(bad))]...).Error()
	if more := len(bad) - shown; more > 0 {
		text += fmt.Sprintf("; and %d lines more", more)
	}
	return &failure{status, fmt.Errorf("nothing recorded: %s", strings.ReplaceAll(text, "\n", "; "))}
}
