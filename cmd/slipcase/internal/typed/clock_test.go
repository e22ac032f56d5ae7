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

// TestClockPutBack: in Chicago the clocks went from 2:00 back to 1:00, from -05:00 to
// -06:00, on 1 November 2026; on Lord Howe by half an hour, from +11:00, at 2:00 on 5 April
// (IANA time zone database).
func TestClockPutBack(t *testing.T) {
	for _, c := range []struct{ zone, text, want, other string }{
		{"America/Chicago", "2026-11-01 00:59", "2026-11-01T00:59:00-05:00", ""},
		{"America/Chicago", "2026-11-01 01:00", "2026-11-01T01:00:00-05:00", "2026-11-01T01:00:00-06:00"},
		{"America/Chicago", "2026-11-01 01:59", "2026-11-01T01:59:00-05:00", "2026-11-01T01:59:00-06:00"},
		{"America/Chicago", "1:30am", "2026-11-01T01:30:00-05:00", "2026-11-01T01:30:00-06:00"},
		{"America/Chicago", "0130", "2026-11-01T01:30:00-05:00", "2026-11-01T01:30:00-06:00"},
		{"America/Chicago", "2026-11-01 02:00", "2026-11-01T02:00:00-06:00", ""},
		{"America/Chicago", "01:30-06:00", "2026-11-01T01:30:00-06:00", ""},
		{"America/Chicago", "1:30am −05:00", "2026-11-01T01:30:00-05:00", ""},
		{"America/Chicago", "2026-11-01 01:30 -06:00", "2026-11-01T01:30:00-06:00", ""},
		{"America/Chicago", "2026-11-01T01:30:00-06:00", "2026-11-01T01:30:00-06:00", ""},
		{"America/Chicago", "2026-03-08 03:10", "2026-03-08T03:10:00-05:00", ""},
		{"Australia/Lord_Howe", "2026-04-05 01:40", "2026-04-05T01:40:00+11:00", "2026-04-05T01:40:00+10:30"},
		{"Australia/Lord_Howe", "2026-04-05 01:20", "2026-04-05T01:20:00+11:00", ""},
		{"UTC", "2026-11-01 01:30", "2026-11-01T01:30:00Z", ""},
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Moment(c.text, time.Date(2026, 11, 1, 12, 0, 0, 0, zone), zone)
		if err != nil || got.Format(time.RFC3339) != c.want {
			t.Errorf("%s in %s: %v, %v; want %s", c.text, c.zone, got, err, c.want)
		}
		other, twice := Ambiguous(c.text, got)
		if twice != (c.other != "") || twice && other.Format(time.RFC3339) != c.other {
			t.Errorf("%s in %s: the other is %v, %v; want %s", c.text, c.zone, other, twice, c.other)
		}
	}
	for _, text := range []string{"01:30-99:00", "-05:00", "2026-11-01 -05:00"} {
		if got, err := Moment(text, time.Now(), time.UTC); err == nil {
			t.Errorf("%s was taken as %v", text, got)
		}
	}
}
