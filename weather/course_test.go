package weather

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// Nothing steps as a reading ages: from one minute to the next, over ten days, neither the air
// nor its range moves by more than the fastest weather of an hour spread over sixty minutes.
func TestNothingStepsAsReadingsAge(t *testing.T) {
	day := []Timed{readAt("a", clockTime(9, 0), 95), readAt("b", clockTime(11, 0), 99), readAt("c", clockTime(15, 30), 60)}
	last := day[2].Time
	was := NewPlace(day, some(812)).Forecast(last, last)
	for minute := 1; minute < 10*24*60; minute++ {
		at := last.Add(time.Duration(minute) * time.Minute)
		is := NewPlace(day, some(812)).Forecast(at, at)
		da := is.Air.DensityAltitudeFt() - was.Air.DensityAltitudeFt()
		if math.Abs(da) > 15 || math.Abs(is.DoubtFt-was.DoubtFt) > 5 ||
			math.Abs(is.WindMPH.Value()-was.WindMPH.Value()) > 0.1 {
			t.Fatalf("%v after the last reading: %+.1f ft, ± %.1f ft after %.1f", at.Sub(last), da, is.DoubtFt, was.DoubtFt)
		}
		was = is
	}
	if !was.Assumed {
		t.Errorf("after ten days %+v, want it assumed", was)
	}
	year := last.AddDate(1, 0, 0)
	nothing, faded := At(nil, year, some(812)), NewPlace(day, some(812)).Forecast(year, year)
	near(
		t,
		"after a year: density altitude, ft",
		faded.Air.DensityAltitudeFt(),
		nothing.Air.DensityAltitudeFt(),
		1,
		"the race day alone",
	)
	near(t, "after a year: range, ft", faded.RangeFt(), nothing.RangeFt(), 2, "the race day alone")
}

// Denser air in the last reading, or in all of them, is denser air in the forecast, however old.
func TestBetterAirIsBetterAhead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var day []Timed
		at := clockTime(8, 0)
		for range rapid.IntRange(1, 10).Draw(t, "readings") {
			at = at.Add(time.Duration(rapid.IntRange(0, 300).Draw(t, "minutes on")) * time.Minute)
			day = append(day, Timed{"a", at, Reading{
				TempF: some(rapid.Float64Range(50, 100).Draw(t, "°F")), DewPointF: some(40),
				StationInHg: some(rapid.Float64Range(28, 29.5).Draw(t, "inHg")),
			}})
		}
		cooler, heavier := rapid.Float64Range(0, 9).Draw(t, "cooler"), rapid.Float64Range(0, 0.5).Draw(t, "heavier")
		better := append([]Timed{}, day...)
		from := rapid.SampledFrom([]int{0, len(day) - 1}).Draw(t, "from")
		for i := from; i < len(better); i++ {
			r := &better[i].Reading
			r.TempF, r.StationInHg = some(r.TempF.Value()-cooler), some(r.StationInHg.Value()+heavier)
		}
		ahead := at.Add(time.Duration(rapid.IntRange(0, 20*24*60).Draw(t, "ahead")) * time.Minute)
		was, is := NewPlace(day, some(812)).Forecast(at, ahead), NewPlace(better, some(812)).Forecast(at, ahead)
		if is.Air.TempF > was.Air.TempF+1e-9 || is.Air.StationInHg < was.Air.StationInHg-1e-9 ||
			is.Air.DensityAltitudeFt() > was.Air.DensityAltitudeFt()+1e-6 {
			t.Fatalf("from %+v to %+v", was.Air, is.Air)
		}
		if steady := is.Turned == was.Turned && is.Turned == (Turn{}); steady && is.DoubtFt != was.DoubtFt {
			t.Fatalf("± %v and ± %v ft: where no reading turned, the range goes by time alone", was.DoubtFt, is.DoubtFt)
		}
	})
}

// Clocks that save daylight are an hour ahead of the sun's; a fixed offset is taken as it is.
func TestSunTime(t *testing.T) {
	chicago, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Fatal(err)
	}
	summer := time.Date(2026, 7, 1, 14, 0, 0, 0, chicago)
	standard := time.Date(2026, 7, 1, 13, 0, 0, 0, time.FixedZone("", -6*3600))
	if a, b := momentOf(summer, summer), momentOf(standard, standard); a != b {
		t.Errorf("%+v by daylight saving time, %+v by standard time", a, b)
	}
	winter := time.Date(2026, 1, 1, 13, 0, 0, 0, chicago)
	if a, b := momentOf(winter, winter), momentOf(standard, standard); a != b {
		t.Errorf("%+v in winter, %+v by standard time", a, b)
	}
	e := At(nil, summer, some(0))
	near(t, "a race day after noon, °F", e.Air.TempF, 78, 0.3, "common practice")
	near(t, "its range, ft", e.RangeFt(), 1500, 10, "common practice")
	if night := At(nil, summer.Add(14*time.Hour), units.Some(0)); night.Air.TempF > 68 {
		t.Errorf("%.1f °F at 4 in the morning", night.Air.TempF)
	}
}
