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
			return time.Date(y, m, d, t.Hour(), t.Minute(), 0, 0, zone), nil
		case y < 1900 || y > 2200:
			return t, fmt.Errorf("time %q: the year %d cannot be meant", text, y)
		default:
			return t, nil
		}
	}
	return time.Time{}, fmt.Errorf("time %q: want 2026-05-02 14:25, or 14:25 for today", Shorten(text))
}

// DayAlone reports a moment without its time of day.
func DayAlone(text string) bool { return dateWord.MatchString(strings.TrimSpace(text)) }
