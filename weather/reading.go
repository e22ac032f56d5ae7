package weather

import "slipcase/weather/units"

// Reading is what the instruments at the track said, in the units of the US
// trade. One of RHPct, DewPointF, WetBulbF tells the water; at most one of the
// three pressures is given. They are three different things: station pressure
// is what a barometer at the track feels, altimeter setting is that reduced to
// sea level in the standard atmosphere, sea-level pressure in the day's own.
type Reading struct {
	TempF         units.Number
	RHPct         units.Number // relative humidity over liquid water, also below freezing (WMO practice)
	DewPointF     units.Number
	WetBulbF      units.Number
	StationInHg   units.Number
	AltimeterInHg units.Number
	SeaLevelInHg  units.Number
	WindMPH       units.Number
	WindFromDeg   units.Number // true bearing the wind blows from, 0-360
}
