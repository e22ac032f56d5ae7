package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

func (a *app) airAdd() *cobra.Command {
	c := &cobra.Command{
		Use:   "add [READING | REPORT | -]",
		Short: "record a reading at a track",
		Long: `Records the air at a track. On one line, as the instruments say it: temperature,
humidity (or a dew point, with its F or C), station pressure; A2995 or Q1013 is
an altimeter setting, 6mph and 240deg the wind, 14:10 the time. Or a METAR
report pasted whole, line breaks and all. Or by flags. "-" reads many from
standard input, a line or a report each, and records all of them or none.`,
		Example: `  slipcase air add 88F 42 28.94
  slipcase air add 31C 18C 980hPa 3m/s 240deg 14:10
  slipcase air add KXXX 021853Z 24006KT 10SM CLR 31/18 A2995
  slipcase air add --track saltgrass --temp 88F --rh 42 --station 28.94inHg
  slipcase air add --track saltgrass - < readings.txt`,
		Args: cobra.ArbitraryArgs,
		RunE: a.writes(a.addAir),
	}
	registerReading(c)
	c.Flags().String("track", "", "the track")
	c.Flags().String("at", "", "when it was read, as \"2026-05-02 14:10\" or 14:10; now when left out")
	c.Flags().String("source", "", "the instrument or station")
	c.Flags().Bool("force", false, "record what looks wrong as it is")
	return brief(c)
}

func (a *app) addAir(c *cobra.Command, args []string, lb *crew.Session) error {
	tracks, err := lb.Tracks()
	if err != nil {
		return err
	}
	var entries []quickAir
	if len(args) == 0 {
		r, report, _, err := reading(c)
		if err != nil {
			return err
		}
		entries = []quickAir{{reading: r, report: report}}
	} else if entries, err = a.quickAirs(args, tracks); err != nil {
		return err
	}
	if len(entries) > 1 {
		return a.addReadings(c, lb, entries)
	}
	rec, track, remarks, err := a.readingOf(c, lb, entries[0], a.now(), nil)
	if err != nil {
		return err
	}
	if err := lb.AddReading(&rec); err != nil {
		return err
	}
	is, _, err := among(lb, rec, nil)
	if err != nil {
		return err
	}
	return a.answer(rec, a.readingTable([]logbook.Reading{is}, track), func(w io.Writer) {
		air, _, _ := is.Air(track.ElevationFt)
		fmt.Fprintf(w, "recorded  air at %s, %s: density altitude %s\n", track.Name(), when(rec.Time.Time), a.show(units.Length, units.Some(air.DensityAltitudeFt())))
		a.readBack(w, args, air)
		a.changeText(w, lb, rec)
		remarksText(w, append(remarks, page.AirNotes(entries[0].report.Notes(), a.units)...))
	})
}

// addReadings records readings that came together, all of them or none.
func (a *app) addReadings(c *cobra.Command, lb *crew.Session, entries []quickAir) error {
	var recs []*logbook.Reading
	var tracks []logbook.Track
	var notes []string
	var bad []error
	day := a.now()
	for _, q := range entries {
		rec, track, remarks, err := a.readingOf(c, lb, q, day, recs)
		if err != nil {
			bad = append(bad, &failure{max(statusOf(err), exitUsage), fmt.Errorf("line %d: %w", q.line, err)})
			continue
		}
		for _, remark := range append(remarks, page.AirNotes(q.report.Notes(), a.units)...) {
			notes = append(notes, fmt.Sprintf("line %d: %s", q.line, remark))
		}
		// The next line may leave out the day.
		day = rec.Time.Time
		recs, tracks = append(recs, &rec), append(tracks, track)
	}
	if len(bad) > 0 {
		return batchError(bad)
	}
	if err := lb.AddReading(recs...); err != nil {
		return err
	}
	rs := make([]logbook.Reading, len(recs))
	for i, r := range recs {
		rs[i] = *r
	}
	a.aside(notes)
	t := a.readingTable(rs, tracks...)
	return a.answer(rs, t, func(w io.Writer) {
		fmt.Fprintf(w, "recorded  %d readings\n\n", len(rs))
		t.Render(w, table.Text, a.width())
		remarksText(w, notes)
	})
}

