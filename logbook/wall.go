package logbook

import (
	"regexp"
	"strconv"
	"strings"
	"time"
)

// wall is what a cell without a zone shows: a clock on the wall, as if it were UTC.
type wall struct {
	time.Time
	precision time.Duration
	dateOnly  bool
	order     dayOrder // in which it is this date
}

// shows reports whether a moment, on the clock of its own zone, is what the cell shows:
// to the minute or second, what is finer cut off or rounded.
func (w wall) shows(t time.Time) bool {
	y, m, d := t.Date()
	h, min, s := t.Clock()
	clock := time.Date(y, m, d, h, min, s, t.Nanosecond(), time.UTC)
	switch {
	case w.dateOnly:
		return clock.Equal(w.Time)
	case w.precision == time.Second: // fractions of it rounded up or down
		return clock.Sub(w.Time).Abs() < time.Second
	}
	return clock.Truncate(w.precision).Equal(w.Time)
}

func sameDay(a, b time.Time) bool {
	y, m, d := a.Date()
	y2, m2, d2 := b.Date()
	return y == y2 && m == m2 && d == d2
}

var (
	clockAtEnd = regexp.MustCompile(`[ T,]+(\d{1,2}):(\d\d)(?::(\d\d)(?:[.,]\d+)?)?(?: ?([AaPp])\.?[Mm]\.?)?$`)
	dateParts  = regexp.MustCompile(`^(\d{1,4})([./ -])(\d{1,2}|[A-Za-z]{3})[./ -](\d{1,4})$`)
)

// wallClocks reads a date and a time of day as spreadsheets write them: year first, day
// before month with points, either with slashes. There are two where nothing in the cell
// tells the day from the month, none where it is no such cell.
func wallClocks(cell string) []wall {
	cell = strings.TrimSpace(cell)
	if t, ok := serial(cell); ok {
		return []wall{{Time: t, precision: time.Second}}
	}
	w := wall{precision: time.Minute, dateOnly: true}
	var clock time.Duration
	date := cell
	if at := clockAtEnd.FindStringSubmatchIndex(cell); at != nil {
		part := func(i int) string {
			if at[2*i] < 0 {
				return ""
			}
			return cell[at[2*i]:at[2*i+1]]
		}
		var ok bool
		if clock, ok = timeOfDay(part(1), part(2), part(3), part(4)); !ok {
			return nil
		}
		if part(3) != "" {
			w.precision = time.Second
		}
		w.dateOnly, date = false, cell[:at[0]]
	}
	p := dateParts.FindStringSubmatch(date)
	if p == nil {
		return nil
	}
	var days []time.Time
	var orders []dayOrder
	day := func(y, m, d string, order dayOrder) {
		if t, ok := dateOf(y, m, d); ok && (len(days) == 0 || !days[0].Equal(t)) {
			days, orders = append(days, t), append(orders, order)
		}
	}
	a, sep, b, c := p[1], p[2], p[3], p[4]
	_, err := strconv.Atoi(b)
	switch {
	case len(a) == 4:
		day(a, b, c, eitherOrder)
	case sep == "." || err != nil:
		day(c, b, a, eitherOrder)
	default:
		day(c, a, b, monthFirst)
		day(c, b, a, dayFirst)
	}
	var walls []wall
	for i, d := range days {
		w.Time, w.order = d.Add(clock), orders[i]
		walls = append(walls, w)
	}
	return walls
}

// serial reads a day as spreadsheets count them inside, from the end of 1899 on, with
// the time of day as its fraction.
func serial(cell string) (time.Time, bool) {
	days, err := strconv.ParseFloat(strings.Replace(cell, ",", ".", 1), 64)
	if err != nil || !(days > 20_000 && days < 100_000) { // 1954 to 2173
		return time.Time{}, false
	}
	first := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	return first.Add(time.Duration(days * 24 * float64(time.Hour))).Round(time.Second), true
}

func timeOfDay(hour, minute, second, half string) (time.Duration, bool) {
	h, _ := strconv.Atoi(hour)
	m, _ := strconv.Atoi(minute)
	s, _ := strconv.Atoi(second)
	if half != "" {
		if h < 1 || h > 12 {
			return 0, false
		}
		h %= 12
		if strings.EqualFold(half, "p") {
			h += 12
		}
	}
	return time.Duration(
			h,
		)*time.Hour + time.Duration(
			m,
		)*time.Minute + time.Duration(
			s,
		)*time.Second, h < 24 && m < 60 &&
			s < 60
}

// dateOf is a day of the calendar; a year of two digits is of this century, and a month
// may have its name.
func dateOf(year, month, day string) (time.Time, bool) {
	y, _ := strconv.Atoi(year)
	if len(year) == 2 {
		y += 2000
	}
	m, err := strconv.Atoi(month)
	if err != nil {
		t, err := time.Parse("Jan", month)
		if err != nil {
			return time.Time{}, false
		}
		m = int(t.Month())
	}
	d, _ := strconv.Atoi(day)
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	return t, y > 1900 && t.Month() == time.Month(m) && t.Day() == d
}
