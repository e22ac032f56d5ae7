package main

import (
	"slipcase/logbook"
	"slipcase/weather/units"
)

type slip = logbook.Slip

// slipFields are the columns of a slip in the order of a paper one.
var slipFields = []field[slip]{
	choice("lane", "left or right", func(s *slip) *string { return &s.Lane }),
	words("round", "as Q1, E2", func(s *slip) *string { return &s.Round }),
	number("reaction", "reaction time, as .042; a red light is less than the track's perfect one", units.Seconds, func(s *slip) *units.Number { return &s.ReactionS }),
	number("60", "60 ft time", units.Seconds, func(s *slip) *units.Number { return &s.ET60S }),
	number("330", "330 ft time", units.Seconds, func(s *slip) *units.Number { return &s.ET330S }),
	timed("660", "660 ft time and speed, as 8.412@83.77", func(s *slip) *units.Number { return &s.ET660S }, func(s *slip) *units.Number { return &s.MPH660 }),
	timed("1000", "1000 ft time and speed", func(s *slip) *units.Number { return &s.ET1000S }, func(s *slip) *units.Number { return &s.MPH1000 }),
	timed("1320", "1320 ft time and speed, as 13.212@105.84", func(s *slip) *units.Number { return &s.ET1320S }, func(s *slip) *units.Number { return &s.MPH1320 }),
	number("dial", "the dial-in", units.Seconds, func(s *slip) *units.Number { return &s.DialS }),
	choice("result", "won or lost", func(s *slip) *string { return &s.Result }),
	choice("full-power", "yes, lifted, braked, spun or broke", func(s *slip) *string { return &s.FullPower }),
	number("full-power-to", "how far at full power, as 1150ft", units.Length, func(s *slip) *units.Number { return &s.FullPowerToFt }),
	number("opponent-reaction", "the other lane's reaction", units.Seconds, func(s *slip) *units.Number { return &s.OpponentReactionS }),
	number("opponent-et", "the other lane's ET", units.Seconds, func(s *slip) *units.Number { return &s.OpponentETS }),
	number("opponent-dial", "the other lane's dial-in", units.Seconds, func(s *slip) *units.Number { return &s.OpponentDialS }),
	number("opponent-mph", "the other lane's speed", units.Speed, func(s *slip) *units.Number { return &s.OpponentMPH }),
	words("meet", "the meet it was at", func(s *slip) *string { return &s.Meet }),
	words("setup", "id of the setup; the one in force when left out", func(s *slip) *string { return &s.Setup }),
	words("air", "id of the air reading; the air at that minute when left out", func(s *slip) *string { return &s.Air }),
	number("launch-rpm", "engine speed at launch", units.RPM, func(s *slip) *units.Number { return &s.LaunchRPM }),
	number("delay", "delay box setting", units.Seconds, func(s *slip) *units.Number { return &s.DelayS }),
	number("tyre-pressure", "as 14.5psi", units.TyrePressure, func(s *slip) *units.Number { return &s.TyrePsi }),
	number("water-temp", "cooling water", units.Temperature, func(s *slip) *units.Number { return &s.WaterTempF }),
	number("track-temp", "track surface", units.Temperature, func(s *slip) *units.Number { return &s.TrackTempF }),
	words("notes", "anything else", func(s *slip) *string { return &s.Notes }),
}

// asked are the fields of slipFields that a racer is prompted for.
const asked = 10
