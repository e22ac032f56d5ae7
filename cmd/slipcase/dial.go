package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

func (a *app) dialCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "dial",
		Short: "the next round's dial-in, its breakout risk and the chance to win",
		Long: `The dial for the next round, from the forecast in the air of then: the chance
of breaking out with each dial, and the dial for a wanted risk. With --opponent
also the chance to win, by its dial, reaction and ET, each with its spread (sd),
or by a vehicle of the log. It assumes that neither lane lifts. --class index:
one index for both, no handicap; --class heads-up: no limit.`,
		Example: `  slipcase dial --at 16:30
  slipcase dial --risk 10 --temp 84F --rh 50 --station 28.90inHg
  slipcase dial --opponent "dial 12.40 reaction .042 sd .020 et 12.43 sd .03"
  slipcase dial --opponent "plover dial 9.90" --distance 660
  slipcase dial --class index --index 8.90`,
		Args: cobra.NoArgs,
		RunE: a.reads(a.dial),
	}
	f := c.Flags()
	f.String("vehicle", "", "the vehicle")
	f.String("at", "", "when it will run, as 16:30; now when left out")
	f.Var(&finish{}, "distance", "660, 1000 or 1320 ft; what it usually races when left out")
	f.Bool("force", false, "take air that looks wrong as it is")
	chanceFlag(c, "risk", 100*crew.UsualRisk, "how many times in 100 it may break out")
	f.String("reaction", "", "your reaction, as \".030 sd .015\"; from the log when left out")
	f.String("opponent", "", "the other lane, as \"dial 12.40 reaction .042 sd .020 et 12.43 sd .03\"")
	registerRules(c)
	registerReading(c)
	return brief(c)
}

// finish is a distance that is raced to; its mark is nil when it was not given.
type finish struct {
	text string
	mark *crew.Mark
}

func (f *finish) String() string { return f.text }
func (f *finish) Type() string   { return "string" }

func (f *finish) Set(text string) error {
	ft, err := units.Length.Parse(text)
	for m := crew.At660; m < crew.Marks; m++ {
		if err == nil && math.Abs(m.Ft()-ft) < 1 {
			f.text, f.mark = text, &m
			return nil
		}
	}
	return fmt.Errorf("%q: want 660, 1000 or 1320", text)
}

func (a *app) dial(c *cobra.Command, _ []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	ask := crew.DialAsk{Mark: c.Flags().Lookup("distance").Value.(*finish).mark, RiskPct: chanceOf(c, "risk")}
	if ask.Next, err = a.next(c, lb, v); err != nil {
		return err
	}
	if ask.Rules, err = readRules(c, ask.Next.Run.Track); err != nil {
		return err
	}
	if err := a.readOpponent(c, lb, &ask); err != nil {
		return err
	}
	d, err := lb.Dial(ask)
	if bad := (*crew.Impossible)(nil); errors.As(err, &bad) {
		return usagef("--%s: %w", bad.Of, err)
	}
	if err != nil {
		return err
	}
	return a.page.Dial(d)
}
