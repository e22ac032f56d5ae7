package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// addSlipLines records slips from a pipe, a line each, all of them or none.
func (a *app) addSlipLines(c *cobra.Command, lb *crew.Session) error {
	r, err := a.typist(c, lb)
	if err != nil {
		return err
	}
	if a.typing() {
		return a.slipsAsTyped(c, r)
	}
	lines, err := slipLines(a.in)
	if err != nil {
		return err
	}
	var bad []error
	bar := a.tty.SlowBar("looking at slips")
	defer bar.Stop()
	for done, l := range lines {
		if err := c.Context().Err(); err != nil {
			return err
		}
		bar.Step(done, len(lines))
		s, err := r.slip(l.text)
		if err == nil && crew.SameMoment(r.Beside, s) {
			err = usagef("%s is the time of another line: want each line with its own, as 14:25 or 2026-05-02 14:25",
				s.Time.Format("2006-01-02 15:04"))
		}
		if err == nil {
			err = a.checkSlip(c, lb, &s, r.Beside...)
		}
		if err != nil {
			bad = append(bad, ofLine(l.no, err))
			continue
		}
		// The next line may leave out the date, and is read by this one's times.
		r.Read(s)
		r.Now, r.Beside = s.Time.Time, append(r.Beside, &s)
	}
	bar.Stop()
	if len(bad) > 0 {
		return batchError(bad)
	}
	if len(r.Beside) == 0 {
		return usagef(
			"no slip on standard input: want one a line, as 14:25 .042 1.912 5.437 8.412@{83.77|134.81} 10.980 13.212@{105.84|170.33}",
		)
	}
	if err := lb.AddSlips(r.Beside...); err != nil {
		return err
	}
	slips := make([]slip, len(r.Beside))
	for i, s := range r.Beside {
		slips[i] = *s
	}
	return a.page.SlipsRecorded(slips)
}

// slipsAsTyped records slips typed at the terminal, a line each: at once, so that what is
// wrong is said while the paper is in hand, and the lines before it stay.
func (a *app) slipsAsTyped(c *cobra.Command, r *typist) error {
	a.page.LinesWanted()
	all, n := bufio.NewScanner(a.in), 0
	for no := 1; all.Scan(); no++ {
		text := strings.TrimSpace(all.Text())
		if text == "" || text[0] == '#' {
			continue
		}
		s, err := r.slip(text)
		if err == nil {
			err = a.checkSlip(c, r.Log, &s)
		}
		if err == nil {
			err = r.Log.AddSlips(&s)
		}
		if err != nil {
			a.page.LineWrong(ofLine(no, err))
			continue
		}
		r.Read(s)
		n++
		a.page.LineRecorded(s)
	}
	if err := all.Err(); err != nil {
		return fmt.Errorf("reading the slips: %w", err)
	}
	a.page.LinesDone(n)
	return nil
}

// ofLine is what is wrong with a line.
func ofLine(no int, err error) error {
	text := fmt.Errorf("line %d: %w", no, err)
	if wrong := (*doubtful)(nil); errors.As(err, &wrong) {
		text = fmt.Errorf("line %d: looks wrong: %s", no, wrong.why)
	}
	return &failure{max(statusOf(err), exitUsage), text}
}

// slipLine is a line that holds a slip, and its place.
type slipLine struct {
	no   int
	text string
}

// slipLines reads them, those blank or behind a # left out.
func slipLines(in io.Reader) (lines []slipLine, err error) {
	all := bufio.NewScanner(in)
	for no := 1; all.Scan(); no++ {
		if text := strings.TrimSpace(all.Text()); text != "" && text[0] != '#' {
			lines = append(lines, slipLine{no, text})
		}
	}
	if err := all.Err(); err != nil {
		return nil, fmt.Errorf("reading the slips: %w", err)
	}
	return lines, nil
}

// batchError tells of the first lines that are wrong; one that cannot be outweighs
// one that only looks wrong.
func batchError(bad []error) error {
	const shown = 3
	status := exitImplausible
	for _, err := range bad {
		status = min(status, statusOf(err))
	}
	all := units.Errorf("nothing recorded: %w", bad[0])
	for _, err := range bad[1:min(shown, len(bad))] {
		all = units.Errorf("%w; %w", all, err)
	}
	if more := len(bad) - shown; more > 0 {
		all = units.Errorf("%w; and %d lines more", all, more)
	}
	return &failure{status, all}
}
