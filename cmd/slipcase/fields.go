package main

import (
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// register gives a command the flags of the fields.
func register[T any](c *cobra.Command, fields []typed.Field[T]) {
	for _, f := range fields {
		check := func(bare units.System, text string) error {
			var scratch T
			return f.Set(&scratch, bare, text)
		}
		c.Flags().Var(&typedCell{check: check, words: f.Words, many: f.Many}, f.Flag, f.Help)
	}
}

// apply reads the flags that were given into a row.
func apply[T any](c *cobra.Command, fields []typed.Field[T], row *T) error {
	for _, f := range fields {
		if !c.Flags().Changed(f.Flag) {
			continue
		}
		text, _ := c.Flags().GetString(f.Flag)
		if err := f.Set(row, bareIn(c), text); err != nil {
			return usagef("--%s: %v", f.Flag, err)
		}
	}
	return nil
}

func clipped(text string) string { return typed.Shorten(text) }

// at reads the time flag of a command, now when it was not given.
func (a *app) at(c *cobra.Command, flag string, zone *time.Location) (time.Time, error) {
	return a.flagTime(c, flag, a.now().Truncate(time.Second), zone)
}

// amendedAt reads the time flag of an amendment: was stays when it was not given, its
// day when only the time of day was, and its time of day when only the day was.
func (a *app) amendedAt(c *cobra.Command, flag string, was time.Time, zone *time.Location) (time.Time, error) {
	t, err := a.flagTime(c, flag, was, zone)
	if text, _ := c.Flags().GetString(flag); err == nil && typed.DayAlone(text) {
		hour, minute, second := was.In(zone).Clock()
		t = time.Date(t.Year(), t.Month(), t.Day(), hour, minute, second, 0, zone)
	}
	return t, err
}

// flagTime reads a time flag: was when it was not given, its day when only the time of
// day was.
func (a *app) flagTime(c *cobra.Command, flag string, was time.Time, zone *time.Location) (time.Time, error) {
	if !c.Flags().Changed(flag) {
		return was.In(zone), nil
	}
	text, _ := c.Flags().GetString(flag)
	t, err := a.moment(text, was, zone)
	if err != nil {
		return t, usagef("--%s: %v", flag, err)
	}
	return t, nil
}

// moment reads a time as typed, and tells which was taken of two that the clock showed.
func (a *app) moment(text string, now time.Time, zone *time.Location) (time.Time, error) {
	t, err := typed.Moment(text, now, zone)
	if err != nil {
		return t, err
	}
	if other, twice := typed.Ambiguous(text, t); twice {
		a.page.Note("note: %s", page.ShownTwice(t, other))
	}
	return t, nil
}
