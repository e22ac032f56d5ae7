package crew

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// Shift are the engine speeds that a run uses, rpm; the zero Shift is not said.
type Shift struct{ LowRPM, HighRPM float64 }

// ShownSheet is a dyno sheet in the standard asked for.
type ShownSheet struct {
	Of       Sheet
	In       string // the standard
	Restated predict.Restated
	AirKnown bool // of the day at the dyno
	PeakHP   float64
	Points   []Point      // none of a peak alone
	Curve    Curve        // through them, nil where they are none
	MeanHP   units.Number // over the shift range, where the curve has it
	MeanOver Shift
}

// ComparedSheets are a sheet, or two with what the second has over the first.
type ComparedSheets struct {
	Sheets []ShownSheet
	Points []CurveDifference
	Shift  Shift      // as asked
	Gain   *SheetGain // of the means of two curves, nil without
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

// TakePull gives a sheet what the file of a pull has: its curve, and its place, standard
// and air where the sheet has none.
func TakePull(s *Sheet, p Pulled) {
	SetCurve(s, p.Curve)
	for _, t := range []struct {
		into *string
		from string
	}{{&s.At, p.Power.At}, {&s.Standard, p.Standard}} {
		if *t.into == "" {
			*t.into = t.from
		}
	}
	if countKnown(s.TempF, s.RHPct, s.StationInHg) == 0 && p.TempF.Known() && p.StationInHg.Known() {
		s.TempF, s.RHPct, s.StationInHg = p.TempF, p.RHPct, p.StationInHg
	}
}

// CheckSheet refuses a sheet that cannot be.
func CheckSheet(s Sheet) error {
	if _, err := dynoDay(s.TempF, s.RHPct, s.StationInHg); err != nil {
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

// ErrAirNotWhole is that of a sheet with one of temperature and pressure.
var ErrAirNotWhole = errors.New("the air at the dyno is not whole")

// Humidity that was not noted, percent: 8 of 10 days (common practice, no source).
const dryRH, usualRH, dampRH = 20, 50, 80

// dynoDay is the air of the day at a dyno: known with temperature and pressure, in doubt
// by its water where that was not noted.
func dynoDay(tempF, rhPct, stationInHg units.Number) (d predict.DynoDay, err error) {
	switch {
	case countKnown(tempF, rhPct, stationInHg) == 0:
		return d, nil
	case !tempF.Known() || !stationInHg.Known():
		return d, ErrAirNotWhole
	}
	air := func(rh float64) weather.Air {
		a, _, bad := weather.Reading{
			TempF:       tempF,
			RHPct:       units.Some(rhPct.Or(rh)),
			StationInHg: stationInHg,
		}.Air(
			units.Number{},
		)
		err = cmp.Or(err, bad)
		return a
	}
	d = predict.DynoDay{Air: air(usualRH), Known: err == nil}
	if dry, damp := air(dryRH), air(dampRH); err == nil {
		d.SD = math.Log(damp.SAEJ1349()/dry.SAEJ1349()) / 2 / z80
	}
	return d, err
}

// z80 is how many standard deviations 8 of 10 lie within.
const z80 = 1.2816

// dayAt is dynoDay, not known where it cannot be.
func dayAt(tempF, rhPct, stationInHg units.Number) predict.DynoDay {
	d, err := dynoDay(tempF, rhPct, stationInHg)
	if err != nil {
		return predict.DynoDay{}
	}
	return d
}

func countKnown(of ...units.Number) (n int) {
	for _, v := range of {
		if v.Known() {
			n++
		}
	}
	return n
}

// CompareSheets puts a sheet, or two over each other, into one standard: where none is
// said, a sheet's own, and of two one that corrects for the air.
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
	if len(sheets) == 2 {
		return comparedPair(sheets[0], sheets[1], standard, shift)
	}
	if standard == "" {
		standard = sheets[0].Standard
	}
	one, err := restated(sheets[0], standard)
	if err == nil {
		err = one.setMean(shift)
	}
	c.Sheets = []ShownSheet{one}
	return c, err
}

// comparedPair are two sheets in one standard, where the first does not say its own in that
// of the other.
func comparedPair(before, after Sheet, standard string, shift Shift) (c ComparedSheets, err error) {
	c.Shift = shift
	if before.At != after.At && before.At != "" && after.At != "" {
		return c, impossiblef(
			"",
			"%s is at the %s, %s at the %s: a driveline loss lies between, so they are not compared",
			before.Name,
			before.At,
			after.Name,
			after.At,
		)
	}
	if standard == "" {
		standard = string(predict.Comparable(predict.Standard(before.Standard), predict.Standard(after.Standard)))
	}
	for _, pair := range [][2]Sheet{{before, after}, {after, before}} {
		sheet, other := pair[0], pair[1]
		untold := sheet.Standard == ""
		if untold {
			sheet.Standard = other.Standard
		}
		one, err := restated(sheet, standard)
		if err != nil {
			return c, err
		}
		if untold && other.Standard != "" {
			one.Restated.SD = math.Hypot(one.Restated.SD, predict.UntoldStandardSD)
		}
		one.Of.Standard = pair[0].Standard
		c.Sheets = append(c.Sheets, one)
	}
	if c.Sheets[0].Curve == nil || c.Sheets[1].Curve == nil {
		return c, errors.Join(c.Sheets[0].setMean(shift), c.Sheets[1].setMean(shift))
	}
	c.Points = c.Sheets[1].Curve.Over(c.Sheets[0].Curve)
	return c, c.setGain()
}

// restated is a sheet in another standard.
func restated(s Sheet, standard string) (ShownSheet, error) {
	out := ShownSheet{Of: s, In: standard}
	day, err := dynoDay(s.TempF, s.RHPct, s.StationInHg)
	if err == nil {
		out.AirKnown = day.Known
		out.Restated, err = predict.Restate(predict.Standard(s.Standard), predict.Standard(standard), day)
	}
	if err != nil {
		return out, impossiblef("", "%s: %w", s.Name, err)
	}
	out.PeakHP = out.Restated.Times * s.PeakHP.Value()
	for _, p := range s.Points {
		p.HP *= out.Restated.Times
		out.Points = append(out.Points, p)
		if len(s.Points) > 1 {
			out.Curve = append(out.Curve, predict.DynoPoint(p))
		}
	}
	return out, nil
}

// setMean works out the mean over the shift range asked for, else over the best one.
func (s *ShownSheet) setMean(over Shift) error {
	if s.Curve == nil {
		return nil
	}
	asked := over != (Shift{})
	if !asked {
		over.LowRPM, over.HighRPM = s.Curve.BestShiftRange()
	}
	mean, err := s.Curve.Mean(over.LowRPM, over.HighRPM)
	if err == nil {
		s.MeanHP, s.MeanOver = units.Some(mean), over
		return nil
	}
	if asked {
		return impossiblef("shift", "%s: %w", s.Of.Name, err)
	}
	return nil
}

// SheetGain is the gain between two dyno sheets, each over the engine speeds that it is
// shifted over.
type SheetGain struct {
	Gain   Range // as a share of the power before
	Before Shift
	After  Shift
	Notes  []ChangeNote
}

// setGain works out the means of two curves and the gain between them.
func (c *ComparedSheets) setGain() error {
	for i := range c.Sheets {
		if err := c.Sheets[i].setMean(c.Shift); err != nil {
			return err
		}
	}
	x, y := &c.Sheets[0], &c.Sheets[1]
	g, err := y.Curve.GainOver(x.Curve)
	if c.Shift != (Shift{}) {
		g, err = y.Curve.GainWithin(x.Curve, c.Shift.LowRPM, c.Shift.HighRPM)
	}
	if err != nil {
		return markImpossible("", err)
	}
	c.Gain = &SheetGain{
		Gain:   g.Claim(x.Restated, y.Restated),
		Before: Shift{g.BeforeLow, g.BeforeHigh}, After: Shift{g.AfterLow, g.AfterHigh},
		Notes: c.notes(),
	}
	return nil
}

// notes say what the gain between two sheets hangs on.
func (c *ComparedSheets) notes() (notes []ChangeNote) {
	x, y := c.Sheets[0], c.Sheets[1]
	var airless, untold, early []string
	for _, s := range c.Sheets {
		if s.Of.Standard == string(predict.Uncorrected) && !s.AirKnown {
			airless = append(airless, s.Of.Name)
		}
		if s.Of.Standard == "" {
			untold = append(untold, s.Of.Name)
		}
		if c.Shift == (Shift{}) && s.Curve.EndsEarly() {
			early = append(early, s.Of.Name)
		}
	}
	for _, n := range []ChangeNote{
		{Kind: SheetAirless, Names: airless, Share: predict.WeatherShare},
		{Kind: SheetUntold, Names: untold},
		{Kind: SheetEndsEarly, Names: early},
	} {
		if len(n.Names) > 0 {
			notes = append(notes, n)
		}
	}
	if moved := y.Curve.Peak().RPM - x.Curve.Peak().RPM; c.Shift == (Shift{}) && math.Abs(moved) >= movedPeakRPM {
		notes = append(notes, ChangeNote{Kind: PeakMoved, Names: []string{y.Of.Name, x.Of.Name}, RPM: moved})
	}
	return slices.Clip(notes)
}

// movedPeakRPM is how far apart two peaks lie before that is said.
const movedPeakRPM = 300

// ErrPeakAlone is that of a sheet without a curve.
var ErrPeakAlone = errors.New("a peak alone: a gain by sheets wants curves")

// GainBySheets compares two sheets.
func GainBySheets(before, after Sheet, over Shift) (*SheetGain, error) {
	for _, s := range []Sheet{before, after} {
		if len(s.Points) < 2 {
			return nil, markImpossible("", fmt.Errorf("%s is %w", s.Name, ErrPeakAlone))
		}
	}
	c, err := comparedPair(before, after, "", over)
	return c.Gain, err
}

// GivenPower is what of a setup's power was given beside its sheet.
type GivenPower struct{ HP, At, Standard bool }

// FromSheet gives a setup what the dyno sheet that it names says of its power: the peak,
// where and by what standard, in which air. What was given beside it must say the same.
func (s *Session) FromSheet(u *Setup, given GivenPower) error {
	sheet, err := s.Sheet(u.Power)
	if err != nil {
		return err
	}
	u.Power = sheet.Name
	switch {
	case given.HP && u.PowerHP != sheet.PeakHP:
		return markImpossible(
			"power",
			units.Errorf("%v is not what the sheet %s says, %v: want one of them, power or sheet",
				units.Power.Of(u.PowerHP.Value()), sheet.Name, units.Power.Of(sheet.PeakHP.Value())),
		)
	case given.At && u.PowerAt != sheet.At:
		return contradicts("power-at", u.PowerAt, sheet.Name, sheet.At)
	case given.Standard && u.PowerStandard != sheet.Standard:
		return contradicts("standard", u.PowerStandard, sheet.Name, sheet.Standard)
	}
	u.PowerHP, u.PowerAt, u.PowerStandard = sheet.PeakHP, sheet.At, sheet.Standard
	u.PowerTempF, u.PowerRHPct, u.PowerStationInHg = sheet.TempF, sheet.RHPct, sheet.StationInHg
	return nil
}

func contradicts(what, given, sheet, has string) error {
	return impossiblef(
		what,
		"%s is not what the sheet %s says, %s: want it mended there, or the power without the sheet",
		given,
		sheet,
		has,
	)
}
