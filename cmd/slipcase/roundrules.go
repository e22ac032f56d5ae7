package main

import (
	"slices"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// roundRules are how two lanes are set against each other, as the flags and the
// track say.
type roundRules struct {
	predict.RoundRules
	index   units.Number // known where the class has one
	assumed bool         // neither flags nor track say what holds when both are red
}

// registerRules gives a command the flags of roundRules.
func registerRules(c *cobra.Command) {
	c.Flags().String("class", "dial", "dial, index or heads-up")
	c.Flags().String("index", "", "the class's index, with --class index")
	c.Flags().String("track", "", "the track, for its perfect light and its rule")
	c.Flags().String("perfect-reaction", "", "what the slip prints for a perfect light: 0, 0.4 or 0.5")
	c.Flags().String("both-red", "", "who loses when both are red: first or worst")
}

func readRules(c *cobra.Command, track logbook.Track) (r roundRules, err error) {
	class, _ := c.Flags().GetString("class")
	r.Format = predict.Format(class)
	if !slices.Contains([]predict.Format{predict.Dialled, predict.Index, predict.HeadsUp}, r.Format) {
		return r, usagef("--class %q: want dial, index or heads-up", clipped(class))
	}
	if r.index, err = flagTyped(c, "index", typed.Dial); err != nil {
		return r, err
	}
	switch indexed := r.Format == predict.Index; {
	case indexed && !r.index.Known():
		return r, usagef("--class index wants the index: --index 8.90")
	case !indexed && c.Flags().Changed("index"):
		return r, usagef("--index %v belongs to --class index: want both, or neither", r.index)
	}
	perfect, err := flagTyped(c, "perfect-reaction", typed.Reaction)
	if err != nil {
		return r, err
	}
	if p := perfect; p.Known() && p.Value() != 0 && p.Value() != 0.4 && p.Value() != 0.5 {
		return r, usagef("--perfect-reaction %v: want 0, 0.4 or 0.5", p)
	}
	r.PerfectS = perfect.Or(track.PerfectReactionS.Or(0))
	err = r.readBothRed(c, track)
	return r, err
}

func (r *roundRules) readBothRed(c *cobra.Command, track logbook.Track) error {
	both, _ := c.Flags().GetString("both-red")
	if both == "" {
		both = track.BothRed
	}
	switch both {
	case "":
		r.assumed = true
	case "first":
	case "worst":
		r.WorstRed = true
	default:
		return usagef("--both-red %q: want first or worst", clipped(both))
	}
	return nil
}

// dialOf is what a lane must not run under: the class's index, else its own dial.
func (r *roundRules) dialOf(own units.Number) units.Number {
	if r.Format == predict.Index {
		return r.index
	}
	return own
}

// flagTyped reads a flag as a slip's figures are typed.
func flagTyped(c *cobra.Command, flag string, parse func(string) (units.Number, error)) (units.Number, error) {
	text, _ := c.Flags().GetString(flag)
	n, err := parse(text)
	if err != nil {
		return n, usagef("--%s: %v", flag, err)
	}
	return n, nil
}
