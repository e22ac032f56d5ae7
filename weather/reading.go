package weather

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"slipcase/weather/units"
)

// Reading is what the instruments at the track said, in the units of the US
// trade. One of RHPct, DewPointF, WetBulbF tells the water; at most one of the
// three pressures is given. They are three different things: station pressure
// is what a barometer at the track feels, altimeter setting is that reduced to
// sea level in the standard atmosphere, sea-level pressure in the day's own.
type Reading struct {
	TempF         units.Number `csv:"temp_f"         json:"temp_f,omitzero"`
	RHPct         units.Number `csv:"rh_pct"         json:"rh_pct,omitzero"` // relative humidity over liquid water, also below freezing (WMO practice)
	DewPointF     units.Number `csv:"dew_point_f"    json:"dew_point_f,omitzero"`
	WetBulbF      units.Number `csv:"wet_bulb_f"     json:"wet_bulb_f,omitzero"`
	StationInHg   units.Number `csv:"station_inhg"   json:"station_inhg,omitzero"`
	AltimeterInHg units.Number `csv:"altimeter_inhg" json:"altimeter_inhg,omitzero"`
	SeaLevelInHg  units.Number `csv:"sea_level_inhg" json:"sea_level_inhg,omitzero"`
	WindMPH       units.Number `csv:"wind_mph"       json:"wind_mph,omitzero"`
	WindFromDeg   units.Number `csv:"wind_from_deg"  json:"wind_from_deg,omitzero"` // true bearing the wind blows from, 0-360

	// DensityAltitudeFt is what was read where the instrument, or the track's board, says that
	// alone; a station pressure or altimeter setting may stand beside it.
	DensityAltitudeFt units.Number `csv:"density_altitude_ft" json:"density_altitude_ft,omitzero" later:"yes"`
}

// What no reading at a track can be: beyond the records of the earth's surface
// (-128 and 134 °F; the Dead Sea shore and the highest roads) with room to spare.
const (
	minTempF, maxTempF             = -150, 250
	minElevationFt, maxElevationFt = -1500, 16000
)

// CheckElevation refuses an elevation, ft, that no track on earth has.
func CheckElevation(ft float64) error {
	if !(ft >= minElevationFt && ft <= maxElevationFt) {
		return units.Errorf(
			"elevation %v is impossible: want %v",
			units.Length.Of(ft),
			units.Length.Between(minElevationFt, maxElevationFt),
		)
	}
	return nil
}

// Air is the state of the air that the reading describes, at a track whose
// elevation may be unknown when the station pressure is given. The notes say what
// had to be assumed. The error is an impossible or an incomplete reading and says
// what would be accepted.
func (r Reading) Air(elevationFt units.Number) (Air, []Note, error) {
	a, note, err := r.resolve(elevationFt)
	if err != nil || note.Kind == "" {
		return a, nil, err
	}
	return a, []Note{note}, nil
}

// resolve is Air, with at most one note.
func (r Reading) resolve(elevationFt units.Number) (a Air, note Note, err error) {
	if err := r.checkAlone(elevationFt); err != nil {
		return Air{}, Note{}, err
	}
	if r.DensityAltitudeFt.Known() {
		return r.densityAlone(elevationFt)
	}
	a.TempF = r.TempF.Value()
	elevation := elevationFt.Value()
	switch {
	case r.StationInHg.Known():
		a.StationInHg = r.StationInHg.Value()
	case r.AltimeterInHg.Known():
		a.StationInHg = stationFromAltimeter(r.AltimeterInHg.Value(), elevation)
	case r.SeaLevelInHg.Known():
		// The reduction needs the water and the water a pressure, but so weakly
		// that the standard pressure will do for it.
		vapour, _ := r.waterInHg(standardInHgAt(elevation))
		at := func(tempF float64) float64 {
			return stationFromSeaLevel(r.SeaLevelInHg.Value(), elevation, tempF, vapour)
		}
		a.StationInHg = at(a.TempF)
		doubt := math.Abs(at(a.TempF+seaLevelDoubtF)-at(a.TempF-seaLevelDoubtF)) / 2
		note = Note{Kind: FromSeaLevel, StationInHg: a.StationInHg, DoubtInHg: doubt}
	default:
		a.StationInHg = standardInHgAt(elevation)
		note = Note{Kind: StandardPressure, ElevationFt: elevation, StationInHg: a.StationInHg, DoubtInHg: dayToDayInHg}
	}
	a.VapourInHg, err = r.waterInHg(a.StationInHg)
	return a, note, err
}

// dayToDayInHg is one standard deviation of the pressure from day to day, inHg
// (common practice, no source).
const dayToDayInHg = 0.2

// waterInHg finds the partial pressure of water from the one water reading.
func (r Reading) waterInHg(stationInHg float64) (float64, error) {
	p, tK := stationInHg*units.PascalPerInHg, kelvin(r.TempF.Value())
	var vapour float64
	switch {
	case r.RHPct.Known():
		vapour = r.RHPct.Value() / 100 * saturatedVapourPa(p, tK)
	case r.DewPointF.Known():
		vapour = saturatedVapourPa(p, kelvin(r.DewPointF.Value()))
	default:
		ratio := ratioFromWetBulb(p, tK, kelvin(r.WetBulbF.Value()))
		if ratio < 0 {
			return 0, units.Errorf("wet bulb %v is impossible at %v: even air without any water reads %v or more",
				degF(r.WetBulbF.Value()), degF(r.TempF.Value()), degF(Air{r.TempF.Value(), stationInHg, 0}.WetBulbF()))
		}
		vapour = vapourOfRatio(p, ratio)
	}
	if vapour > 0.5*p {
		return 0, units.Errorf(
			"air at %v cannot hold that much water: want a temperature with its unit (88F, 31C)",
			degF(r.TempF.Value()),
		)
	}
	return vapour / units.PascalPerInHg, nil
}

