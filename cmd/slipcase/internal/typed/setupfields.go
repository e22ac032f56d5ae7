package typed

import (
	"slipcase/logbook"
	"slipcase/weather/units"
)

// SetupFields are the columns of a setup.
var SetupFields = []Field[logbook.Setup]{
	WordsField("name", "a short name for it, as bigger-carb", func(s *logbook.Setup) *string { return &s.Name }),
	NumberField("weight", "ready to run, with driver or rider, as {3450lb|1565kg}", units.Weight,
		func(s *logbook.Setup) *units.Number { return &s.WeightLb }),
	NumberField("power", "as {312hp|233kW}", units.Power, func(s *logbook.Setup) *units.Number { return &s.PowerHP }),
	ChoiceField("power-at", "where it was measured: wheels or clutch", func(s *logbook.Setup) *string { return &s.PowerAt },
		"wheels", "clutch"),
	StandardField("what the sheet is corrected to: sae, standard, din or none", func(s *logbook.Setup) *string { return &s.PowerStandard }),
	NumberField("boost", "of a turbo, above the air outside, as {14psi|1bar}", units.TyrePressure,
		func(s *logbook.Setup) *units.Number { return &s.BoostPsi }),
	ChoiceField("boost-held", "what stays when the air thins: gauge (a spring), absolute (a sensor) or ratio",
		func(s *logbook.Setup) *string { return &s.BoostHeld }, "gauge", "absolute", "ratio"),
	NumberField("rear", "final drive, as 4.10", units.Ratio, func(s *logbook.Setup) *units.Number { return &s.FinalRatio }),
	NumberField("tire", "diameter of the driven tire, as {28in|711mm}", units.Diameter,
		func(s *logbook.Setup) *units.Number { return &s.TyreIn }),
	NumberField("stall", "of a converter, rpm", units.RPM, func(s *logbook.Setup) *units.Number { return &s.StallRPM }),
	NumberField("shift-at", "engine speed of the shifts, rpm", units.RPM,
		func(s *logbook.Setup) *units.Number { return &s.ShiftRPM }),
	WordsField("sheet", "the dyno sheet that the power is from: slipcase power list",
		func(s *logbook.Setup) *string { return &s.Power }),
	WordsField("change", "what was changed; names of slipcase plan list, apart by commas, are held against what they promised",
		func(s *logbook.Setup) *string { return &s.Change }),
	NumberField("cost", "what it cost", units.Money, func(s *logbook.Setup) *units.Number { return &s.Cost }),
	WordsField("notes", "anything else", func(s *logbook.Setup) *string { return &s.Notes }),
}
