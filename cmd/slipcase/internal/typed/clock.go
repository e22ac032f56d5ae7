package typed

import (
	"fmt"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/pattern"
)

var (
	shortHalf = pattern.Of(`[0-9][AP]$`)
	bareClock = pattern.Of(`(^|[^0-9:+-])([0-9]{3,4})$`)
	offset    = pattern.Of(`^(.*[0-9](?i:[ap]m?)?)\s*([-−+][0-9]{2}:[0-9]{2})$`) // of a clock, at its end
)

// Moment reads a time as a racer types it in a zone, 14:25, 1425, 2:25p; a time of day
// alone is of today, the day of now. Behind it may stand the clock's offset, 01:30-05:00,
// which tells the two apart that a clock shows when it is put back; without one the
// first is taken.
func Moment(text string, now time.Time, zone *time.Location) (time.Time, error) {
	text = strings.TrimSpace(text)
	_, notISO := time.Parse(time.RFC3339, text)
	if m := offset.FindStringSubmatch(text); m != nil && notISO != nil {
		east, err := time.Parse("-07:00", strings.Replace(m[2], "−", "-", 1))
		if err != nil || DayAlone(m[1]) {
			return east, fmt.Errorf("time %q: want 01:30-05:00, the clock with its offset", Shorten(text))
		}
		t, err := Moment(m[1], now, east.Location())
		return t.In(zone), err
	}
	bare := strings.ToUpper(strings.ReplaceAll(text, " ", ""))
	if shortHalf.MatchString(bare) {
		bare += "M"
	}
	if m := bareClock.FindStringSubmatchIndex(text); m != nil {
		text = text[:m[4]] + text[m[4]:m[5]-2] + ":" + text[m[5]-2:]
	}
	for _, as := range []struct{ layout, text string }{
		{"15:04", text},
		{"3:04PM", bare},
		{"3PM", bare},
		{"2006-01-023:04PM", bare},
		{"2006-01-023PM", bare},
		{time.RFC3339, text},
		{"2006-01-02 15:04", text},
		{"2006-01-02T15:04", text},
		{time.DateTime, text},
		{time.DateOnly, text},
	} {
		t, err := time.ParseInLocation(as.layout, as.text, zone)
		switch y := t.Year(); {
		case err != nil:
		case !strings.Contains(as.layout, "2006"):
			y, m, d := now.In(zone).Date()
			return onClock(text, time.Date(y, m, d, t.Hour(), t.Minute(), 0, 0, time.UTC), zone)
		case y < 1900 || y > 2200:
			return t, fmt.Errorf("time %q: the year %d cannot be meant", text, y)
		case as.layout == time.RFC3339:
			return t, nil
		default:
			wall, err := time.Parse(as.layout, as.text)
			if err != nil {
				return t, err
			}
			return onClock(text, wall, zone)
		}
	}
	return time.Time{}, fmt.Errorf("time %q: want 2026-05-02 14:25, or 14:25 for today", Shorten(text))
}

// onClock is what a clock in the zone shows as wall does, which is refused where the clocks
// were put forward over it.
func onClock(text string, wall time.Time, zone *time.Location) (time.Time, error) {
	y, m, d := wall.Date()
	t := time.Date(y, m, d, wall.Hour(), wall.Minute(), wall.Second(), 0, zone)
	if t.Hour() != wall.Hour() || t.Minute() != wall.Minute() {
		return t, fmt.Errorf("time %q: no clock in %s showed it, they were put forward then", Shorten(text), zone)
	}
	if other, twice := otherHour(t); twice && other.Before(t) {
		return other, nil
	}
	return t, nil
}

// Ambiguous reports a time, typed as text and read as t, that the clocks of its zone showed
// twice because they were put back; other is when they did the other time.
func Ambiguous(text string, t time.Time) (other time.Time, twice bool) {
	if offset.MatchString(strings.TrimSpace(text)) || strings.HasSuffix(strings.TrimSpace(text), "Z") {
		return other, false
	}
	return otherHour(t)
}

func otherHour(t time.Time) (other time.Time, twice bool) {
	start, end := t.ZoneBounds()
	_, east := t.Zone()
	if _, before := start.Add(-1).Zone(); !start.IsZero() && before > east {
		back := time.Duration(before-east) * time.Second
		if t.Sub(start) < back {
			return t.Add(-back), true
		}
	}
	if _, after := end.Zone(); !end.IsZero() && after < east {
		back := time.Duration(east-after) * time.Second
		if end.Sub(t) <= back {
			return t.Add(back), true
		}
	}
	return other, false
}

// DayAlone reports a moment without its time of day.
func DayAlone(text string) bool { return dateWord.MatchString(strings.TrimSpace(text)) }

// NoClock is the error of a day alone where midnight cannot be meant; clock is a time of day
// that would do.
func NoClock(text, clock string) error {
	day := strings.TrimSpace(text)
	return fmt.Errorf("%s has no clock: want %s %s", day, day, clock)
}
