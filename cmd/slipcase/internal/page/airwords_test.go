package page

import (
	"errors"
	"testing"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

func TestAirHow(t *testing.T) {
	at := func(hour, minute int) time.Time { return time.Date(2026, 5, 2, hour, minute, 0, 0, time.UTC) }
	for _, c := range []struct {
		h    weather.How
		want string
	}{
		{weather.How{Kind: weather.NotNear, At: at(12, 0)}, "no reading near enough to 12:00"},
		{weather.How{Kind: weather.ByOne, At: at(12, 0)}, "measured at 12:00"},
		{weather.How{Kind: weather.ByTwo, At: at(12, 0), To: at(14, 0)}, "between the readings at 12:00 and 14:00"},
		{weather.How{Kind: weather.ByOne, At: at(12, 0), Minutes: 38}, "38 min old"},
		{weather.How{Kind: weather.ByOne, At: at(12, 0), Minutes: 4}, "4 min old"},
		{weather.How{Kind: weather.ByOne, At: at(12, 0), Minutes: -1}, "measured 1 min after"},
		{weather.How{Kind: weather.ByOne, At: at(12, 0), Minutes: -60}, "measured 1:00 h after"},
		{weather.How{Kind: weather.ByName}, "the reading named on the slip"},
		{weather.How{Kind: weather.Given}, "given here"},
		{weather.How{Kind: weather.NotInLog, ReadingID: "aq"}, `reading "aq" is not in the log`},
		{weather.How{Kind: weather.SlipWithoutTrack}, "no air: the slip names no track"},
		{weather.How{Kind: weather.NoTrack}, "no track named: --track"},
	} {
		said(t, AirHow(c.h), c.want)
	}
	said(
		t,
		Air(weather.Estimate{How: weather.How{Kind: weather.SlipWithoutTrack}}, units.US),
		"not known: the slip names no track",
	)
	said(
		t,
		Air(weather.Estimate{How: weather.How{Kind: weather.NotNear, At: at(12, 0)}}, units.US),
		"not known: no reading near enough to 12:00",
	)
	e := weather.Estimate{
		Known:         true,
		How:           weather.How{Kind: weather.Given},
		Air:           weather.Standard,
		RiseFtPerHour: units.Some(-328),
	}
	said(t, AirRise(e, units.US), "falling 328 ft an hour")
	said(t, AirRise(e, units.Metric), "falling 100 m an hour")

	// What was measured and what is reckoned from it for now are two figures: both are said, each as what it is.
	e.How, e.RiseFtPerHour = weather.How{Kind: weather.ByOne, At: at(9, 35), Minutes: 43}, units.Number{}
	e.ReadFt = units.Some(e.Air.DensityAltitudeFt() + 187)
	now, read := units.Length.Format(units.US, e.Air.DensityAltitudeFt()), units.Length.Format(units.US, e.ReadFt.Value())
	said(t, Air(e, units.US), "density altitude "+now+", reckoned from "+read+", 43 min old")
	e.Turned = weather.Turn{ByFt: -782, Since: at(8, 45)}
	e.How.Minutes = 0
	const unsteady = ", measured at 09:35, down 782 ft from 08:45: unsteady, read it again before the call"
	said(t, Air(e, units.US), "density altitude "+now+unsteady)
}

func TestAirNotesAndDoubts(t *testing.T) {
	since := time.Date(2026, 5, 2, 14, 10, 0, 0, time.UTC)
	doubted := func(d weather.Doubt) weather.Note { return weather.Note{Kind: weather.Doubted, Doubt: d} }
	const asSetting = "a barometer or weather report that is reduced to sea level is given as altimeter setting instead"
	for _, c := range []struct {
		n          weather.Note
		us, metric string
	}{
		{
			weather.Note{Kind: weather.FromSeaLevel, StationInHg: 25.05, DoubtInHg: 0.061},
			"station pressure 25.05 inHg worked out from sea-level pressure, give or take 0.06 inHg: an altimeter setting or a station pressure is better",
			"station pressure 848.3 hPa worked out from sea-level pressure, give or take 2.1 hPa: an altimeter setting or a station pressure is better",
		},
		{
			weather.Note{Kind: weather.StandardPressure, ElevationFt: 5000, StationInHg: 24.896, DoubtInHg: 0.2},
			"no pressure read: standard for 5,000 ft assumed, 24.90 inHg, give or take 0.2 inHg",
			"no pressure read: standard for 1,524 m assumed, 843.1 hPa, give or take 6.8 hPa",
		},
		{
			weather.Note{Kind: weather.RaceDay, TempF: 78, RHPct: 50, ElevationFt: 812, DoubtFt: 1500},
			"no air read near then: guessing 78 F and 50 % at 812 ft; slipcase air add",
			"no air read near then: guessing 26 C and 50 % at 247 m; slipcase air add",
		},
		{weather.Note{Kind: weather.Impossible, ReadingID: "a-bad", Err: errors.New("no temperature")}, "air reading a-bad left out: no temperature", ""},
		{weather.Note{Kind: weather.Unread, Groups: "FOO BAR"}, "not understood in the report: FOO BAR", ""},
		{doubted(weather.Doubt{Quantity: weather.Temperature, Value: 140, Low: -40, High: 130}), "temperature 140.0 F is hotter than any track: a temperature in C is written like 31C", "temperature 60.0 C is hotter than any track: a temperature in C is written like 31C"},
		{doubted(weather.Doubt{Quantity: weather.Temperature, Value: -45, Low: -40, High: 130}), "temperature -45.0 F is colder than any track", "temperature -42.8 C is colder than any track"},
		{doubted(weather.Doubt{Quantity: weather.Temperature, Value: 86, Jump: 18, Since: since}), "temperature 86.0 F is +18.0 F from the reading at 14:10", "temperature 30.0 C is +10.0 C from the reading at 14:10"},
		{doubted(weather.Doubt{Quantity: weather.StationPressure, Value: 28.9, Jump: -0.3, Since: since}), "station pressure 28.90 inHg is -0.30 inHg from the reading at 14:10", "station pressure 978.7 hPa is -10.2 hPa from the reading at 14:10"},
		{doubted(weather.Doubt{Quantity: weather.DewPoint, Value: 95, High: 90}), "a dew point of 95 F is more water than open air holds: check the temperature and humidity", "a dew point of 35 C is more water than open air holds: check the temperature and humidity"},
		{doubted(weather.Doubt{Quantity: weather.RelativeHumidity, Value: 0.45, Low: 1}), "relative humidity 0.45 % is drier than any desert: a fraction such as 0.45 is written 45", ""},
		{doubted(weather.Doubt{Quantity: weather.Wind, Value: 70, High: 60}), "a wind of 70 mph is a storm: no one races in that", "a wind of 113 km/h is a storm: no one races in that"},
		{
			doubted(weather.Doubt{
				Quantity: weather.StationPressure, Value: 29.92, Low: 23.85, High: 25.57,
				ElevationFt: 5000, AsSetting: true,
			}),
			"station pressure 29.92 inHg cannot be that at 5,000 ft, where it is 23.85 to 25.57 inHg: " + asSetting,
			"station pressure 1013.2 hPa cannot be that at 1,524 m, where it is 807.7 to 865.9 hPa: " + asSetting,
		},
		{
			doubted(weather.Doubt{Quantity: weather.AltimeterSetting, Value: 26.9, Low: 28.7, High: 30.7}),
			"altimeter setting 26.90 inHg is outside 28.7 to 30.7 inHg: a barometer that is not reduced to sea level is written as station pressure",
			"altimeter setting 910.9 hPa is outside 971.9 to 1039.6 hPa: a barometer that is not reduced to sea level is written as station pressure",
		},
	} {
		said(t, AirNote(c.n, units.US), c.us)
		if c.metric == "" {
			c.metric = c.us
		}
		said(t, AirNote(c.n, units.Metric), c.metric)
	}
	limits := []weather.Beyond{
		{Standard: "SAE J1349", Value: 1.196, Low: 0.93, High: 1.07},
		{Standard: "SAE J1349", Quantity: weather.Temperature, Value: 97, Low: 59, High: 95},
		{Standard: "SAE J1349", Quantity: weather.DryPressure, Value: 24.64, Low: 26.5771, High: 31.0066},
	}
	for i, want := range []string{
		"the SAE J1349 factor 1.196 is outside 0.93 to 1.07, that standard's limits (from memory): power corrected by it is only an estimate",
		"97 F is outside 59 to 95 F (15 to 35 C), the temperatures SAE J1349 is meant for (from memory)",
		"24.64 inHg dry is outside 26.58 to 31.01 inHg (90 to 105 kPa), the pressures SAE J1349 is meant for (from memory)",
	} {
		said(t, CorrectionLimits(limits, units.US)[i], want)
	}
}
