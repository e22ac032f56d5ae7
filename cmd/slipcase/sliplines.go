package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
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
		r.now, r.last = s.Time.Time, s
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
	t := a.typedTable(slips)
	return a.answer(slips, t, func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %d %s, read as\n\n", len(slips), plural(len(slips), "slip", "slips"))
		t.Render(w, table.Text, a.width())
		fmt.Fprint(w, "\n  what they were worth   slipcase slip list\n")
	})
}

// batchTime refuses a slip at the moment of another: several lines without their
// time would all be of now.
func (a *app) batchTime(before []*slip, s slip) error {
	for _, b := range before {
		if b.Vehicle == s.Vehicle && b.Time.Equal(s.Time.Time) {
			return fmt.Errorf("%s is the time of another line: want each line with its own, as 14:25 or 2026-05-02 14:25", s.Time.Format("2006-01-02 15:04"))
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

// typedTable shows slips as they were read.
func (a *app) typedTable(slips []slip) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 6},
		{Head: "time", Key: "time"},
		{Head: "round", Key: "round", Drop: 4},
		{Head: "reaction", Key: "reaction_s", Right: true, Drop: 3},
		{Head: "60 ft", Key: "et_60_s", Right: true, Drop: 2},
		{Head: "330 ft", Key: "et_330_s", Right: true, Drop: 5},
		{Head: "660 ft", Key: "et_660_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_660_" + a.suffix(units.Speed), Right: true, Drop: 2},
		{Head: "1000 ft", Key: "et_1000_s", Right: true, Drop: 5},
		{Head: "1320 ft", Key: "et_1320_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_1320_" + a.suffix(units.Speed), Right: true, Drop: 1},
	}}
	for _, s := range slips {
		t.Add(s.ID, a.stamp(s.Time.Time), s.Round, seconds(s.ReactionS), seconds(s.ET60S), seconds(s.ET330S), seconds(s.ET660S),
			a.speed(s.MPH660), seconds(s.ET1000S), seconds(s.ET1320S), a.speed(s.MPH1320))
	}
	return t
}
