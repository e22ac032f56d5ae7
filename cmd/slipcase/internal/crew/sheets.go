package crew

import (
	"errors"
	"fmt"
	"io"
	"math"

	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// Shift are the engine speeds that a run uses, rpm; the zero Shift is not said.
type Shift struct{ LowRPM, HighRPM float64 }

// ShownSheet is a dyno sheet in the standard asked for.
type ShownSheet struct {
	Of       Sheet
	In       string  // the standard
	Restated float64 // what makes one of its own
	AirKnown bool    // of the day at the dyno
	PeakHP   float64
	Points   []Point      // none of a peak alone
	Curve    Curve        // through them, nil where they are none
	MeanHP   units.Number // over the shift range, where the curve has it
	MeanOver Shift
}

// ComparedSheets are a sheet, or two with what the second has over the first.
type ComparedSheets struct {
	Sheets []ShownSheet
	Gain   []CurveDifference
	Shift  Shift // as asked
}

// ReadCurve reads and checks the file of a dyno sheet.
func ReadCurve(file io.Reader) (Curve, error) {
	read, err := logbook.ReadSheet(file)
	if err != nil {
		return nil, err
	}
	rows := make([]predict.DynoRow, len(read))
	for i, r := range read {
		rows[i] = predict.DynoRow(r)
	}
	return predict.NewCurve(rows)
}

// SetCurve gives a sheet the points of a curve, and its peak.
func SetCurve(s *Sheet, c Curve) {
	hundredth := func(hp float64) float64 { return math.Round(hp*100) / 100 }
	s.Points = nil
	for _, p := range c {
		s.Points = append(s.Points, Point{RPM: p.RPM, HP: hundredth(p.HP)})
	}
	s.PeakHP, s.PeakRPM = units.Some(hundredth(c.Peak().HP)), units.Some(c.Peak().RPM)
}

// CheckSheet refuses a sheet that cannot be.
func CheckSheet(s Sheet) error {
	if _, _, err := dynoAir(s); err != nil {
		return err
	}
	if err := s.Check(); err != nil {
		return err
	}
	if s.PeakRPM.Known() {
		return predict.CheckEngineSpeed(s.PeakRPM.Value())
	}
	return nil
}

// ErrAirNotWhole is that of a sheet with some of temperature, humidity and pressure.
var ErrAirNotWhole = errors.New("the air at the dyno is not whole")

// dynoAir is the air of the day at the dyno, where the sheet has all of it.
func dynoAir(s Sheet) (air weather.Air, known bool, err error) {
	r := weather.Reading{TempF: s.TempF, RHPct: s.RHPct, StationInHg: s.StationInHg}
	switch countKnown(s.TempF, s.RHPct, s.StationInHg) {
	case 0:
		return air, false, nil
	case 3:
		air, _, err = r.Air(units.Number{})
		return air, err == nil, err
	}
	return air, false, ErrAirNotWhole
}

func countKnown(of ...units.Number) (n int) {
	for _, v := range of {
		if v.Known() {
			n++
		}
	}
	return n
}

// CompareSheets puts a sheet, or two over each other, into one standard, the first's
// own where none is said.
func (s *Session) CompareSheets(names []string, standard string, shift Shift) (c ComparedSheets, err error) {
	c.Shift = shift
	var sheets []Sheet
	for _, name := range names {
		sheet, err := s.Sheet(name)
		if err != nil {
			return c, err
		}
		sheets = append(sheets, sheet)
	}
	if standard == "" {
		standard = sheets[0].Standard
	}
	if len(sheets) == 2 && sheets[0].At != sheets[1].At {
		return c, fmt.Errorf("%s is at the %s, %s at the %s: a driveline loss lies between, so they are not compared",
			sheets[0].Name, sheets[0].At, sheets[1].Name, sheets[1].At)
	}
	for _, sheet := range sheets {
		one, err := restated(sheet, standard)
		if err != nil {
			return c, err
		}
		c.Sheets = append(c.Sheets, one)
	}
	if err := c.setMeans(); err != nil {
		return c, err
	}
	if x, y, pair := c.curves(); pair {
		c.Gain = y.Over(x)
	}
	return c, nil
}

// restated is a recorded sheet in another standard.
func restated(s Sheet, standard string) (ShownSheet, error) {
	out := ShownSheet{Of: s, In: standard}
	day, known, err := dynoAir(s)
	if err == nil {
		out.AirKnown = known
		out.Restated, err = predict.Restate(predict.Standard(s.Standard), predict.Standard(standard), day, known)
	}
	if err != nil {
		return out, impossiblef("", "%s: %w", s.Name, err)
	}
	out.PeakHP = out.Restated * s.PeakHP.Value()
	for _, p := range s.Points {
		p.HP *= out.Restated
		out.Points = append(out.Points, p)
		if len(s.Points) > 1 {
			out.Curve = append(out.Curve, predict.DynoPoint(p))
		}
	}
	return out, nil
}

// setMeans works out the means over the shift range asked for, or the usual one of
// the first sheet as far as the others go.
func (c *ComparedSheets) setMeans() error {
	over := c.Shift
	for i := range c.Sheets {
		s := &c.Sheets[i]
		if s.Curve == nil {
			continue
		}
		if over == (Shift{}) {
			over.LowRPM, over.HighRPM = s.Curve.UsualShiftRange()
		}
		mean, err := s.Curve.Mean(over.LowRPM, over.HighRPM)
		switch {
		case err == nil:
			s.MeanHP, s.MeanOver = units.Some(mean), over
		case c.Shift != (Shift{}):
			return impossiblef("shift", "%s: %w", s.Of.Name, err)
		}
	}
	return nil
}

// curves are those of two sheets that both have one.
func (c *ComparedSheets) curves() (before, after Curve, both bool) {
	if len(c.Sheets) != 2 {
		return nil, nil, false
	}
	before, after = c.Sheets[0].Curve, c.Sheets[1].Curve
	return before, after, before != nil && after != nil
}

// movedPeakRPM is how far apart two peaks lie before the shifts move with them.
const movedPeakRPM = 300

// PeakMoved is how far the peak of the second sheet lies from that of the first, rpm,
// and about where a run shifts with it; false where the shifts stay or were said.
func (c *ComparedSheets) PeakMoved() (rpm float64, to Shift, moved bool) {
	x, y, pair := c.curves()
	if !pair || c.Shift != (Shift{}) {
		return 0, to, false
	}
	rpm = y.Peak().RPM - x.Peak().RPM
	to.LowRPM, to.HighRPM = y.UsualShiftRange()
	return rpm, to, math.Abs(rpm) >= movedPeakRPM
}
