package main

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) airAdd() *cobra.Command {
	c := &cobra.Command{
		Use:   "add [READING | REPORT | -]",
		Short: "record a reading at a track",
		Long: `Records the air at a track. On one line, as the instruments say it: temperature,
humidity (or a dew point, with its F or C), station pressure; A2995 or Q1013 is
an altimeter setting, {6mph|10km/h} and 240deg the wind, 14:10 the time. {DA1855|DA565} is the
density altitude, where that alone is told. Or a METAR report pasted whole, line
breaks and all. Or by flags. "-" reads many from standard input, a line or a
report each, and records all of them or none.`,
		Example: `  slipcase air add {88F 42 28.94|31C 42 980}
  slipcase air add {88F 64F 28.94inHg 7mph|31C 18C 980hPa 3m/s} 240deg 14:10
  slipcase air add {DA1855|DA565}
  slipcase air add KXXX 021853Z 24006KT 10SM CLR 31/18 A2995
  slipcase air add --track saltgrass --temp {88F --rh 42 --station 28.94inHg|31C --rh 42 --station 980hPa}
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
	entries, err := a.typedAir(c, args, tracks)
	if err != nil {
		return err
	}
	if len(entries) > 1 {
		return a.addReadings(c, lb, entries)
	}
	rec, checked, err := a.readingOf(c, lb, entries[0], a.now(), nil)
	if err != nil {
		return err
	}
	if err := lb.AddReading(&rec); err != nil {
		return err
	}
	checked.Reading = rec
	now, err := lb.AirAt(rec.Track, rec.Time.Time)
	if err != nil {
		now = crew.Estimate{} // it is recorded; what it changes can be asked for again
	}
	return a.page.ReadingAdded(
		checked.Aired,
		now,
		len(args) > 0,
		a.page.ReadingRemarks(checked, entries[0].Report.Notes()),
	)
}

// typedAir reads the bare arguments of air add and calc, one reading or several at one of
// the tracks, "-" standing for standard input; without any the flags.
func (a *app) typedAir(c *cobra.Command, args []string, tracks []logbook.Track) ([]typed.Air, error) {
	if len(args) == 0 {
		r, report, _, err := reading(c)
		return []typed.Air{{Reading: r, Report: report}}, err
	}
	text := strings.Join(args, " ")
	if text == "-" {
		const most = 1 << 20
		data, err := io.ReadAll(io.LimitReader(a.in, most+1))
		if err != nil {
			return nil, fmt.Errorf("reading the air: %w", err)
		}
		if len(data) > most {
			return nil, usagef("more than a megabyte on standard input: want readings, a line each, or METAR reports")
		}
		text = string(data)
	}
	entries, err := typed.ParseAir(bareIn(c), text, tracks)
	if err != nil {
		return nil, usage(err)
	}
	if len(entries) == 1 {
		return entries, usage(entries[0].Err)
	}
	var bad []error
	for _, e := range entries {
		if e.Err != nil {
			bad = append(bad, ofLine(e.Line, e.Err))
		}
	}
	if len(bad) > 0 {
		return nil, batchError(bad)
	}
	return entries, nil
}

// addReadings records readings that came together, all of them or none.
func (a *app) addReadings(c *cobra.Command, lb *crew.Session, entries []typed.Air) error {
	var recs []*logbook.Reading
	var rs []logbook.Reading
	var notes []string
	var bad []error
	day := a.now()
	for _, e := range entries {
		rec, checked, err := a.readingOf(c, lb, e, day, rs)
		if err != nil {
			bad = append(bad, ofLine(e.Line, err))
			continue
		}
		for _, remark := range a.page.ReadingRemarks(checked, e.Report.Notes()) {
			notes = append(notes, fmt.Sprintf("line %d: %s", e.Line, remark))
		}
		// The next line may leave out the day.
		day = rec.Time.Time
		recs, rs = append(recs, &rec), append(rs, rec)
	}
	if len(bad) > 0 {
		return batchError(bad)
	}
	if err := lb.AddReading(recs...); err != nil {
		return err
	}
	for i, r := range recs {
		rs[i] = *r
	}
	list, err := lb.Air(rs...)
	if err != nil {
		return err
	}
	return a.page.ReadingsAdded(list, notes)
}

// readingOf makes a record of what was read, checked; day is that of a time typed
// without one, beside are the readings to be recorded with it.
func (a *app) readingOf(
	c *cobra.Command, lb *crew.Session, e typed.Air, day time.Time, beside []logbook.Reading,
) (rec logbook.Reading, checked crew.Checked, err error) {
	if err := apply(c, typed.ReadingFields, &e.Reading); err != nil {
		return rec, checked, err
	}
	var track logbook.Track
	name, _ := c.Flags().GetString("track")
	switch name = cmp.Or(name, e.Track); name {
	case "":
		track, err = a.onlyTrack(lb)
	default:
		track, err = lb.TrackNamed(name)
	}
	if err != nil {
		return rec, checked, err
	}
	at, err := a.readAt(c, e, day, a.zone(track))
	if err != nil {
		return rec, checked, err
	}
	rec = logbook.Reading{Time: logbook.Time{Time: at}, Track: track.ID, Reading: e.Reading, Raw: e.Report.Raw}
	rec.Source, _ = c.Flags().GetString("source")
	rec.Source = cmp.Or(rec.Source, e.Report.Station)
	checked, err = a.checkReading(c, lb, &rec, track, beside...)
	return rec, checked, err
}

// checkReading refuses an impossible reading, and a doubtful one unless forced. beside
// are readings that are to be recorded with it.
func (a *app) checkReading(
	c *cobra.Command, lb *crew.Session, r *logbook.Reading, track logbook.Track, beside ...logbook.Reading,
) (crew.Checked, error) {
	checked, err := lb.CheckReading(*r, track, beside...)
	switch {
	case err != nil:
		return checked, err
	case checked.Twin:
		return checked, usagef("%s is the time of another line: want each line with its own, as 14:10 or 2026-05-02 14:10",
			r.Time.Format("2006-01-02 15:04"))
	}
	return checked, forced(c, &r.Entry, a.page.ReadingDoubts(checked))
}

// onlyTrack is the track of a reading that names none.
func (a *app) onlyTrack(lb *crew.Session) (logbook.Track, error) {
	if name := lb.InUse().Track; name != "" {
		return lb.TrackNamed(name)
	}
	ts, err := lb.Tracks()
	if err != nil || len(ts) == 1 {
		return append(ts, logbook.Track{})[0], err
	}
	if len(ts) == 0 {
		return logbook.Track{}, usagef("a reading belongs to a track, and none is in the logbook yet: " +
			"slipcase track add saltgrass --elevation {812ft|247m}")
	}
	names := make([]string, len(ts))
	for i, t := range ts {
		names[i] = t.ID
	}
	return logbook.Track{}, usagef("--track is missing, a reading belongs to a track: want one of %s",
		strings.Join(names, ", "))
}

// readAt is when the air was read: as typed, else as the report says, else now. A
// report knows its own day of the month and clock; a day typed says the month.
func (a *app) readAt(c *cobra.Command, e typed.Air, day time.Time, zone *time.Location) (time.Time, error) {
	flag, _ := c.Flags().GetString("at")
	text := cmp.Or(flag, e.At)
	reported := e.Report.Raw != ""
	switch {
	case c.Flags().Changed("at") && !typed.DayAlone(text):
		return a.at(c, "at", zone)
	case text == "" && reported:
		return e.Report.Time(a.now().Add(crew.ReportAhead)).In(zone), nil
	case text == "":
		return a.now().In(zone).Truncate(time.Second), nil
	case !typed.DayAlone(text):
		at, err := a.moment(text, day, zone)
		return at, usage(err)
	case !reported:
		return time.Time{}, usage(typed.NoClock(text, "14:10"))
	}
	date, err := a.moment(text, day, zone)
	if err != nil {
		return date, usage(err)
	}
	at := e.Report.Time(date.AddDate(0, 0, 1).Add(-time.Second)).In(zone)
	if at.Before(date) {
		return at, usagef("the report is of %02d%02d%02dZ: that is not on %s",
			e.Report.Day, e.Report.Hour, e.Report.Minute, date.Format(time.DateOnly))
	}
	return at, nil
}
