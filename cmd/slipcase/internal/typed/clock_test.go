package typed

import (
	"strings"
	"testing"
	"time"
)

// Any text as a time is refused with what is wanted, or is one that reads back.
func FuzzTime(f *testing.F) {
	for _, seed := range []string{"2026-05-02 14:25", "14:25", "2026-05-02", "2026-05-02T14:25:00-05:00", "2026-05-02 14:25:59", "25:00", "0000-01-01", "0001-01-01 3:04 pm", "", " 7:05 "} {
		f.Add(seed)
	}
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		f.Fatal(err)
	}
	now := time.Date(2026, 5, 2, 18, 0, 0, 0, zone)
	f.Fuzz(func(t *testing.T, text string) {
		at, err := Moment(text, now, zone)
		if err != nil {
			if !strings.Contains(err.Error(), "time ") || len(err.Error()) > 600 {
				t.Errorf("%q: the error is %q", text, err)
			}
			return
		}
		if y := at.Year(); y < 1900 || y > 2200 {
			t.Errorf("%q is of the year %d", text, y)
		}
		again, err := Moment(at.Format(time.RFC3339), now, zone)
		if err != nil || !again.Equal(at.Truncate(time.Second)) {
			t.Errorf("%q is %v, which reads as %v, %v", text, at, again, err)
		}
	})
}

// A clock as racers write it where one is asked.
func TestClocks(t *testing.T) {
	now := time.Date(2026, 5, 2, 18, 0, 0, 0, time.UTC)
	for text, want := range map[string]string{
		"15:30": "2026-05-02 15:30", "1530": "2026-05-02 15:30", "930": "2026-05-02 09:30", "3:30pm": "2026-05-02 15:30",
		"3:30 PM": "2026-05-02 15:30", "3:30p": "2026-05-02 15:30", "3pm": "2026-05-02 15:00", "9:05a": "2026-05-02 09:05",
		"2026-05-01 1530": "2026-05-01 15:30", "2026-05-01 3:30 pm": "2026-05-01 15:30", "2026-05-01T15:30:00+00:00": "2026-05-01 15:30",
	} {
		if at, err := Moment(text, now, time.UTC); err != nil || at.Format("2006-01-02 15:04") != want {
			t.Errorf("%s is %v, %v, want %s", text, at, err, want)
		}
	}
	for _, text := range []string{"2561", "15", "13:30pm", "15300"} {
		if at, err := Moment(text, now, time.UTC); err == nil {
			t.Errorf("%s is %v, want it refused", text, at)
		}
	}
}

// TestClockPutForward: in Chicago the clocks went from 2:00 to 3:00 on 8 March 2026 (IANA
// time zone database).
func TestClockPutForward(t *testing.T) {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 3, 8, 12, 0, 0, 0, zone)
	for _, text := range []string{"2026-03-08 02:30", "2:30am", "02:30", "0230"} {
		if got, err := Moment(text, now, zone); err == nil {
			t.Errorf("%s was taken as %s", text, got)
		}
	}
	for _, text := range []string{"2026-03-08 01:59", "3:00am", "2026-03-08T02:30:00-06:00"} {
		if _, err := Moment(text, now, zone); err != nil {
			t.Errorf("%s: %v", text, err)
		}
	}
}
