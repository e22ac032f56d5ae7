package logbook

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"slipcase/weather/units"
)

// chicago is a logbook with a track in another zone than the machine's and some slips,
// one of them in the middle of a month and one with seconds.
func chicago(t *testing.T) *Logbook {
	t.Helper()
	lb := start(t)
	_, err := lb.AmendTrack("saltgrass", func(t *Track) error { t.TimeZone = "America/Chicago"; return nil })
	must(t, err)
	zone, err := time.LoadLocation("America/Chicago")
	must(t, err)
	for n, at := range []time.Time{
		time.Date(2026, 5, 2, 14, 25, 0, 0, zone),
		time.Date(2026, 5, 23, 9, 5, 37, 0, zone),
		time.Date(2026, 11, 12, 22, 36, 27, 0, zone), // after the clocks changed
		time.Date(2026, 6, 7, 0, 0, 0, 0, zone),
	} {
		s := slipAt(14, 0, 13.25+float64(n)/100)
		s.Time = Time{at}
		must(t, lb.AddSlips(s))
	}
	return lb
}

// retimed writes the times of slips.csv in another form.
func retimed(t *testing.T, lb *Logbook, layout string, also func(rows [][]string)) {
	t.Helper()
	editCells(t, lb, func(rows [][]string) [][]string {
		for at, name := range rows[0] {
			if name != "time" && name != "recorded_at" {
				continue
			}
			for _, row := range rows[1:] {
				var stamp Time
				must(t, stamp.UnmarshalCSV(row[at]))
				row[at] = stamp.Format(layout)
			}
		}
		if also != nil {
			also(rows)
		}
		return rows
	})
}

var spreadsheetLayouts = []string{
	"2006/01/02 15:04:05", // Gnumeric
	"2006-Jan-02 15:04:05",
	"2006-01-02 15:04:05",
	"2006-01-02T15:04:05", // ISO 8601 without a zone
	"2006-01-02 15:04",
	"02.01.2006 15:04",
	"2.1.2006 15:04:05",
	"02.01.06 15:04",
	"01/02/2006 03:04 PM",
	"1/2/2006 15:04",
	"1/2/06 3:04 PM",
	"02/01/2006 15:04",
	"02/01/2006 03:04:05 pm",
	"02-01-2006 15:04:05",
	"2 Jan 2006 15:04",
}

// Times that a spreadsheet has rewritten are those recorded, seconds lost or not: no
// edit, no loss, and nothing for a repair to do.
func TestTimesSurviveSpreadsheets(t *testing.T) {
	for _, layout := range spreadsheetLayouts[:campaign(len(spreadsheetLayouts), len(spreadsheetLayouts))] {
		t.Run(layout, func(t *testing.T) {
			lb := chicago(t)
			want, err := lb.Slips("")
			must(t, err)
			last, err := lb.Slip("last")
			must(t, err)
			retimed(t, lb, layout, nil)
			got, err := lb.Slips("")
			must(t, err)
			if diff := cmp.Diff(want, got); diff != "" || len(lb.Problems()) > 0 {
				t.Errorf("slips differ, problems %v (-want +read):\n%s", lb.Problems(), diff)
			}
			if n := kinds(t, lb); len(n) > 0 {
				t.Errorf("a check finds %v", n)
			}
			if mends := repair(t, lb); len(mends) > 0 {
				t.Errorf("a repair does %v", mends)
			}
			if again, err := lb.Slip("last"); err != nil || again.ID != last.ID {
				t.Errorf("last is %s, not %s: %v", again.ID, last.ID, err)
			}
			_, err = lb.AmendSlip(want[0].ID, func(s *Slip) error { s.Lane = "left"; return nil })
			must(t, err)
			if s, err := lb.Slip(want[0].ID); err != nil || s.Lane != "left" || s.Rev != 2 || !s.Time.Equal(want[0].Time.Time) {
				t.Errorf("amended: %+v, %v", s, err)
			}
		})
	}
}

// A time that the racer has edited in such a file is his, in the zone of the track, and
// not put back; where day and month cannot be told it is unreadable and no guess.
func TestEditedTimesInSpreadsheets(t *testing.T) {
	for _, layout := range spreadsheetLayouts[:campaign(len(spreadsheetLayouts), len(spreadsheetLayouts))] {
		t.Run(layout, func(t *testing.T) {
			lb := chicago(t)
			was, err := lb.Slips("")
			must(t, err)
			edited := was[0].Time.Add(15 * time.Minute)
			retimed(t, lb, layout, func(rows [][]string) {
				for at, name := range rows[0] {
					if name == "time" {
						rows[1][at] = edited.Format(layout)
					}
				}
			})
			for range 2 {
				got, err := lb.Slip(was[0].ID)
				must(t, err)
				if !got.Time.Equal(edited) {
					t.Errorf("the time is %v, want %v", got.Time, edited)
				}
				if n := kinds(t, lb); n[Changed] != 1 || len(n) != 1 {
					t.Errorf("a check finds %v", n)
				}
				if mends := repair(t, lb); len(mends) > 0 {
					t.Errorf("a repair does %v", mends)
				}
			}
		})
	}
}

