package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

// registerRules gives a command the flags of how two lanes are set against each other, and
// returns that of the class.
func registerRules(c *cobra.Command) *keyword {
	class := keywordFlag(c, "class", "dial", "dial, index or heads-up", "dial", "index", "heads-up")
	class.want = "dial, index or heads-up"
	secondsFlag(c, "index", typed.Dial, "the class's index, with --class index")
	c.Flags().String("track", "", "the track, for its perfect light and its rule; today's when left out")
	secondsFlag(c, "perfect-reaction", typed.Reaction, "what the slip prints for a perfect light: 0, 0.4 or 0.5")
	keywordFlag(c, "both-red", "", "who loses when both are red: first or worst", "first", "worst").want = "first or worst"
	return class
}

// readRules are the rules by the flags, and by the track where they are silent; a class by
// index has one.
func readRules(c *cobra.Command, track logbook.Track) (crew.Rules, error) {
	rules, err := readClass(c, track)
	if err == nil {
		err = hasIndex(rules)
	}
	return rules, err
}

func hasIndex(rules crew.Rules) error {
	if rules.Format == crew.Index && !rules.IndexS.Known() {
		return usagef("--class index wants the index: --index 8.90")
	}
	return nil
}

// readClass is readRules where the day's slips may say the index.
func readClass(c *cobra.Command, track logbook.Track) (crew.Rules, error) {
	class, _ := c.Flags().GetString("class")
	both, _ := c.Flags().GetString("both-red")
	ask := crew.RulesAsk{
		Format: crew.Format(class), IndexS: secondsOf(c, "index"), PerfectS: secondsOf(c, "perfect-reaction"), BothRed: both,
	}
	if ask.Format != crew.Index && c.Flags().Changed("index") {
		return crew.Rules{}, usagef("--index %v belongs to --class index: want both, or neither", ask.IndexS)
	}
	if p := ask.PerfectS; p.Known() && p.Value() != 0 && p.Value() != 0.4 && p.Value() != 0.5 {
		return crew.Rules{}, usagef("--perfect-reaction %v: want 0, 0.4 or 0.5", p)
	}
	return crew.RulesAt(track, ask), nil
}
