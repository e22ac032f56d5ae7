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

	Mark     = predict.Mark
	Splits   = predict.Splits
	Band     = predict.Band
	Range    = predict.Range
	Forecast = predict.Forecast
	Backtest = predict.Backtest
	Tally    = predict.Tally

	Air      = weather.Air
	AirNote  = weather.Note
	Estimate = weather.Estimate
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

// StandardAir is the air that runs are corrected to.
var StandardAir = weather.Standard
