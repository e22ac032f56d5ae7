package main

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

func (a *app) dialCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "dial",
		Short: "the next round's dial-in, its breakout risk and the chance to win",
		Long: `The dial for the next round by the forecast in the air of then: dead on and two
safer ones side by side, and the one for a wanted risk. --hold .02 dials so much
slower, to give back at the stripe; kept for the day, --hold 0 drops it. With
--opponent the dial that wins most, by its dial, reaction and ET, each with its
spread (sd), or by a vehicle of the log; nobody lifts there. --class index: how
much to slow down for it; heads-up: no limit. Without --track: today's.`,
		Example: `  slipcase dial --at 16:30
  slipcase dial --risk 10 --temp {84F --rh 50 --station 28.90inHg|29C --rh 50 --station 979hPa}
  slipcase dial --hold .02
  slipcase dial --opponent "dial 12.40 reaction .042 sd .020 et 12.43 sd .03"
  slipcase dial --opponent "plover dial 9.90"
  slipcase dial --class index --index 8.90`,
		Args: cobra.NoArgs,
		RunE: a.reads(a.dial),
	}
	f := c.Flags()
	f.String("vehicle", "", "the vehicle")
	f.String("at", "", "when it will run, as 16:30; now when left out")
	keywordFlag(c, "lane", "", "left or right: the lane it will run in, where they differ", "left", "right")
	f.Var(&finish{}, "distance", "660, 1000 or 1320 ft; what it usually races when left out")
	f.String("stop", "", "the throttle stop, as 1.32 or .20-1.52; as on its last run in the class when left out")
	f.Bool("force", false, "take air that looks wrong as it is")
	chanceFlag(c, "risk", 100*crew.UsualRisk, "the chance of a breakout to come nearest to, in percent")
	quantityFlag(c, "hold", units.Seconds, "dial so much slower than the forecast, as .02: for today, 0 drops it")
	f.String("reaction", "", "your reaction, as \".030 sd .015\"; from the log when left out")
	f.String("opponent", "", "the other lane, as \"dial 12.40 reaction .042 sd .020 et 12.43 sd .03\"")
	class := registerRules(c)
	c.Flag("class").Usage, class.open = "dial, index, heads-up, or a class of your slips by its name", true
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
	f.text = text
	return nil
}

func (f *finish) readIn(bare units.System) error {
	if ft, err := units.ParseDistance(bare, f.text); err == nil {
		if m, is := crew.MarkAt(ft); is && m >= crew.At660 {
			f.mark = &m
			return nil
		}
	}
	return fmt.Errorf("%q: want 660, 1000 or 1320", f.text)
}

func (a *app) dial(c *cobra.Command, _ []string, lb *crew.Session) error {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return err
	}
	ask := crew.DialAsk{RiskPct: chanceOf(c, "risk"), ForRisk: c.Flags().Changed("risk")}
	ask.Mark = c.Flags().Lookup("distance").Value.(*finish).mark
	if text := c.Flag("stop").Value.String(); text != "" {
		var said crew.Slip
		if err := typed.Stop(&said, text); err != nil {
			return usagef("--stop: %w", err)
		}
		ask.Stop = &crew.StopSaid{OnS: said.StopOnS, OffS: said.StopOffS}
	}
	if ask.Next, err = a.next(c, lb, v); err != nil {
		return err
	}
	if ask.Rules, err = a.rulesAhead(c, lb, ask.Next.Run); err != nil {
		return err
	}
	if err := a.readOpponent(c, lb, &ask); err != nil {
		return err
	}
	if err := readHold(c, lb, &ask); err != nil {
		return err
	}
	d, err := lb.Dial(ask)
	if err != nil {
		return err
	}
	if c.Flags().Changed("hold") {
		if err := lb.KeepHold(d.Run, ask.HoldS); err != nil {
			a.page.Note("the hold is not kept for the day: %v", err)
		}
	}
	return a.page.Dial(d)
}

// rulesAhead are the rules of the run to come: by the flags, else as the day's last slip was
// raced, whose index also stands for one that is not given.
func (a *app) rulesAhead(c *cobra.Command, lb *crew.Session, next crew.Run) (crew.Rules, error) {
	class := c.Flag("class").Value.(*keyword)
	own, err := lb.ClassNamed(next, class.is)
	if err != nil {
		return own, err
	}
	class.is = string(own.Format)
	rules, err := readClass(c, next.Track)
	rules.IndexS = cmp.Or(rules.IndexS, own.IndexS)
	given := rules.Format == crew.HeadsUp || rules.IndexS.Known() ||
		rules.Format == crew.Dialled && c.Flags().Changed("class")
	if err != nil || given {
		return rules, err
	}
	rules = lb.RulesAhead(next, rules)
	return rules, hasIndex(rules)
}

// readHold reads --hold, else takes the one kept for the day.
func readHold(c *cobra.Command, lb *crew.Session, ask *crew.DialAsk) error {
	switch held := quantityOf(c, "hold"); {
	case !held.Known():
		lb.TakeHold(ask)
		return nil
	case ask.Rules.Format != crew.Dialled:
		return usagef("--hold is for a dial: with --class %s there is none to choose", ask.Rules.Format)
	case ask.ForRisk:
		return usagef("--hold and --risk both choose the dial: want one of them")
	default:
		ask.HoldS = held.Value()
		return crew.CheckHold(ask.HoldS)
	}
}
