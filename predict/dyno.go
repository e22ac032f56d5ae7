package predict

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"

	"slipcase/weather/units"
)

// DynoRow is one line of a dyno sheet: power in hp, torque in lb-ft, or both.
type DynoRow struct {
	Line          int // where it stands in the sheet, for messages
	RPM           float64
	PowerHP, LbFt units.Number
}

// DynoPoint is the power in hp at an engine speed in rpm.
type DynoPoint struct{ RPM, HP float64 }

// LbFt is the torque, lb-ft.
func (p DynoPoint) LbFt() float64 { return p.HP * units.LbFtPerHPPerRPM / p.RPM }

// Curve is power over engine speed, straight between its points; their speeds
// rise.
type Curve []DynoPoint

const (
	// A sheet prints power and torque rounded, each to half a unit: more than this
	// between them is another sheet's column, or another unit's.
	sheetShare, sheetHP = 0.01, 1.0

	slowestRPM, fastestRPM = 100, 25000 // common practice, no source
)

// soundRow is a row of a sheet with its power.
type soundRow struct {
	DynoPoint
	line int
}

// NewCurve checks the rows of a sheet, and leaves out its spikes. Where a row has both,
// power and torque must agree by hp = lb-ft x rpm / 5252 within 1 % and 1 hp: a few rows
// that do not are spikes, many of another unit or column.
func NewCurve(rows []DynoRow) (Curve, []Spike, error) {
	if len(rows) < 2 {
		return nil, nil, fmt.Errorf("one row or none is no curve: want two or more, or the peak alone")
	}
	var sound []soundRow
	var spikes []Spike
	var disagree error
	for i, r := range rows {
		switch {
		case !(r.RPM >= slowestRPM && r.RPM <= fastestRPM):
			return nil, nil, fmt.Errorf("row %d: engine speed %g: want %d to %d rpm", r.Line, r.RPM, slowestRPM, fastestRPM)
		case i > 0 && r.RPM == rows[i-1].RPM:
			return nil, nil, fmt.Errorf("row %d: %g rpm is there twice: want each engine speed once", r.Line, r.RPM)
		case i > 0 && r.RPM < rows[i-1].RPM:
			return nil, nil, fmt.Errorf(
				"row %d: %g rpm comes after %g: want engine speeds that rise", r.Line, r.RPM, rows[i-1].RPM,
			)
		}
		hp, err := r.power()
		switch {
		case errors.Is(err, errDisagree):
			disagree = cmp.Or(disagree, err)
			spikes = append(spikes, Spike{Line: r.Line, RPM: r.RPM, HP: r.PowerHP.Value(), DisagreesLbFt: r.LbFt.Value()})
		case err != nil:
			return nil, nil, err
		default:
			sound = append(sound, soundRow{DynoPoint{r.RPM, hp}, r.Line})
		}
	}
	if float64(len(spikes)) > mostSpikes*float64(len(rows)) || len(sound) < 2 {
		return nil, nil, disagree
	}
	kept, more := smoothRows(sound)
	c := make(Curve, len(kept))
	for i, r := range kept {
		c[i] = r.DynoPoint
	}
	spikes = append(spikes, more...)
	slices.SortStableFunc(spikes, func(a, b Spike) int { return a.Line - b.Line })
	return c, spikes, nil
}

// errDisagree is that of a row whose power and torque do not agree.
var errDisagree = errors.New("want units and columns that agree")

func (r DynoRow) power() (float64, error) {
	byTorque := r.LbFt.Value() * r.RPM / units.LbFtPerHPPerRPM
	for _, q := range []struct {
		what string
		n    units.Number
	}{{"power", r.PowerHP}, {"torque", r.LbFt}} {
		if q.n.Known() && !(q.n.Value() > 0 && q.n.Value() < 1e5) {
			return 0, fmt.Errorf("row %d: %s %v: want a number above 0", r.Line, q.what, q.n)
		}
	}
	switch {
	case !r.PowerHP.Known() && !r.LbFt.Known():
		return 0, fmt.Errorf("row %d: neither power nor torque at %g rpm", r.Line, r.RPM)
	case !r.PowerHP.Known():
		return byTorque, nil
	case r.LbFt.Known() && math.Abs(byTorque-r.PowerHP.Value()) > sheetShare*byTorque+sheetHP:
		return 0, fmt.Errorf(
			"row %d: %.4g lb-ft at %g rpm makes %.1f hp (lb-ft x rpm / 5252), the sheet says %.1f: %w",
			r.Line,
			r.LbFt.Value(),
			r.RPM,
			byTorque,
			r.PowerHP.Value(),
			errDisagree,
		)
	}
	return r.PowerHP.Value(), nil
}

