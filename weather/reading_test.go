package weather

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// good is a reading with nothing wrong; a test spoils one thing in it.
func good(change func(*Reading)) Reading {
	r := Reading{TempF: units.Some(88), RHPct: units.Some(42), StationInHg: units.Some(28.94)}
	if change != nil {
		change(&r)
	}
	return r
}

var (
	absent = units.Number{}
	some   = units.Some
)

func TestImpossibleReadings(t *testing.T) {
	at812 := some(812)
	for _, c := range []struct {
		name      string
		reading   Reading
		elevation units.Number
		says      string
	}{
		{"no temperature", good(func(r *Reading) { r.TempF = absent }), at812, "no temperature"},
		{"temperature NaN", good(func(r *Reading) { r.TempF = some(math.NaN()) }), at812, "temperature NaN F is impossible"},
		{"temperature Inf", good(func(r *Reading) { r.TempF = some(math.Inf(1)) }), at812, "-150 to 250 F"},
		{"below absolute zero", good(func(r *Reading) { r.TempF = some(-500) }), at812, "temperature -500 F is impossible"},
		{"RH 140", good(func(r *Reading) { r.RHPct = some(140) }), at812, "relative humidity 140 % is impossible: want 0 to 100 %"},
		{"RH below 0", good(func(r *Reading) { r.RHPct = some(-1) }), at812, "0 to 100"},
		{"no water", good(func(r *Reading) { r.RHPct = absent }), at812, "want one of relative humidity, dew point, wet bulb"},
		{"two waters", good(func(r *Reading) { r.DewPointF = some(60) }), at812, "only the one that was read"},
		{"dew point above", good(func(r *Reading) { r.RHPct, r.DewPointF = absent, some(89) }), at812, "above the temperature"},
		{"wet bulb above", good(func(r *Reading) { r.RHPct, r.WetBulbF = absent, some(89) }), at812, "above the temperature"},
		{"wet bulb too dry", good(func(r *Reading) { r.RHPct, r.WetBulbF = absent, some(40) }), at812, "even air without any water"},
		{"boiling", good(func(r *Reading) { r.TempF, r.RHPct = some(240), some(100) }), at812, "cannot hold that much water"},
		{"no pressure, no elevation", good(func(r *Reading) { r.StationInHg = absent }), absent, "no pressure and no elevation"},
		{"two pressures", good(func(r *Reading) { r.AltimeterInHg = some(29.9) }), at812, "only the one that was read"},
		{"altimeter alone", good(func(r *Reading) { r.StationInHg, r.AltimeterInHg = absent, some(29.9) }), absent, "needs the track's elevation"},
		{"sea level alone", good(func(r *Reading) { r.StationInHg, r.SeaLevelInHg = absent, some(29.9) }), absent, "needs the track's elevation"},
		{"29.92 typed as hPa", good(func(r *Reading) { r.StationInHg = some(29.92 / hPaPerInHg) }), at812, "29.92, write 29.92inHg"},
		{"1013 typed bare", good(func(r *Reading) { r.StationInHg = some(1013) }), some(0), "1013, write 1013hPa"},
		{"983 as altimeter", good(func(r *Reading) { r.StationInHg, r.AltimeterInHg = absent, some(983) }), at812, "write 983hPa"},
		{"760 typed bare", good(func(r *Reading) { r.StationInHg = some(760) }), some(0), "write 760mmHg"},
		{"760 typed bare, high up", good(func(r *Reading) { r.StationInHg = some(760) }), some(7800), "write 760hPa"},
		{"101.3 typed bare", good(func(r *Reading) { r.StationInHg = some(101.3) }), some(0), "write 101.3kPa"},
		{"14.5 typed bare", good(func(r *Reading) { r.StationInHg = some(14.5) }), some(300), "write 14.5psi"},
		{"pressure 0", good(func(r *Reading) { r.StationInHg = some(0) }), at812, "is impossible"},
		{"pressure below 0", good(func(r *Reading) { r.StationInHg = some(-29) }), at812, "is impossible"},
		{"pressure NaN", good(func(r *Reading) { r.StationInHg = some(math.NaN()) }), at812, "station pressure NaN inHg is impossible"},
		{"station pressure as an altimeter setting", good(func(r *Reading) { r.StationInHg, r.AltimeterInHg = absent, some(24.5) }), some(5000), "25 to 33 inHg"},
		{"wind below 0", good(func(r *Reading) { r.WindMPH = some(-1) }), at812, "wind -1 mph"},
		{"wind from 400", good(func(r *Reading) { r.WindFromDeg = some(400) }), at812, "0 to 360 deg"},
		{"elevation 90,000", good(nil), some(90000), "elevation 90,000 ft is impossible"},
	} {
		a, _, err := c.reading.Air(c.elevation)
		if err == nil {
			t.Errorf("%s: %+v, want an error", c.name, a)
			continue
		}
		if !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %q, want it to say %q", c.name, err, c.says)
		}
		if d := c.reading.Doubts(c.elevation); d != nil {
			t.Errorf("%s: impossible and also doubted: %+v", c.name, d)
		}
	}
}

