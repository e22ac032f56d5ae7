package crew

import (
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
)

// What the log and the predictor call the things that the crew hands on: whoever
// shows them needs neither.
type (
	Entry   = logbook.Entry
	Slip    = logbook.Slip
	Run     = logbook.Run
	Vehicle = logbook.Vehicle
	Track   = logbook.Track
	Setup   = logbook.Setup
	Reading = logbook.Reading
	Time    = logbook.Time
	Planned = logbook.Planned
	Sheet   = logbook.Sheet
	Point   = logbook.Point

	CellChange = logbook.CellChange
	ThereError = logbook.ThereError
	Outlier    = logbook.Outlier

	Mark      = predict.Mark
	Splits    = predict.Splits
	Band      = predict.Band
	Range     = predict.Range
	Forecast  = predict.Forecast
	Figure    = predict.Figure
	LeftOut   = predict.LeftOut
	WasOn     = predict.WasOn
	LaneRun   = predict.LaneRun
	Format    = predict.Format
	Reactions = predict.Reactions
	Spread    = predict.Spread
	Caution   = predict.Caution
	Note      = predict.Note
	Decision  = predict.Decision

	ThousandFt = predict.ThousandFt

	Judgement = predict.Judgement
	Piece     = predict.Piece
	Pass      = predict.Pass

	Upgrade = predict.Upgrade
	Worth   = predict.Worth
	Step    = predict.Step

	Curve           = predict.Curve
	CurveDifference = predict.CurveDifference
	Backtest        = predict.Backtest
	Tally           = predict.Tally

	Air      = weather.Air
	AirNote  = weather.Note
	Estimate = weather.Estimate
)

// What parts and formulas are told by.
const (
	Motorcycle = predict.Motorcycle
	AtWheels   = predict.AtWheels
	Turbo      = predict.Turbo

	UsualTurboPsi = predict.UsualTurboPsi // of a turbo of which nothing is said
	FormulaDoubt  = predict.Doubt         // of a formula's ET, as a share,
	FormulaCars   = predict.DoubtCars     // from so many cars
)

// The distances a slip tells.
const (
	At60   = predict.At60
	At330  = predict.At330
	At660  = predict.At660
	At1000 = predict.At1000
	At1320 = predict.At1320
	Marks  = predict.Marks
)

// The formats of a round.
const (
	Dialled = predict.Dialled
	Index   = predict.Index
	HeadsUp = predict.HeadsUp
)

// The faults of a lane.
const (
	NoFault  = predict.NoFault
	Boundary = predict.Boundary
	NoStart  = predict.NoStart
	Stalled  = predict.Stalled
)

// Nobody is the winner of a round that the slip does not decide.
const Nobody = predict.Nobody

// What the words of an answer depend on.
const (
	FullPower = predict.FullPower
	Lifted    = predict.Lifted
	UsualRisk = predict.UsualRisk
	Void      = logbook.Void
)

// StandardAir is the air that runs are corrected to.
var StandardAir = weather.Standard