func TestDayAndMonthAreNotGuessed(t *testing.T) {
	const head = "id,rev,status,recorded_at,vehicle,track,time,et_1320_s\n"
	row := func(id, at string) string {
		return fmt.Sprintf("%s,1,fact,2026-05-02T14:26:00Z,heron,saltgrass,%s,13.5\n", id, at)
	}
	lb := start(t)
	read := func(rows string) map[string]string {
		must(t, os.WriteFile(lb.path(slips.file), []byte(head+rows), 0o600))
		got, err := onDisk(t, lb).Slips("")
		must(t, err)
		times := map[string]string{}
		for _, s := range got {
			times[s.ID] = s.Time.Format(time.RFC3339)
		}
		return times
	}
	for _, tc := range []struct {
		rows string
		want map[string]string
	}{
		{row("s1", "05/02/2026 14:25"), map[string]string{}},
		{row("s1", "05/23/2026 14:25"), map[string]string{"s1": "2026-05-23T14:25:00Z"}},
		{row("s1", "23/05/2026 14:25"), map[string]string{"s1": "2026-05-23T14:25:00Z"}},
		{row("s1", "05/05/2026 2:25 PM"), map[string]string{"s1": "2026-05-05T14:25:00Z"}},
		{row("s1", "05/02/2026 14:25") + row("s2", "05/23/2026 14:25"), map[string]string{"s1": "2026-05-02T14:25:00Z", "s2": "2026-05-23T14:25:00Z"}},
		{row("s1", "05/02/2026 14:25") + row("s2", "23/05/2026 14:25"), map[string]string{"s1": "2026-02-05T14:25:00Z", "s2": "2026-05-23T14:25:00Z"}},
		{row("s1", "05/02/2026 14:25") + row("s2", "23/05/2026 14:25") + row("s3", "05/23/2026 14:25"), map[string]string{"s2": "2026-05-23T14:25:00Z", "s3": "2026-05-23T14:25:00Z"}},
		{row("s1", "2026-02-30 14:25") + row("s2", "32.1.2026 14:25") + row("s3", "1.2.2026 24:25") + row("s4", "1/2/2026 13:25 PM") + row("s5", "soon"), map[string]string{}},
		{row("s1", "2026/05/02"), map[string]string{}}, // at what time?
	} {
		if diff := cmp.Diff(tc.want, read(tc.rows)); diff != "" {
			t.Errorf("%s(-want +read):\n%s", tc.rows, diff)
		}
	}
}

// A reading keeps its time as a slip does, and a setup, which has no track, is read by
// the clock of the machine.
func TestOtherTimesInSpreadsheets(t *testing.T) {
	lb := chicago(t)
	zone := time.FixedZone("", 2*3600)
	lb.now = func() time.Time { return time.Date(2026, 5, 2, 15, 0, 0, 0, zone) }
	const head = "id,rev,status,recorded_at,vehicle,from,weight_lb\n"
	must(
		t,
		os.WriteFile(
			lb.path(setups.file),
			[]byte(head+"u1,1,fact,2026/05/02 14:26:00,heron,2026/05/02 8:00:00,3450\n"),
			0o600,
		),
	)
	got, err := lb.Setups("")
	must(t, err)
	if len(got) != 1 || got[0].From.Format(time.RFC3339) != "2026-05-02T08:00:00+02:00" ||
		got[0].WeightLb != units.Some(3450) {
		t.Errorf("setups: %+v, %v", got, lb.Problems())
	}
	if strings.Contains(fmt.Sprint(lb.Problems()), "line") {
		t.Error(lb.Problems())
	}
}

// An edited time that no clock showed, the clocks of Chicago having gone from 2:00 to 3:00
// on 8 March 2026 (IANA time zone database), is not read as another; one that they showed
// twice keeps the moment that was recorded.
func TestTimesOfAClockChangeInSpreadsheets(t *testing.T) {
	lb := chicago(t)
	zone, err := time.LoadLocation("America/Chicago")
	must(t, err)
	second := slipAt(14, 0, 13.4)
	second.Time = Time{time.Date(2025, 11, 2, 1, 30, 0, 0, time.FixedZone("", -6*3600)).In(zone)}
	must(t, lb.AddSlips(second))
	const layout = "2006-01-02 15:04:05"
	retimed(t, lb, layout, func(rows [][]string) {
		for at, name := range rows[0] {
			if name == "time" {
				rows[1][at] = "2026-03-08 02:30:00"
			}
		}
	})
	got, err := lb.Slips("")
	must(t, err)
	if len(got) != 4 {
		t.Errorf("%d slips, want the one in the gap left out: %v", len(got), got)
	}
	for _, s := range got {
		if s.ID == second.ID && !s.Time.Equal(second.Time.Time) {
			t.Errorf("%v was recorded, read as %v", second.Time, s.Time)
		}
	}
	if ps := lb.Problems(); len(ps) != 1 || !strings.Contains(ps[0].String(), "2026-03-08 02:30:00") {
		t.Errorf("problems: %v", ps)
	}
}
