package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// readOpponent reads --opponent and the reactions of both lanes.
func (a *app) readOpponent(c *cobra.Command, lb *crew.Session, ask *crew.DialAsk) error {
	text, _ := c.Flags().GetString("opponent")
	own, _ := c.Flags().GetString("reaction")
	if text == "" {
		return aloneFlags(c)
	}
	if own != "" {
		if err := readLane(&ask.Own, ask.Rules, append([]string{"reaction"}, strings.Fields(own)...)); err != nil {
			return usagef("--reaction: %v", err)
		}
	}
	ask.Rival = &crew.RivalAsk{}
	words := strings.Fields(text)
	if len(words) > 0 && !isKeyword(words[0]) {
		v, err := lb.VehicleNamed(words[0])
		if err != nil {
			return err
		}
		next, err := a.next(c, lb, v)
		if err != nil {
			return err
		}
		next.Run.Slip.Lane = crew.OtherSide(next.Run.Slip.Lane)
		ask.Rival.Next, words = &next, words[1:]
	}
	if err := readLane(&ask.Rival.Said, ask.Rules, words); err != nil {
		return usagef("--opponent: %v", err)
	}
	return nil
}

// aloneFlags refuses what says something of a round when there is no other lane.
func aloneFlags(c *cobra.Command) error {
	for _, flag := range []string{"reaction", "perfect-reaction", "both-red"} {
		if c.Flags().Changed(flag) {
			return usagef("--%s counts only against another lane: want --opponent \"dial 12.40\" with it", flag)
		}
	}
	return nil
}

func isKeyword(word string) bool {
	switch strings.ToLower(word) {
	case "dial", "reaction", "et", "sd":
		return true
	}
	return false
}

// readLane reads what is said of a lane in words: dial 12.40 reaction .042 sd .020.
func readLane(l *crew.LaneSaid, rules crew.Rules, words []string) error {
	var spread *units.Number // what an sd belongs to
	for i := 0; i < len(words); i += 2 {
		key := strings.ToLower(words[i])
		if !isKeyword(key) || i+1 == len(words) {
			return fmt.Errorf("%q: want dial 12.40 reaction .042 sd .020 et 12.43 sd .03", strings.Join(words[i:], " "))
		}
		var err error
		switch text := words[i+1]; {
		case key == "dial":
			l.DialS, err = typed.Dial(text)
			err = positive(l.DialS, err)
		case key == "reaction":
			spread = &l.ReactionSD
			if l.ReactionS, err = typed.Reaction(text); err == nil {
				err = rules.CheckReaction(l.ReactionS.Value())
			}
		case key == "et":
			spread = &l.ETSD
			l.ETS, err = typed.OtherET(text)
			err = positive(l.ETS, err)
		case spread == nil:
			err = errors.New("it belongs behind a reaction or an et")
		default:
			*spread, err = typed.Reaction(text)
			err = positive(*spread, err)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", key, err)
		}
	}
	return nil
}

func positive(n units.Number, err error) error {
	if err == nil && !(n.Value() > 0) {
		return errors.New("want more than 0")
	}
	return err
}
