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
// stations of course.go), 0.6 % of power.
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
	water := raceDay(elevationFt.Value(), warmest).VapourInHg
	low, high := Air{coldestF, inHg, water}.possible(), Air{hottestAloneF, inHg, water}.possible()
	if lowFt, highFt := low.DensityAltitudeFt(), high.DensityAltitudeFt(); !(da >= lowFt && da <= highFt) {
		return Air{}, Note{}, units.Errorf("density altitude %v is impossible at a pressure of %v: want %v",
			units.Length.Of(da), units.Pressure.Of(inHg), units.Length.Between(math.Ceil(lowFt), math.Floor(highFt)))
	}
	at := func(inHg, water float64) Air {
		of := func(tempF float64) Air { return Air{tempF, inHg, water}.possible() }
		return of(rootBetween(func(tempF float64) float64 { return of(tempF).DensityAltitudeFt() - da }, 2*minTempF, maxTempF))
	}
	a := at(inHg, water)
	power := func(b Air) float64 { return b.SAEJ1349() - a.SAEJ1349() }
	byPressure := (power(at(inHg+off, water)) - power(at(inHg-off, water))) / 2
	byWater := (power(at(inHg, water*waterFactor)) - power(at(inHg, water/waterFactor))) / 2
	const step = 0.01 // inHg
	perFt := power(Air{a.TempF, a.StationInHg - step, a.VapourInHg}) / (step * a.ftPerInHg())
	doubt := math.Hypot(byPressure, byWater)
	return a, Note{Kind: DensityAlone, TempF: a.TempF, DoubtFt: doubt / perFt, DoubtPct: 100 * doubt / a.SAEJ1349()}, nil
}

// hottestAloneF is hotter than the air of any track: what a density altitude may ask for.
const hottestAloneF = 200

// checkDensityAlone refuses what cannot stand beside a density altitude.
func (r Reading) checkDensityAlone(elevationFt units.Number) error {
	switch {
	case count(r.TempF, r.RHPct, r.DewPointF, r.WetBulbF, r.SeaLevelInHg) > 0:
		return units.Errorf("density altitude %v beside a temperature, humidity or sea-level pressure: give it alone, or give those without it",
			units.Length.Of(r.DensityAltitudeFt.Value()))
	case !elevationFt.Known() && !r.StationInHg.Known():
		return units.Errorf("density altitude %v needs the track's elevation, such as 812ft, or the station pressure",
			units.Length.Of(r.DensityAltitudeFt.Value()))
	}
	if count(r.StationInHg, r.AltimeterInHg) > 0 {
		return r.checkPressure(elevationFt)
	}
	return nil
}
