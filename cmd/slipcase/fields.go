package main

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// field is one column as the racer types it: the flag, its help, and how the text
// is read into the row. Flags, prompts and amendments all go through it.
type field[T any] struct {
	flag, help string
	set        func(row *T, bare units.System, text string) error
	words      []string // what it can be, where that is one of a few
	many       bool     // given several times, it is all of them
}

// absent is what a racer types to leave a value out.
const absent = "."

func number[T any](flag, help string, kind units.Kind, at func(*T) *units.Number) field[T] {
	return readIn(flag, help, func(bare units.System, text string) (units.Number, error) {
		return parseNumber(bare, kind, text)
	}, at)
}

// read is a number with its own way of being typed.
func read[T any](flag, help string, parse func(text string) (units.Number, error), at func(*T) *units.Number) field[T] {
	return readIn(flag, help, func(_ units.System, text string) (units.Number, error) { return parse(text) }, at)
}

// readIn is read where a bare number is of the log's units.
func readIn[T any](
	flag, help string, parse func(bare units.System, text string) (units.Number, error), at func(*T) *units.Number,
) field[T] {
	return field[T]{flag: flag, help: help, set: func(row *T, bare units.System, text string) error {
		n, err := parse(bare, text)
		if err != nil {
			return err
		}
		*at(row) = n
		return nil
	}}
}

// distance is a length along the track.
func distance[T any](flag, help string, at func(*T) *units.Number) field[T] {
	return readIn(flag, help, func(bare units.System, text string) (units.Number, error) {
		if text = strings.TrimSpace(text); text == absent || text == "" {
			return units.Number{}, nil
		}
		ft, err := units.ParseDistance(bare, text)
		return units.Some(ft), err
	}, at)
}

func parseNumber(bare units.System, kind units.Kind, text string) (units.Number, error) {
	if text = strings.TrimSpace(text); text == absent || text == "" {
		return units.Number{}, nil
	}
	v, err := kind.ParseIn(bare, text)
	return units.Some(v), err
}

func words[T any](flag, help string, at func(*T) *string) field[T] {
	return field[T]{flag: flag, help: help, set: func(row *T, _ units.System, text string) error {
		if text == absent {
			text = ""
		}
		*at(row) = strings.TrimSpace(text)
		return nil
	}}
}

// choice is a field of a few words, which a phone may have capitalised.
func choice[T any](flag, help string, at func(*T) *string, few ...string) field[T] {
	f := words(flag, help, at)
	set := f.set
	f.set = func(row *T, bare units.System, text string) error { return set(row, bare, strings.ToLower(text)) }
	f.words = few
	return f
}

// register gives a command the flags of the fields.
func register[T any](c *cobra.Command, fields []field[T]) {
	for _, f := range fields {
		check := func(bare units.System, text string) error {
			var scratch T
			return f.set(&scratch, bare, text)
		}
		c.Flags().Var(&typedCell{check: check, words: f.words, many: f.many}, f.flag, f.help)
	}
}

// apply reads the flags that were given into a row.
func apply[T any](c *cobra.Command, fields []field[T], row *T) error {
	for _, f := range fields {
		if !c.Flags().Changed(f.flag) {
			continue
		}
		text, _ := c.Flags().GetString(f.flag)
		if err := f.set(row, bareIn(c), text); err != nil {
			return usagef("--%s: %v", f.flag, err)
		}
	}
	return nil
}

func clipped(text string) string { return typed.Shorten(text) }

// noClock refuses a day alone where midnight cannot be meant.
func noClock(text, clock string) error {
	day := strings.TrimSpace(text)
	return usagef("%s has no clock: want %s %s", day, day, clock)
}

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