func TestRemarks(t *testing.T) {
	noPressure := good(func(r *Reading) { r.StationInHg = absent })
	seaLevel := good(func(r *Reading) { r.StationInHg, r.SeaLevelInHg = absent, some(29.92) })
	setting := good(func(r *Reading) { r.StationInHg, r.AltimeterInHg = absent, some(29.92) })
	for _, c := range []struct {
		name      string
		reading   Reading
		station   float64
		tolerance float64
		note      NoteKind
		source    string
	}{
		{"station pressure", good(nil), 28.94, 0, "", "as read"},
		{"altimeter setting", setting, 24.90, 0.01, "", "ISO 2533, 5,000 ft"},
		{"none", noPressure, 24.8959, 0.0005, StandardPressure, "ISO 2533, 5,000 ft: 843.07 hPa"},
		// At 88 °F the column is warmer than standard, so the station is higher.
		{"sea level", seaLevel, 24.9 + 0.37, 0.06, FromSeaLevel, "10 °C is 5 hPa at 5,000 ft"},
	} {
		a, notes, err := c.reading.Air(some(5000))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		near(t, c.name+": station pressure", a.StationInHg, c.station, c.tolerance, c.source)
		if len(notes) > 1 || (len(notes) == 1) != (c.note != "") || len(notes) == 1 && notes[0].Kind != c.note {
			t.Errorf("%s: %+v, want %q", c.name, notes, c.note)
		}
	}
}

func TestDoubts(t *testing.T) {
	for _, c := range []struct {
		name      string
		reading   Reading
		elevation units.Number
		of        Quantity // "" for no doubt
		value     float64
		asSetting bool
	}{
		{"a summer's day", good(nil), some(812), "", 0, false},
		{"no elevation", good(nil), absent, "", 0, false},
		{"90C typed", good(func(r *Reading) { r.TempF, r.RHPct = some(194), some(10) }), some(812), Temperature, 194, false},
		{"-45", good(func(r *Reading) { r.TempF = some(-45) }), some(812), Temperature, -45, false},
		{"sea-level barometer at 3,000 ft", good(func(r *Reading) { r.StationInHg = some(29.92) }), some(3000), StationPressure, 29.92, true},
		{"station of another track", good(func(r *Reading) { r.StationInHg = some(24.9) }), some(812), StationPressure, 24.9, false},
		{"sea-level barometer at 500 ft: no check can tell", good(func(r *Reading) { r.StationInHg = some(29.92) }), some(500), "", 0, false},
		{"station pressure as altimeter setting", good(func(r *Reading) { r.StationInHg, r.AltimeterInHg = absent, some(26.9) }), some(3000), AltimeterSetting, 26.9, false},
		{"low sea-level pressure", good(func(r *Reading) { r.StationInHg, r.SeaLevelInHg = absent, some(27) }), some(100), SeaLevelPressure, 27, false},
		{"dew point 95", good(func(r *Reading) { r.TempF, r.RHPct, r.DewPointF = some(100), absent, some(95) }), some(812), DewPoint, 95, false},
		{"fraction for percent", good(func(r *Reading) { r.RHPct = some(0.45) }), some(812), RelativeHumidity, 0.45, false},
		{"storm", good(func(r *Reading) { r.WindMPH = some(70) }), some(812), Wind, 70, false},
	} {
		var first Doubt
		if got := c.reading.Doubts(c.elevation); len(got) > 0 {
			first = got[0]
		}
		near(t, c.name, first.Value, c.value, 0.01, "as typed")
		if first.Quantity != c.of || first.AsSetting != c.asSetting ||
			c.of != "" && first.Value >= first.Low && first.Value <= first.High && c.of != RelativeHumidity {
			t.Errorf("%s: %+v, want %q", c.name, first, c.of)
		}
	}
}

// Every reading that Air takes gives figures that can be shown and stored.
func TestAcceptedReadingsGiveFiniteAir(t *testing.T) {
	number := func(t *rapid.T, name string, lo, hi float64) units.Number {
		if rapid.IntRange(0, 2).Draw(t, "is "+name) == 0 {
			return absent
		}
		return some(rapid.Float64Range(lo, hi).Draw(t, name))
	}
	rapid.Check(t, func(t *rapid.T) {
		r := Reading{
			TempF:         some(rapid.Float64Range(-200, 300).Draw(t, "temp")),
			RHPct:         number(t, "rh", -5, 105),
			DewPointF:     number(t, "dew", -200, 200),
			WetBulbF:      number(t, "wet", -200, 200),
			StationInHg:   number(t, "station", 10, 35),
			AltimeterInHg: number(t, "altimeter", 20, 35),
		}
		a, _, err := r.Air(number(t, "elevation", -2000, 20000))
		if err != nil {
			return
		}
		for name, v := range map[string]float64{
			"RH": a.RHPct(), "wet bulb": a.WetBulbF(), "dew point": a.DewPointF().Value(), "grains": a.GrainsPerLb(),
			"density": a.DensityKgM3(), "dry density": a.DryDensityKgM3(), "density altitude": a.DensityAltitudeFt(),
			"J1349": a.SAEJ1349(), "ISO 1585": a.ISO1585(),
		} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v: %s is %v", r, name, v)
			}
		}
	})
}
