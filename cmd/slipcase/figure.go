package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// figure is a flag such as 90hp, 12% or 70/90/105hp, of one of its kinds.
type figure struct {
	kinds []units.Kind
	text  string
	is    crew.Asked
}

func (f *figure) String() string { return f.text }
func (f *figure) Type() string   { return "string" }

func (f *figure) Set(text string) error {
	f.text = text
	return nil
}

func (f *figure) readIn(bare units.System) (err error) {
	f.is, err = parseFigure(bare, f.text, f.kinds...)
	return err
}

// figureFlag gives a command a flag for a figure, read by figureOf.
func figureFlag(c *cobra.Command, name, usage string, kinds ...units.Kind) {
	c.Flags().Var(&figure{kinds: kinds}, name, usage)
}

// figureOf is what a figure's flag was given.
func figureOf(c *cobra.Command, name string) crew.Asked {
	return c.Flags().Lookup(name).Value.(*figure).is
}

func parseFigure(bare units.System, text string, kinds ...units.Kind) (crew.Asked, error) {
	is, err := typed.ParseFigure(bare, text, kinds...)
	r := crew.Range{Low: is.Low, Likely: is.Likely, High: is.High}
	return crew.Asked{Range: r, Text: is.Text, Given: err == nil, Alone: is.Alone, Percent: is.Percent}, err
}
