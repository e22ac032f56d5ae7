package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
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

// askShare refuses a bare figure of less than 1 as a percentage: a share was meant, most
// likely. With its own % it stands.
func askShare(flag, text string, v float64) error {
	if v > 0 && v < 1 && !strings.Contains(text, "%") {
		return usagef(
			"--%s %s is less than 1 percent: %g %% meant? Type --%[1]s %[3]g, or --%[1]s %[2]s%% for that little",
			flag,
			text,
			100*v,
		)
	}
	return nil
}

// kindOf is the kind that a unit belongs to: the first where there is none.
func kindOf(unit string, kinds []units.Kind) units.Kind {
	for _, k := range kinds {
		if _, err := k.Parse("1" + unit); err == nil && unit != "" {
			return k
		}
	}
	return kinds[0]
}

// parseFigure reads one figure or three with strokes between, of one of the kinds; a
// unit behind the last counts for all.
func parseFigure(bare units.System, text string, kinds ...units.Kind) (f crew.Asked, err error) {
	parts := strings.Split(text, "/")
	last := parts[len(parts)-1]
	unit := strings.TrimLeft(strings.TrimSpace(last), "+-0123456789.,$ ")
	kind := kindOf(unit, kinds)
	f.Percent = kind.Name == units.Percent.Name
	var v [3]float64
	for i, p := range parts {
		if i == len(v) {
			break
		}
		if p = strings.TrimSpace(p); i < len(parts)-1 && strings.TrimLeft(p, "+-0123456789.,$ ") == "" {
			p += unit
		}
		if v[i], err = kind.ParseIn(bare, p); err != nil {
			return f, err
		}
	}
	if f.Text, f.Given = text, true; unit == "" {
		f.Text += kind.Symbol(bare)
	}
	switch len(parts) {
	case 1:
		f.Alone, f.Range = true, crew.Range{Low: v[0], Likely: v[0], High: v[0]}
	case 3:
		f.Range = crew.Range{Low: v[0], Likely: v[1], High: v[2]}
		if !(f.Low <= f.Likely && f.Likely <= f.High) {
			return f, fmt.Errorf("%q: want low, likely and high, rising", text)
		}
	default:
		return f, fmt.Errorf("%q: want one figure, or low, likely and high as 70/90/105", text)
	}
	return f, nil
}
