package typed

import (
	"slipcase/logbook"
	"slipcase/weather/units"
)

// TimeDigits are how many digits a time at a distance, ft, has by its first, to the
// thousandth: 1 of 13.212 begins five, 8 of 8.412 four. What no run is as quick as has one
// digit more before the point.
func TimeDigits(ft float64) (of [10]int) {
	for first := range of {
		if of[first] = 4; float64(first+1) <= logbook.QuickestS[ft] && first > 0 {
			of[first] = 5
		}
	}
	return of
}

// DialDigits are those of a dial in hundredths: 1325, 890.
func DialDigits() (of [10]int) {
	for first, n := range TimeDigits(660) {
		of[first] = n - 1
	}
	return of
}

// SpeedDigits are those of a speed in hundredths, in the units it is typed in: 10584, 8377.
func SpeedDigits(bare units.System) (of [10]int) {
	for first := range of {
		if of[first] = 4; first > 0 && 100*float64(first) < units.Speed.In(bare, speeds.high) {
			of[first] = 5
		}
	}
	return of
}
