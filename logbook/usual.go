package logbook

// UsualPull is ET x MPH of an ordinary full-power run, s mph, scaled to the quarter
// mile by the distance (common practice, no source). Constant power alone makes a
// little less, 1350 (Fox 1973).
const UsualPull = 1390

// QuickestS is the time, s, at each timed distance, ft, far under which wheels have
// never come (common practice, no source).
var QuickestS = map[float64]float64{60: 0.7, 330: 1.8, 660: 2.6, 1000: 3.3, 1320: 3.8}

// SlowestS is the time, s, above which one is doubted: a car pushed over the line.
func SlowestS(quickestS float64) float64 { return 10*quickestS + 5 }