// Peak is the point of the greatest power.
func (c Curve) Peak() DynoPoint {
	peak := c[0]
	for _, p := range c {
		if p.HP > peak.HP {
			peak = p
		}
	}
	return peak
}

// PeakTorque is the point of the greatest torque.
func (c Curve) PeakTorque() DynoPoint {
	peak := c[0]
	for _, p := range c {
		if p.LbFt() > peak.LbFt() {
			peak = p
		}
	}
	return peak
}

// At is the power at an engine speed, absent outside the sheet.
func (c Curve) At(rpm float64) units.Number {
	for i := 1; i < len(c); i++ {
		a, b := c[i-1], c[i]
		if rpm >= a.RPM && rpm <= b.RPM {
			return units.Some(a.HP + (b.HP-a.HP)*(rpm-a.RPM)/(b.RPM-a.RPM))
		}
	}
	return units.Number{}
}

// Mean is the steady power that takes the car through the engine speeds from low
// to high in the same time as the curve does: with m v dv/dt = P and v as the
// engine speed n within one gear,
//
//	P = ½ (high² - low²) / ∫ n/P(n) dn,
//
// which is what a run model of constant power means by its power.
func (c Curve) Mean(low, high float64) (float64, error) {
	first, last := c[0].RPM, c[len(c)-1].RPM
	if !(low >= first && high <= last && low < high) {
		return 0, fmt.Errorf(
			"shift range %g to %g rpm: want one that rises, within the sheet's %g to %g",
			low,
			high,
			first,
			last,
		)
	}
	time := 0.
	for i := 1; i < len(c); i++ {
		from, to := math.Max(low, c[i-1].RPM), math.Min(high, c[i].RPM)
		if from < to {
			time += quad.Fixed(func(n float64) float64 { return n / c.At(n).Value() }, from, to, 12, nil, 0)
		}
	}
	return (high*high - low*low) / 2 / time, nil
}

// CheckEngineSpeed refuses what no engine of a car or a motorcycle turns, rpm.
func CheckEngineSpeed(rpm float64) error {
	if !(rpm >= slowestRPM && rpm <= fastestRPM) {
		return fmt.Errorf("engine speed %g rpm: want %d to %d", rpm, slowestRPM, fastestRPM)
	}
	return nil
}

// CurveDifference is what one sheet has over another, point by point.
type CurveDifference struct{ RPM, BeforeHP, AfterHP, GainHP float64 }

// Over compares two curves at the engine speeds of either that both cover.
func (c Curve) Over(before Curve) []CurveDifference {
	var diffs []CurveDifference
	for i, j := 0, 0; i < len(c) || j < len(before); {
		var rpm float64
		switch {
		case j == len(before) || i < len(c) && c[i].RPM <= before[j].RPM:
			rpm = c[i].RPM
			if j < len(before) && before[j].RPM == rpm {
				j++
			}
			i++
		default:
			rpm = before[j].RPM
			j++
		}
		if b, a := before.At(rpm), c.At(rpm); a.Known() && b.Known() {
			diffs = append(diffs, CurveDifference{rpm, b.Value(), a.Value(), a.Value() - b.Value()})
		}
	}
	return diffs
}

// Times is the curve with every power multiplied.
func (c Curve) Times(k float64) Curve {
	out := make(Curve, len(c))
	for i, p := range c {
		out[i] = DynoPoint{p.RPM, k * p.HP}
	}
	return out
}
