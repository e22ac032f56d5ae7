package typed

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/logbook"
	"slipcase/weather/units"
)

var (
	aroundAt = pattern.Of(`\s*@\s*`)
	// Times have three decimals and speeds two at most, so that two points tell where the
	// second figure begins.
	timeAndSpeed = pattern.Of(`^([0-9]{1,2}\.[0-9]{3})([0-9]{2,3}\.[0-9]{1,2})$`)
	timeAndTime  = pattern.Of(`^([0-9]{0,2}\.[0-9]{3})([0-9]{1,2}\.[0-9]{3})$`)
)

// Joined closes the gaps around the @ of a time and its speed, 8.069 @ 87.67, and parts
// two figures that have run together, 7.30993.70.
func Joined(text string) string {
	words := strings.Fields(aroundAt.ReplaceAllString(text, "@"))
	for i, w := range words {
		w = timeAndSpeed.ReplaceAllString(w, "$1@$2")
		words[i] = timeAndTime.ReplaceAllString(w, "$1 $2")
	}
	return strings.Join(words, " ")
}

// pullOff is how far ET x MPH may be from the usual, in logs: lifts and stalls too
// (common practice, no source).
const pullOff = 0.35

// pulls reports that a time and a speed, s and mph, can be those of a run at a
// distance, ft.
func pulls(et, mph, ft float64) bool {
	return et > 0 && mph > 0 && math.Abs(offPull(et, mph, ft)) < pullOff
}

// offPull is how far ET x MPH is from the usual at a distance, ft, in logs.
func offPull(et, mph, ft float64) float64 { return math.Log(et * mph * 1320 / ft / logbook.UsualPull) }

// runTogether asks about digits with one point or none in which a time and a speed have
// run together: 730993.70; bare is the unit of the speed.
func runTogether(bare units.System, text string) error {
	digits := strings.Replace(text, ".", "", 1)
	if len(digits) < 8 || len(digits) > 10 || strings.Trim(digits, "0123456789") != "" {
		return nil
	}
	for _, k := range []int{4, 5} {
		et, _ := strconv.ParseFloat(digits[:k], 64)
		speed, _ := strconv.ParseFloat(digits[k:], 64)
		et, speed = et/1000, speed/100
		mph := speed / units.Speed.In(bare, 1)
		if !speeds.holds(mph) {
			continue
		}
		for _, ft := range placeFt[at660:] {
			if spans[ft].holds(et) && pulls(et, mph, ft) {
				return fmt.Errorf("%q: ET and speed run together? Type %.3f@%.2f", text, et, speed)
			}
		}
	}
	return nil
}
