package page

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// Whatever is rounded is within half of the last place, has no more places in JSON, and
// is never -0.
func TestRounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.IntRange(0, 4).Draw(t, "places")
		v := rapid.Float64Range(-1e5, 1e5).Draw(t, "v")
		got := rounded(v, places)
		if math.Abs(got-v) > 0.5*math.Pow10(-places)+1e-9 {
			t.Fatalf("%v to %d places: %v", v, places, got)
		}
		text, err := json.Marshal(got)
		if err != nil {
			t.Fatal(err)
		}
		point := len(text)
		for i, c := range text {
			if c == '.' {
				point = i + 1
			}
		}
		if len(text)-point > places || got == 0 && string(text) != "0" {
			t.Fatalf("%v to %d places is written %s", v, places, text)
		}
	})
	for _, v := range []float64{-0.0004, math.Copysign(0, -1)} {
		if text, _ := json.Marshal(rounded(v, ToS)); string(text) != "0" {
			t.Errorf("%v is written %s", v, text)
		}
	}
	if n := roundedNumber(units.Number{}, ToS); n.Known() {
		t.Errorf("nothing rounded is %v", n)
	}
}