// checkAlone refuses what is impossible or missing before anything is computed.
func (r Reading) checkAlone(elevationFt units.Number) error {
	for _, q := range []struct {
		name     string
		n        units.Number
		min, max float64
		kind     units.Kind
	}{
		{"temperature", r.TempF, minTempF, maxTempF, units.Temperature},
		{"relative humidity", r.RHPct, 0, 100, units.Percent},
		{"dew point", r.DewPointF, minTempF, maxTempF, units.Temperature},
		{"wet bulb", r.WetBulbF, minTempF, maxTempF, units.Temperature},
		{"wind", r.WindMPH, 0, 300, units.Speed},
		{"wind direction", r.WindFromDeg, 0, 360, units.Degrees},
	} {
		if v := q.n.Value(); q.n.Known() && !(v >= q.min && v <= q.max) {
			return units.Errorf("%s %v is impossible: want %v", q.name, q.kind.Of(v), q.kind.Between(q.min, q.max))
		}
	}
	if elevationFt.Known() {
		if err := CheckElevation(elevationFt.Value()); err != nil {
			return err
		}
	}
	if r.DensityAltitudeFt.Known() {
		return r.checkDensityAlone(elevationFt)
	}
	if !r.TempF.Known() {
		return units.Errorf("no temperature: want one, such as {88F|31C}")
	}
	if err := r.checkWater(); err != nil {
		return err
	}
	return r.checkPressure(elevationFt)
}

func (r Reading) checkWater() error {
	switch count(r.RHPct, r.DewPointF, r.WetBulbF) {
	case 0:
		return errors.New("no humidity: want one of relative humidity, dew point, wet bulb")
	case 1:
	default:
		return errors.New("more than one of relative humidity, dew point, wet bulb: give only the one that was read")
	}
	for _, q := range []struct {
		name string
		n    units.Number
	}{{"dew point", r.DewPointF}, {"wet bulb", r.WetBulbF}} {
		if q.n.Known() && q.n.Value() > r.TempF.Value() {
			return units.Errorf("%s %v is above the temperature %v, which is impossible: want at most the temperature",
				q.name, degF(q.n.Value()), degF(r.TempF.Value()))
		}
	}
	return nil
}

func (r Reading) checkPressure(elevationFt units.Number) error {
	if count(r.StationInHg, r.AltimeterInHg, r.SeaLevelInHg) > 1 {
		return errors.New(
			"more than one of station pressure, altimeter setting, sea-level pressure: give only the one that was read",
		)
	}
	for _, k := range []pressureKind{
		{"station pressure", r.StationInHg, standardInHgAt(maxElevationFt), 33},
		{"altimeter setting", r.AltimeterInHg, 25, 33},
		{"sea-level pressure", r.SeaLevelInHg, 25, 33},
	} {
		if !k.reading.Known() {
			continue
		}
		if err := k.check(elevationFt); err != nil {
			return err
		}
		if !elevationFt.Known() && k.name != "station pressure" {
			return units.Errorf("%s needs the track's elevation: give it, such as {812ft|247m}, or give station pressure instead", k.name)
		}
		return nil
	}
	if !elevationFt.Known() {
		return errors.New("no pressure and no elevation: want station pressure, or the elevation with an altimeter setting")
	}
	return nil
}

// pressureKind is one of the three pressures with the values, inHg, it can
// have: the records at sea level are 25.7 and 32.0.
type pressureKind struct {
	name     string
	reading  units.Number
	min, max float64
}

func (k pressureKind) possible(inHg float64) bool { return inHg >= k.min && inHg <= k.max }

// check names the value and, where its digits would do in another unit, that unit.
func (k pressureKind) check(elevationFt units.Number) error {
	v := k.reading.Value()
	if k.possible(v) {
		return nil
	}
	hint := ""
	if digits, unit, ok := k.likelyUnit(v, elevationFt); ok {
		hint = fmt.Sprintf("; if the instrument said %s, write %s%s", digits, digits, unit)
	}
	return units.Errorf(
		"%s %v is impossible: want %v%s",
		k.name,
		units.Pressure.Of(v),
		units.Pressure.Between(k.min, k.max),
		hint,
	)
}

// likelyUnit guesses the unit that was meant by digits typed in another. A
// value near the standard pressure at the elevation is the better guess.
func (k pressureKind) likelyUnit(inHg float64, elevationFt units.Number) (digits, unit string, ok bool) {
	if math.IsNaN(inHg) || math.IsInf(inHg, 0) {
		return "", "", false
	}
	expected := 29.92
	if k.name == "station pressure" {
		expected = standardInHgAt(elevationFt.Or(0))
	}
	nearest := math.Inf(1)
	for _, typed := range []float64{1, hPaPerInHg, hPaPerInHg / 10} { // bare or inHg, hPa, kPa
		text := fmt.Sprintf("%.6g", inHg*typed)
		for _, meant := range []string{"inHg", "hPa", "kPa", "mmHg", "psi"} {
			v, err := units.Pressure.Parse(text + meant)
			if off := math.Abs(v - expected); err == nil && k.possible(v) && off < nearest {
				digits, unit, ok, nearest = text, meant, true, off
			}
		}
	}
	return digits, unit, ok
}

func degF(f float64) units.Quantity { return units.Temperature.Of(f) }

func count(numbers ...units.Number) int {
	return len(slices.DeleteFunc(numbers, func(n units.Number) bool { return !n.Known() }))
}
