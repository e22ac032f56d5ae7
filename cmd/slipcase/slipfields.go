package main

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

type slip = logbook.Slip

// slipFields are the columns of a slip in the order of a paper one.
var slipFields = []field[slip]{
	choice("lane", "left or right", func(s *slip) *string { return &s.Lane }, "left", "right"),
	words("round", "as Q1, E2", func(s *slip) *string { return &s.Round }),
	read(
		"reaction",
		"reaction time, as .042; a red light is -.012 or r012",
		typed.Reaction,
		func(s *slip) *units.Number { return &s.ReactionS },
	),
	read("60", "60 ft time, as 1.912 or 1912", timeAt(60), func(s *slip) *units.Number { return &s.ET60S }),
	read("330", "330 ft time", timeAt(330), func(s *slip) *units.Number { return &s.ET330S }),
	timed(
		"660",
		"660 ft time and speed, as 8.412@83.77",
		660,
		func(s *slip) (et, mph *units.Number) { return &s.ET660S, &s.MPH660 },
	),
	timed("1000", "1000 ft time and speed", 1000, func(s *slip) (et, mph *units.Number) { return &s.ET1000S, &s.MPH1000 }),
	timed(
		"1320",
		"1320 ft time and speed, as 13.212@105.84",
		1320,
		func(s *slip) (et, mph *units.Number) { return &s.ET1320S, &s.MPH1320 },
	),
	read("dial", "the dial-in", typed.Dial, func(s *slip) *units.Number { return &s.DialS }),
	choice(
		"result",
		"won, lost or dq; left out, it is worked out from both lanes",
		func(s *slip) *string { return &s.Result },
		"won",
		"lost",
		"dq",
	),
	choice("full-power", "yes, lifted, braked, spun or broke", func(s *slip) *string { return &s.FullPower },
		"yes", "lifted", "braked", "spun", "broke"),
	distance("full-power-to", "how far at full power, as 1150ft", func(s *slip) *units.Number { return &s.FullPowerToFt }),
	read(
		"opponent-reaction",
		"the other lane's reaction",
		typed.Reaction,
		func(s *slip) *units.Number { return &s.OpponentReactionS },
	),
	read("opponent-et", "the other lane's ET", typed.OtherET, func(s *slip) *units.Number { return &s.OpponentETS }),
	read("opponent-dial", "the other lane's dial-in", typed.Dial, func(s *slip) *units.Number { return &s.OpponentDialS }),
	number("opponent-mph", "the other lane's speed", units.Speed, func(s *slip) *units.Number { return &s.OpponentMPH }),
	choice(
		"opponent-broke",
		"the other lane broke: before it staged or, with its reaction, on the way; =staged on the line",
		func(s *slip) *string { return &s.OpponentBroke },
	),
	choice("bye", "no one in the other lane", func(s *slip) *string { return &s.Bye }),
	choice("buyback", "a buyback round", func(s *slip) *string { return &s.Buyback }),
	{
		flag: "class", help: "dial, index, heads-up, test, or your own name for it", words: []string{"dial", "index", "heads-up", "test"},
		set: func(s *slip, _ units.System, text string) error { return typed.Class(s, text) },
	},
	{
		flag: "index",
		help: "the class's index, as 8.90",
		set:  func(s *slip, _ units.System, text string) error { return typed.Index(s, text) },
	},
	read(
		"tree",
		"pro, full, or what its slip prints for a perfect light",
		typed.Tree,
		func(s *slip) *units.Number { return &s.Tree },
	),
	distance("raced", "how far the round was raced, as 660ft", func(s *slip) *units.Number { return &s.RacedFt }),
	words("driver", "who drove", func(s *slip) *string { return &s.Driver }),
	words("opponent", "who was in the other lane", func(s *slip) *string { return &s.Opponent }),
	words("meet", "the meet it was at", func(s *slip) *string { return &s.Meet }),
	words("setup", "id of the setup; the one in force when left out", func(s *slip) *string { return &s.Setup }),
	words("air", "id of the air reading; the air at that minute when left out", func(s *slip) *string { return &s.Air }),
	number("launch-rpm", "engine speed at launch", units.RPM, func(s *slip) *units.Number { return &s.LaunchRPM }),
	number("delay", "delay box setting", units.Seconds, func(s *slip) *units.Number { return &s.DelayS }),
	{
		flag: "stop", help: "throttle stop: how long on, as 1.32, or from when to when, as .20-1.52",
		set: func(s *slip, _ units.System, text string) error { return typed.Stop(s, text) },
	},
	number("stop-rpm", "engine speed on the throttle stop", units.RPM, func(s *slip) *units.Number { return &s.StopRPM }),
	number("two-step", "engine speed on the two-step", units.RPM, func(s *slip) *units.Number { return &s.TwoStepRPM }),
	number(
		"crossover",
		"crossover time of the delay box",
		units.Seconds,
		func(s *slip) *units.Number { return &s.CrossoverS },
	),
	number("tire-pressure", "as 14.5psi", units.TyrePressure, func(s *slip) *units.Number { return &s.TyrePsi }),
	number("water-temp", "cooling water", units.Temperature, func(s *slip) *units.Number { return &s.WaterTempF }),
	number("track-temp", "track surface", units.Temperature, func(s *slip) *units.Number { return &s.TrackTempF }),
	{
		flag: "own", help: "a column of your own, as jets=68; jets=. leaves it out", many: true,
		set: func(s *slip, _ units.System, text string) error { return typed.Own(s, text) },
	},
	words("notes", "anything else", func(s *slip) *string { return &s.Notes }),
}

// yesAlone are the fields whose flag alone says yes.
var yesAlone = []string{"opponent-broke", "bye", "buyback"}

// registerSlip gives a command the flags of a slip.
func registerSlip(c *cobra.Command) {
	register(c, slipFields)
	for _, flag := range yesAlone {
		c.Flags().Lookup(flag).NoOptDefVal = "yes"
	}
}

func timeAt(ft float64) func(string) (units.Number, error) {
	return func(text string) (units.Number, error) { return typed.Time(text, ft) }
}

// timed is a split as the trade writes it: ET@mph, either side alone allowed.
func timed(flag, help string, ft float64, at func(*slip) (et, mph *units.Number)) field[slip] {
	return field[slip]{flag: flag, help: help, set: func(row *slip, bare units.System, text string) error {
		et, mph, both, err := typed.Split(bare, text, ft)
		if err != nil {
			return err
		}
		atET, atMPH := at(row)
		*atET = et
		if both {
			*atMPH = mph
		}
		return nil
	}}
}

// timesOf are the fields of a paper slip's column, in its order.
var timesOf = []string{"reaction", "60", "330", "660", "1000", "1320"}

func slipField(flag string) (field[slip], bool) {
	for _, f := range slipFields {
		if f.flag == flag {
			return f, true
		}
	}
	return field[slip]{}, false
}
