package weather

import (
	"math"

	"slipcase/weather/units"
)

// What a density altitude leaves open. Power goes with density and with the root of
// temperature (SAE J1349: dry pressure over √T is, for a gas, dry density times √T), so at one
// density the hotter air makes more of it, as the wetter makes less. The pressure is the
// elevation's to dayToDayInHg, which holds the temperature to some 4 °F and power to 0.4 %; the
// water is a race day's to a factor of 1.5 (one standard deviation from April to October at the
// stations of course.go), 0.8 % of power.
const waterFactor = 1.5

// densityAlone finds the air of a density altitude, ft: at the pressure that was read, else the
// elevation's, and a race day's water, the temperature that makes it.
func (r Reading) densityAlone(elevationFt units.Number) (Air, Note, error) {
	da := r.DensityAltitudeFt.Value()
	inHg, off := standardInHgAt(elevationFt.Value()), dayToDayInHg
	switch {
	case r.StationInHg.Known():
		inHg, off = r.StationInHg.Value(), 0
	case r.AltimeterInHg.Known():
		inHg, off = stationFromAltimeter(r.AltimeterInHg.Value(), elevationFt.Value()), 0
	}
	water := raceDayAir(elevationFt.Value(), warmest).VapourInHg
	of := func(tempF, inHg, water float64) Air { return Air{tempF, inHg, water}.possible() }
	lowFt, highFt := of(coldestF, inHg, water).DensityAltitudeFt(), of(hottestAloneF, inHg, water).DensityAltitudeFt()
	if !(da >= lowFt && da <= highFt) {
		return Air{}, Note{}, units.Errorf("density altitude %v is impossible at a pressure of %v: want %v",
			units.Length.Of(da), units.Pressure.Of(inHg), units.Length.Between(math.Ceil(lowFt), math.Floor(highFt)))
	}
	// Newton's method: it is all but straight.
	tempFor := func(inHg, water float64) float64 {
		tempF := raceDayTempF
		for range 6 {
			is := of(tempF, inHg, water).DensityAltitudeFt()
			tempF -= (is - da) / (of(tempF+1, inHg, water).DensityAltitudeFt() - is)
		}
		return tempF
	}
	a := of(tempFor(inHg, water), inHg, water)
	power := func(inHg, water float64) float64 {
		return of(tempFor(inHg, water), inHg, water).SAEJ1349() - a.SAEJ1349()
	}
	byPressure, byWater := power(inHg+off, water), power(inHg, water*waterFactor)
	const step = 0.01 // inHg
	perFt := (Air{a.TempF, a.StationInHg - step, a.VapourInHg}.SAEJ1349() - a.SAEJ1349()) / (step * a.ftPerInHg())
	doubt := math.Hypot(byPressure, byWater)
	return a, Note{Kind: DensityAlone, TempF: a.TempF, DoubtFt: doubt / perFt, DoubtPct: 100 * doubt / a.SAEJ1349()}, nil
}

// hottestAloneF is hotter than the air of any track: what a density altitude may ask for.
const hottestAloneF = 200

// checkDensityAlone refuses what cannot stand beside a density altitude.
func (r Reading) checkDensityAlone(elevationFt units.Number) error {
	switch {
	case count(r.TempF, r.RHPct, r.DewPointF, r.WetBulbF, r.SeaLevelInHg) > 0:
		return units.Errorf(
			"density altitude %v beside a temperature, humidity or sea-level pressure: give it alone, or give those without it",
			units.Length.Of(r.DensityAltitudeFt.Value()),
		)
	case !elevationFt.Known() && !r.StationInHg.Known():
		return units.Errorf("density altitude %v needs the track's elevation, such as {812ft|247m}, or the station pressure",
			units.Length.Of(r.DensityAltitudeFt.Value()))
	}
	if count(r.StationInHg, r.AltimeterInHg) > 0 {
		return r.checkPressure(elevationFt)
	}
	return nil
}
