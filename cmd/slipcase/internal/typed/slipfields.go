package typed

import (
	"slipcase/logbook"
	"slipcase/weather/units"
)

// SlipFields are the columns of a slip in the order of a paper one.
var SlipFields = []Field[logbook.Slip]{
	ChoiceField("lane", "left or right", func(s *logbook.Slip) *string { return &s.Lane }, "left", "right"),
	WordsField("round", "as Q1, E2", func(s *logbook.Slip) *string { return &s.Round }),
	ReadField(
		"reaction",
		"reaction time, as .042; a red light is -.012 or r012",
		Reaction,
		func(s *logbook.Slip) *units.Number { return &s.ReactionS },
	),
	ReadField("60", "60 ft time, as 1.912 or 1912", timeAt(60), func(s *logbook.Slip) *units.Number { return &s.ET60S }),
	ReadField("330", "330 ft time", timeAt(330), func(s *logbook.Slip) *units.Number { return &s.ET330S }),
	timedField(
		"660",
		"660 ft time and speed, as 8.412@{83.77|134.81}",
		660,
		func(s *logbook.Slip) (et, mph *units.Number) { return &s.ET660S, &s.MPH660 },
	),
	timedField(
		"1000",
		"1000 ft time and speed",
		1000,
		func(s *logbook.Slip) (et, mph *units.Number) { return &s.ET1000S, &s.MPH1000 },
	),
	timedField(
		"1320",
		"1320 ft time and speed, as 13.212@{105.84|170.33}",
		1320,
		func(s *logbook.Slip) (et, mph *units.Number) { return &s.ET1320S, &s.MPH1320 },
	),
	ReadField("dial", "the dial-in", Dial, func(s *logbook.Slip) *units.Number { return &s.DialS }),
	ChoiceField(
		"result",
		"won, lost or dq; left out, it is worked out from both lanes",
		func(s *logbook.Slip) *string { return &s.Result },
		"won",
		"lost",
		"dq",
	),
	ChoiceField("full-power", "yes, lifted, braked, spun or broke", func(s *logbook.Slip) *string { return &s.FullPower },
		"yes", "lifted", "braked", "spun", "broke"),
	DistanceField(
		"full-power-to",
		"how far at full power, as {1150ft|350m}",
		func(s *logbook.Slip) *units.Number { return &s.FullPowerToFt },
	),
	ReadField(
		"opponent-reaction",
		"the other lane's reaction",
		Reaction,
		func(s *logbook.Slip) *units.Number { return &s.OpponentReactionS },
	),
	ReadField(
		"opponent-et",
		"the other lane's ET",
		OtherET,
		func(s *logbook.Slip) *units.Number { return &s.OpponentETS },
	),
	ReadField(
		"opponent-dial",
		"the other lane's dial-in",
		Dial,
		func(s *logbook.Slip) *units.Number { return &s.OpponentDialS },
	),
	NumberField(
		"opponent-mph",
		"the other lane's speed",
		units.Speed,
		func(s *logbook.Slip) *units.Number { return &s.OpponentMPH },
	),
	ChoiceField(
		"opponent-broke",
		"the other lane broke: before it staged or, with its reaction, on the way; =staged on the line",
		func(s *logbook.Slip) *string { return &s.OpponentBroke },
	),
	ChoiceField("bye", "no one in the other lane", func(s *logbook.Slip) *string { return &s.Bye }),
	ChoiceField("buyback", "a buyback round", func(s *logbook.Slip) *string { return &s.Buyback }),
	{
		Flag: "class", Help: "dial, index, heads-up, test, or your own name for it", Words: []string{"dial", "index", "heads-up", "test"},
		Set: func(s *logbook.Slip, _ units.System, text string) error { return Class(s, text) },
	},
	{
		Flag: "index",
		Help: "the class's index, as 8.90",
		Set:  func(s *logbook.Slip, _ units.System, text string) error { return Index(s, text) },
	},
	ReadField(
		"tree",
		"pro, full, or what its slip prints for a perfect light",
		Tree,
		func(s *logbook.Slip) *units.Number { return &s.Tree },
	),
	DistanceField(
		"raced",
		"how far the round was raced, as {660ft|201m}",
		func(s *logbook.Slip) *units.Number { return &s.RacedFt },
	),
	WordsField("driver", "who drove", func(s *logbook.Slip) *string { return &s.Driver }),
	WordsField("opponent", "who was in the other lane", func(s *logbook.Slip) *string { return &s.Opponent }),
	WordsField("meet", "the meet it was at", func(s *logbook.Slip) *string { return &s.Meet }),
	WordsField(
		"setup",
		"id of the setup; the one in force when left out",
		func(s *logbook.Slip) *string { return &s.Setup },
	),
	WordsField(
		"air",
		"id of the air reading; the air at that minute when left out",
		func(s *logbook.Slip) *string { return &s.Air },
	),
	NumberField(
		"launch-rpm",
		"engine speed at launch",
		units.RPM,
		func(s *logbook.Slip) *units.Number { return &s.LaunchRPM },
	),
	NumberField("delay", "delay box setting", units.Seconds, func(s *logbook.Slip) *units.Number { return &s.DelayS }),
	{
		Flag: "stop", Help: "throttle stop: how long on, as 1.32, or from when to when, as .20-1.52",
		Set: func(s *logbook.Slip, _ units.System, text string) error { return Stop(s, text) },
	},
	NumberField(
		"stop-rpm",
		"engine speed on the throttle stop",
		units.RPM,
		func(s *logbook.Slip) *units.Number { return &s.StopRPM },
	),
	NumberField(
		"two-step",
		"engine speed on the two-step",
		units.RPM,
		func(s *logbook.Slip) *units.Number { return &s.TwoStepRPM },
	),
	NumberField(
		"crossover",
		"crossover time of the delay box",
		units.Seconds,
		func(s *logbook.Slip) *units.Number { return &s.CrossoverS },
	),
	NumberField(
		"tire-pressure",
		"as {14.5psi|1bar}",
		units.TyrePressure,
		func(s *logbook.Slip) *units.Number { return &s.TyrePsi },
	),
	NumberField(
		"water-temp",
		"cooling water",
		units.Temperature,
		func(s *logbook.Slip) *units.Number { return &s.WaterTempF },
	),
	NumberField(
		"track-temp",
		"track surface",
		units.Temperature,
		func(s *logbook.Slip) *units.Number { return &s.TrackTempF },
	),
	{
		Flag: "own", Help: "a column of your own, as jets=68; jets=. leaves it out", Many: true,
		Set: func(s *logbook.Slip, _ units.System, text string) error { return Own(s, text) },
	},
	WordsField("notes", "anything else", func(s *logbook.Slip) *string { return &s.Notes }),
}

// YesAlone are the fields whose flag alone says yes.
var YesAlone = []string{"opponent-broke", "bye", "buyback"}

func timeAt(ft float64) func(string) (units.Number, error) {
	return func(text string) (units.Number, error) { return Time(text, ft) }
}

// timedField is a split as the trade writes it: ET@mph, either side alone allowed.
func timedField(flag, help string, ft float64, at func(*logbook.Slip) (et, mph *units.Number)) Field[logbook.Slip] {
	return Field[logbook.Slip]{Flag: flag, Help: help, Set: func(row *logbook.Slip, bare units.System, text string) error {
		et, mph, both, err := Split(bare, text, ft)
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

// TimesOf are the fields of a paper slip's column, in its order.
var TimesOf = []string{"reaction", "60", "330", "660", "1000", "1320"}

// SlipField is the field of a flag.
func SlipField(flag string) (Field[logbook.Slip], bool) {
	for _, f := range SlipFields {
		if f.Flag == flag {
			return f, true
		}
	}
	return Field[logbook.Slip]{}, false
}
