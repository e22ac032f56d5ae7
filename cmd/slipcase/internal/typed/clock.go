package typed

import (
	"fmt"
	"regexp"
	"strings"
	"time"
)

var (
	shortHalf = regexp.MustCompile(`[0-9][AP]$`)
	bareClock = regexp.MustCompile(`(^|[^0-9:+-])([0-9]{3,4})$`)
)

// Moment reads a time as a racer types it in a zone, 14:25, 1425, 2:25p; a time of day
// alone is of today, the day of now.
func Moment(text string, now time.Time, zone *time.Location) (time.Time, error) {
	text = strings.TrimSpace(text)
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
	return t, nil
}

// DayAlone reports a moment without its time of day.
func DayAlone(text string) bool { return dateWord.MatchString(strings.TrimSpace(text)) }
