package typed

import (
	"slipcase/logbook"
	"slipcase/weather/units"
)

// SheetFields are the columns of a dyno sheet; its curve comes from a file.
var SheetFields = []Field[logbook.Sheet]{
	ChoiceField(
		"power-at",
		"where it was measured: wheels or clutch",
		func(s *logbook.Sheet) *string { return &s.At },
		"wheels",
		"clutch",
	),
	StandardField("what it is corrected to: sae, standard, din or none", func(s *logbook.Sheet) *string { return &s.Standard }),
	NumberField("temp", "air temperature at the dyno, as {88F|31C}", units.Temperature,
		func(s *logbook.Sheet) *units.Number { return &s.TempF }),
	NumberField("rh", "relative humidity at the dyno, percent", units.Percent,
		func(s *logbook.Sheet) *units.Number { return &s.RHPct }),
	NumberField("station", "station pressure at the dyno, as {28.94inHg|980hPa}", units.Pressure,
		func(s *logbook.Sheet) *units.Number { return &s.StationInHg }),
	WordsField("notes", "anything else", func(s *logbook.Sheet) *string { return &s.Notes }),
	{
		Flag: "peak", Help: "instead of --sheet: the peak alone, as {312hp|233kW} or {312hp|233kW}@5600rpm",
		Set: func(s *logbook.Sheet, bare units.System, text string) (err error) {
			s.PeakHP, s.PeakRPM, err = ParsePeak(bare, text)
			return err
		},
	},
}
