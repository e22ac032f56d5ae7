package crew

import (
	"fmt"

	"slipcase/predict"
	"slipcase/weather/units"
)

// DynoRow is a row of a dyno sheet's file.
type DynoRow = predict.DynoRow

// Spike is a row of a sheet that is left out.
type Spike = predict.Spike

// PulledColumn is a column of a dyno's file and what it was taken for.
type PulledColumn struct {
	Head string // as the file has it, "" where there is none
	Unit string
	At   string // wheels or clutch, "" where it does not say
}

// Pulled is a pull as a dyno's file has it, and how it was understood.
type Pulled struct {
	Rows               []DynoRow
	RPM, Power, Torque PulledColumn
	Others             []string // columns of power that were not taken
	Thousands          bool     // its engine speed is in thousands
	CommaDecimal       bool
	Downward           bool // listed from the highest speed on
	NotRising          int  // rows left out where the engine speed did not rise
	Blank              int  // rows left out with a speed and no figure

	// As the text around the rows says; "" or absent where it does not.
	Standard                  string
	TempF, RHPct, StationInHg units.Number

	Curve  Curve
	Spikes []Spike
}

// PowerColumns is the error of a file with several columns of power.
type PowerColumns struct{ Columns []PulledColumn }

func (e *PowerColumns) Error() string { return fmt.Sprintf("%d columns of power", len(e.Columns)) }

// SetCurve checks the rows of a pull, and parts its spikes from them.
func (p *Pulled) SetCurve() (err error) {
	p.Curve, p.Spikes, err = predict.NewCurve(p.Rows)
	return err
}