// readingOf makes a record of what was read, checked; day is that of a time typed
// without one, beside are the readings to be recorded with it.
func (a *app) readingOf(c *cobra.Command, lb *crew.Session, q quickAir, day time.Time, beside []*logbook.Reading) (rec logbook.Reading, track logbook.Track, remarks []string, err error) {
	if err := apply(c, readingFields, &q.reading); err != nil {
		return rec, track, nil, err
	}
	name, _ := c.Flags().GetString("track")
	switch name = cmp.Or(name, q.track); name {
	case "":
		track, err = a.onlyTrack(lb)
	default:
		track, err = trackNamed(lb, name)
	}
	if err != nil {
		return rec, track, nil, err
	}
	at, err := a.readAt(c, q, day, a.zone(track))
	if err != nil {
		return rec, track, nil, err
	}
	rec = logbook.Reading{Time: logbook.Time{Time: at}, Track: track.ID, Reading: q.reading, Raw: q.report.Raw}
	rec.Source, _ = c.Flags().GetString("source")
	rec.Source = cmp.Or(rec.Source, q.report.Station)
	remarks, err = a.checkReading(c, lb, &rec, track, beside...)
	return rec, track, remarks, err
}

// among is a reading with the pressure that those beside it and those of the log at its
// track give it, and all of those.
func among(lb *crew.Session, r logbook.Reading, beside []*logbook.Reading) (is logbook.Reading, others []logbook.Reading, err error) {
	all, err := lb.Readings(r.Track)
	if err != nil {
		return r, nil, err
	}
	all = slices.DeleteFunc(all, func(o logbook.Reading) bool { return r.ID != "" && o.ID == r.ID })
	for _, o := range beside {
		if o.Track == r.Track {
			all = append(all, *o)
		}
	}
	all = logbook.WithPressure(append(all, r))
	return all[len(all)-1], all[:len(all)-1], nil
}

// onlyTrack is the track of a reading that names none.
func (a *app) onlyTrack(lb *crew.Session) (logbook.Track, error) {
	ts, err := lb.Tracks()
	if err != nil || len(ts) == 1 {
		return append(ts, logbook.Track{})[0], err
	}
	if len(ts) == 0 {
		return logbook.Track{}, usagef("a reading belongs to a track, and none is in the logbook yet: slipcase track add saltgrass --elevation 812ft")
	}
	names := make([]string, len(ts))
	for i, t := range ts {
		names[i] = t.ID
	}
	return logbook.Track{}, usagef("--track is missing, a reading belongs to a track: want one of %s", strings.Join(names, ", "))
}

// ahead is how far the time of a report may lie before us: it is that of the full
// hour, and sent some minutes earlier.
const ahead = 15 * time.Minute

// readAt is when the air was read: as typed, else as the report says, else now. A
// report knows its own day of the month and clock; a day typed says the month.
func (a *app) readAt(c *cobra.Command, q quickAir, day time.Time, zone *time.Location) (time.Time, error) {
	flag, _ := c.Flags().GetString("at")
	text := cmp.Or(flag, q.at)
	reported := q.report.Raw != ""
	switch {
	case c.Flags().Changed("at") && !dayAlone.MatchString(text):
		return a.at(c, "at", zone)
	case text == "" && reported:
		return q.report.Time(a.now().Add(ahead)).In(zone), nil
	case text == "":
		return a.now().In(zone).Truncate(time.Second), nil
	case !dayAlone.MatchString(text):
		at, err := parseTime(text, day, zone)
		return at, usage(err)
	case !reported:
		return time.Time{}, noClock(text, "14:10")
	}
	date, err := parseTime(text, day, zone)
	if err != nil {
		return date, usage(err)
	}
	at := q.report.Time(date.AddDate(0, 0, 1).Add(-time.Second)).In(zone)
	if at.Before(date) {
		return at, usagef("the report is of %02d%02d%02dZ: that is not on %s", q.report.Day, q.report.Hour, q.report.Minute, date.Format(time.DateOnly))
	}
	return at, nil
}

