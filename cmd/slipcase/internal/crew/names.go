package crew

import (
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
)

// What the log and the predictor call the things that the crew hands on: whoever
// shows them needs neither.
type (
	Slip    = logbook.Slip
	Run     = logbook.Run
	Vehicle = logbook.Vehicle
	Track   = logbook.Track
	Setup   = logbook.Setup
	Reading = logbook.Reading
	Time    = logbook.Time
	Part    = logbook.Part
	Sheet   = logbook.Sheet
	Point   = logbook.Point

	CellChange = logbook.CellChange

	Mark     = predict.Mark
	Splits   = predict.Splits
	Band     = predict.Band
	Range    = predict.Range
	Forecast = predict.Forecast
	LeftOut  = predict.LeftOut
	LaneRun  = predict.LaneRun
	Caution  = predict.Caution
	Note     = predict.Note
	Decision = predict.Decision

	Judgement = predict.Judgement
	Piece     = predict.Piece
	Pass      = predict.Pass

	Upgrade = predict.Upgrade
	Worth   = predict.Worth
	Step    = predict.Step

	Curve           = predict.Curve
	CurveDifference = predict.CurveDifference

	Estimate = weather.Estimate
)

// What parts and formulas are told by.
const (
	Motorcycle = predict.Motorcycle
	AtWheels   = predict.AtWheels
	Turbo      = predict.Turbo

	FormulaDoubt = predict.Doubt     // of a formula's ET, as a share,
	FormulaCars  = predict.DoubtCars // from so many cars
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

// What the words of an answer depend on.
const (
	FullPower = predict.FullPower
	Lifted    = predict.Lifted
	UsualRisk = predict.UsualRisk
	Void      = logbook.Void
)
