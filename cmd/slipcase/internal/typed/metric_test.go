package typed

import (
	"math"
	"testing"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// In a metric log a speed without unit is km/h on every way in: 1 mph is 1.609344 km/h
// (NIST SP 811, B.8), so that 150.2 km/h is 93.33 mph.
func TestMetricSpeeds(t *testing.T) {
	const mph = 150.2 / 1.609344
	for _, line := range []string{
		"042 1.612 4.637 7.112@150.2", ".042 1612 4637 7112@15020", ".042 1.612 4.637 7.112 150.2",
		".042 1.612 4.637 7.112@1502", ".042 1.612 4.637 7.112@93.3300mph", ".042 1.612 4.637 7.112@150.2km/h",
	} {
		l, err := ParseLine(units.Metric, line, logbook.Slip{}, logbook.Slip{})
		if err != nil || l.Slip.ET660S != units.Some(7.112) || math.Abs(l.Slip.MPH660.Value()-mph) > 1e-3 {
			t.Errorf("%q reads %v @ %v, %v", line, l.Slip.ET660S, l.Slip.MPH660, err)
		}
	}
	for _, words := range [][]string{
		{".051", "7.300@150.2", "7.30"}, {".051", "7.300", "150.2", "7.30"}, {".051", "7300", "15020", "730"},
	} {
		var s logbook.Slip
		err := Lane(units.Metric, "the other lane's", &s, words)
		if err != nil || math.Abs(s.OpponentMPH.Value()-mph) > 1e-3 || s.OpponentDialS != units.Some(7.3) {
			t.Errorf("%v reads %v, dial %v, %v", words, s.OpponentMPH, s.OpponentDialS, err)
		}
	}
	split := logbook.Split{Ft: 660, ETS: units.Some(7.112)}
	if v, is := LateSpeed(units.Metric, "150.2", split, 1000); is != OnlySpeed || math.Abs(v.Value()-mph) > 1e-3 {
		t.Errorf("alone it reads %v, %v", v, is)
	}
	if err := runTogether(units.Metric, "711215020"); err == nil {
		t.Error("7112 and 15020 run together are not asked about")
	}
}

// A distance without unit is in metres above the times as on a line: 0.3048 m is a foot (NIST
// SP 811, B.8), so that 200 m is 656.17 ft and 201 m the 660 ft of an eighth of a mile.
func TestMetricHead(t *testing.T) {
	for text, want := range map[string]float64{"lifted 200": 200 / 0.3048, "lifted 200m": 200 / 0.3048, "lifted 600ft": 600, "raced 201": 660} {
		var s logbook.Slip
		_, _, err := ParseHead(units.Metric, text, &s)
		if got := s.FullPowerToFt.Or(0) + s.RacedFt.Or(0); err != nil || math.Abs(got-want) > 0.1 {
			t.Errorf("%q reads %v ft, %v: want %.1f", text, got, err, want)
		}
	}
}

func TestMetricAir(t *testing.T) {
	for _, text := range []string{"31 42 980.5", "31C 42 9805", "87.8F 42% 980.5hPa", "31 42 980.5 10km/h"} {
		airs, err := ParseAir(units.Metric, text, nil)
		if err != nil || len(airs) != 1 || airs[0].Err != nil {
			t.Errorf("%q: %v, %v", text, airs, err)
			continue
		}
		r := airs[0].Reading
		if math.Abs(r.TempF.Value()-87.8) > 1e-9 || r.RHPct != units.Some(42) ||
			math.Abs(r.StationInHg.Value()-28.9541) > 1e-4 {
			t.Errorf("%q reads %v F, %v %%, %v inHg", text, r.TempF, r.RHPct, r.StationInHg)
		}
	}
}