// readBack shows how a line was understood.
func (a *app) readBack(w io.Writer, args []string, air weather.Air) {
	if len(args) > 0 {
		fmt.Fprintf(w, "          %s, RH %.0f %%, station pressure %s\n", a.show(units.Temperature, units.Some(air.TempF)), air.RHPct(), a.show(units.Pressure, units.Some(air.StationInHg)))
	}
}

// changeText says how the air changes by the hour, from this reading and those in
// the two hours before it.
func (a *app) changeText(w io.Writer, lb *crew.Session, rec logbook.Reading) {
	j, err := lb.Joiner("")
	if err != nil {
		return // it is recorded; what it changes can be asked for again
	}
	e := j.AirAhead(rec.Track, rec.Time.Time, rec.Time.Time)
	if rise := page.AirRise(e, a.units); rise != "" {
		fmt.Fprintf(w, "          %s\n", rise)
	}
}

// checkReading refuses an impossible reading, and a doubtful one unless forced. beside
// are readings that are to be recorded with it.
func (a *app) checkReading(c *cobra.Command, lb *crew.Session, r *logbook.Reading, track logbook.Track, beside ...*logbook.Reading) ([]string, error) {
	if err := r.Check(track.ElevationFt); err != nil {
		return nil, usage(err)
	}
	for _, other := range beside {
		if other.Track == r.Track && other.Time.Equal(r.Time.Time) {
			return nil, usagef("%s is the time of another line: want each line with its own, as 14:10 or 2026-05-02 14:10", r.Time.Format("2006-01-02 15:04"))
		}
	}
	is, others, err := among(lb, *r, beside)
	if err != nil {
		return nil, err
	}
	doubts := page.AirDoubts(is.Doubts(track.ElevationFt), a.units)
	latest := a.now()
	if r.Raw != "" {
		latest = latest.Add(ahead)
	}
	if r.Time.After(latest) {
		doubts = append(doubts, fmt.Sprintf("its time %s is in the future", r.Time.Format("2006-01-02 15:04")))
	}
	if len(doubts) == 0 { // else a jump is no news
		doubts = page.AirDoubts(jumpsOf(is, others, track), a.units)
	}
	if err := forced(c, &r.Entry, doubts); err != nil {
		return nil, err
	}
	_, notes, err := is.Air(track.ElevationFt)
	remarks := page.AirNotes(notes, a.units)
	if is.StationInHg != r.StationInHg {
		remarks = append(remarks, fmt.Sprintf("no pressure was given: that of the nearest reading is taken, %s inHg", is.StationInHg))
	}
	return remarks, usage(err)
}

// jumpsOf holds a reading against the nearest ones before and after it at its track.
func jumpsOf(r logbook.Reading, all []logbook.Reading, track logbook.Track) (doubts []weather.Doubt) {
	var before, after *logbook.Reading
	for i, other := range all {
		apart := other.Time.Sub(r.Time.Time)
		switch {
		case apart.Abs() > weather.JumpWithin:
		case apart <= 0 && (before == nil || before.Time.Before(other.Time.Time)):
			before = &all[i]
		case apart > 0 && (after == nil || other.Time.Before(after.Time.Time)):
			after = &all[i]
		}
	}
	for _, near := range []*logbook.Reading{before, after} {
		if near != nil {
			at := weather.Timed{ID: near.ID, Time: near.Time.In(r.Time.Location()), Reading: near.Reading}
			doubts = append(doubts, r.Jumps(at, track.ElevationFt)...)
		}
	}
	return doubts
}
