package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// The values of flags. Each is checked before its command runs, so that a command meets
// only what can be. They call themselves strings: what they take is said by their help.

// inLogUnits is the value of a flag whose bare numbers are of the log's units: it is read
// once these are known.
type inLogUnits interface {
	readIn(bare units.System) error
}

// readFlags reads the flags of a command whose bare numbers are of the log's units.
func readFlags(c *cobra.Command, bare units.System) (err error) {
	c.Flags().Visit(func(f *pflag.Flag) {
		if v, ok := f.Value.(inLogUnits); ok && err == nil {
			if bad := v.readIn(bare); bad != nil {
				err = badValue(f.Name, bad)
			}
		}
	})
	return err
}

// ofLog is the key to the log's units in the context of a command.
type ofLog struct{}

// setBare tells a command what bare numbers mean.
func setBare(c *cobra.Command, bare units.System) {
	c.SetContext(context.WithValue(c.Context(), ofLog{}, bare))
}

// bareIn is what bare numbers mean to a command.
func bareIn(c *cobra.Command) units.System {
	bare, _ := c.Context().Value(ofLog{}).(units.System)
	return bare
}

// quantity is a number with its unit, as 88F or 374m.
type quantity struct {
	kind units.Kind
	text string
	n    units.Number
}

func (q *quantity) String() string { return q.text }
func (q *quantity) Type() string   { return "string" }

func (q *quantity) Set(text string) error {
	q.text = text
	return nil
}

func (q *quantity) readIn(bare units.System) error {
	v, err := q.kind.ParseIn(bare, q.text)
	q.n = units.Some(v)
	return err
}

// quantityFlag gives a command a flag for a quantity, read by quantityOf.
func quantityFlag(c *cobra.Command, name string, kind units.Kind, usage string) {
	c.Flags().Var(&quantity{kind: kind}, name, usage)
}

// quantityOf is what a quantity's flag was given; absent when it was not.
func quantityOf(c *cobra.Command, name string) units.Number {
	return c.Flags().Lookup(name).Value.(*quantity).n
}

// keyword is one of a few words, whatever their case; read it with GetString.
type keyword struct {
	words []string
	is    string
	want  string                   // what is wanted, as the refusal says it
	plain func(text string) string // its other names, nil for none
	open  bool                     // what is none of them the command reads
}

func (o *keyword) String() string { return o.is }
func (o *keyword) Type() string   { return "string" }

func (o *keyword) Set(text string) error {
	text = strings.ToLower(strings.TrimSpace(text))
	if o.plain != nil {
		text = o.plain(text)
	}
	if !o.open && !slices.Contains(o.words, text) {
		return fmt.Errorf("%q: want %s", clipped(text), o.want)
	}
	o.is = text
	return nil
}

// keywordFlag gives a command a flag for one of a few words.
func keywordFlag(c *cobra.Command, name, is, usage string, words ...string) *keyword {
	k := &keyword{words: words, is: is, want: "one of " + strings.Join(words, ", ")}
	c.Flags().Var(k, name, usage)
	return k
}

// standardFlag gives a command a flag for what a power is corrected to; read it with
// GetString.
func standardFlag(c *cobra.Command, usage string) {
	keywordFlag(c, "standard", "", usage, typed.Standards...).plain = typed.Standard
}

// slipSeconds is a time as a slip's figures are typed, .042 or 13212.
type slipSeconds struct {
	parse func(text string) (units.Number, error)
	text  string
	n     units.Number
}

func (f *slipSeconds) String() string { return f.text }
func (f *slipSeconds) Type() string   { return "string" }

func (f *slipSeconds) Set(text string) (err error) {
	f.text = text
	f.n, err = f.parse(text)
	return err
}

// secondsFlag gives a command a flag for a time, read by secondsOf.
func secondsFlag(c *cobra.Command, name string, parse func(text string) (units.Number, error), usage string) {
	c.Flags().Var(&slipSeconds{parse: parse}, name, usage)
}

// secondsOf is what a time's flag was given; absent when it was not.
func secondsOf(c *cobra.Command, name string) units.Number {
	return c.Flags().Lookup(name).Value.(*slipSeconds).n
}

// chance is a probability as it is said, so many times in 100.
type chance struct {
	text string
	pct  float64
}

func (p *chance) String() string { return p.text }
func (p *chance) Type() string   { return "string" }

func (p *chance) Set(text string) error {
	n, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "%")), 64)
	if err != nil || !(n > 0 && n < 100) {
		return fmt.Errorf("%q: want a percentage, more than 0 and less than 100", clipped(text))
	}
	p.text, p.pct = text, n
	return nil
}

// chanceFlag gives a command a flag for a chance, read by chanceOf.
func chanceFlag(c *cobra.Command, name string, pct float64, usage string) {
	c.Flags().Var(&chance{fmt.Sprintf("%g", pct), pct}, name, usage)
}

// chanceOf is what a chance's flag was given, in times of 100.
func chanceOf(c *cobra.Command, name string) float64 {
	return c.Flags().Lookup(name).Value.(*chance).pct
}

// typedCell is a column of a record as typed; what parses it says what it may be.
type typedCell struct {
	text  string
	check func(bare units.System, text string) error
	words []string // what it can be, where that is one of a few
	many  bool
}

func (v *typedCell) String() string { return v.text }
func (v *typedCell) Type() string   { return "string" }

func (v *typedCell) Set(text string) error {
	if v.many && v.text != "" {
		text = v.text + "; " + text
	}
	v.text = text
	return nil
}

func (v *typedCell) readIn(bare units.System) error { return v.check(bare, v.text) }

// americanFlag takes the spelling that flags had at first, as --tyre-pressure.
func americanFlag(_ *pflag.FlagSet, name string) pflag.NormalizedName {
	return pflag.NormalizedName(strings.Replace(name, "tyre", "tire", 1))
}
