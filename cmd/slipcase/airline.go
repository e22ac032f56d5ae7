package main

import (
	"fmt"
	"io"
	"regexp"
	"strings"

	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// Air as it is read off the instruments between rounds, on one line: temperature,
// humidity, pressure, each known by its unit or its place; or a report pasted whole.

// quickAir is a reading typed on a line.
type quickAir struct {
	reading weather.Reading
	report  weather.Report
	at      string // the moment as typed
	track   string
	line    int // of standard input, counted from 1
}

var (
	reportTime = regexp.MustCompile(`(?i)(^|\s)[0-9]{6}Z(\s|$)`)
	withUnit   = regexp.MustCompile(`^[-−+]?[0-9.,]+\s*([^0-9.,\s].*)$`)
	setting    = regexp.MustCompile(`^(?i:[AQ])([0-9]{2})\.?([0-9]{2})$`)
)

// quickAirs reads the bare arguments of air add, one reading or several; "-" stands
// for standard input.
func (a *app) quickAirs(args []string, tracks []logbook.Track) ([]quickAir, error) {
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
	parts := airParts(text, tracks)
	if len(parts) == 0 {
		return nil, usagef("no temperature: want one, such as 88F or 31C")
	}
	var entries []quickAir
	var bad []error
	for _, p := range parts {
		q, err := quickAirOf(p.text, tracks)
		if q.line = p.line; err != nil {
			bad = append(bad, usagef("line %d: %w", p.line, err))
			if len(parts) == 1 {
				return nil, usage(err)
			}
		}
		entries = append(entries, q)
	}
	if len(bad) > 0 {
		return nil, batchError(bad)
	}
	return entries, nil
}

// quickAirOf reads one line, or one report.
func quickAirOf(text string, tracks []logbook.Track) (quickAir, error) {
	var q quickAir
	var rest []string
	reported := reportTime.MatchString(text)
	for _, w := range strings.Fields(text) {
		switch t := trackIn(tracks, w); {
		case reported && dayAlone.MatchString(w):
			q.at = w
		case t != "" && !reported && q.track != "" && q.track != t:
			return q, fmt.Errorf("the track is told twice, as %q and as %q: want one", q.track, t)
		case t != "" && !reported:
			q.track = t
		default:
			rest = append(rest, w)
		}
	}
	if reported {
		var err error
		q.report, err = weather.ParseMETAR(strings.Join(rest, " "))
		q.reading = q.report.Reading
		return q, err
	}
	return q, q.read(rest)
}

func trackIn(tracks []logbook.Track, word string) string {
	for _, t := range tracks {
		if strings.EqualFold(t.ID, word) {
			return t.ID
		}
	}
	return ""
}

const quickWanted = "want temperature, humidity and station pressure, as 88F 42 28.94; slipcase air add --help has more"

// airKinds are how a unit tells what was read; a second temperature is the dew point.
var airKinds = []struct {
	kind units.Kind
	at   func(r *weather.Reading) []*units.Number
}{
	{units.Temperature, func(r *weather.Reading) []*units.Number { return []*units.Number{&r.TempF, &r.DewPointF} }},
	{units.Percent, func(r *weather.Reading) []*units.Number { return []*units.Number{&r.RHPct} }},
	{units.Pressure, func(r *weather.Reading) []*units.Number { return []*units.Number{&r.StationInHg} }},
	{units.Speed, func(r *weather.Reading) []*units.Number { return []*units.Number{&r.WindMPH} }},
	{units.Degrees, func(r *weather.Reading) []*units.Number { return []*units.Number{&r.WindFromDeg} }},
}

func (q *quickAir) read(words []string) error {
	for _, w := range words {
		if err := q.word(w); err != nil {
			return err
		}
	}
	return nil
}

func (q *quickAir) word(w string) error {
	r := &q.reading
	if strings.Contains(w, ":") || len(w) == len("2026-05-02") && strings.Count(w, "-") == 2 {
		q.at = strings.TrimSpace(q.at + " " + w)
		return nil
	}
	if m := setting.FindStringSubmatch(w); m != nil {
		kind, text := "inHg", m[1]+"."+m[2]
		if w[0] == 'Q' || w[0] == 'q' {
			kind, text = "hPa", m[1]+m[2]
		}
		return put(units.Pressure, text+kind, w, &r.AltimeterInHg)
	}
	if withUnit.MatchString(w) {
		for _, k := range airKinds {
			if _, err := k.kind.Parse(w); err == nil {
				return put(k.kind, w, w, k.at(r)...)
			}
		}
		return fmt.Errorf("%q is no reading: %s", clipped(w), quickWanted)
	}
	// A bare number is what comes next: temperature, humidity, pressure.
	switch {
	case !r.TempF.Known():
		return put(units.Temperature, w, w, &r.TempF)
	case !r.RHPct.Known() && !r.DewPointF.Known():
		return put(units.Percent, w, w, &r.RHPct)
	case !r.StationInHg.Known() && !r.AltimeterInHg.Known():
		if len(w) == 4 && strings.Trim(w, "0123456789") == "" && w[0] != '0' && w[0] != '1' {
			w = w[:2] + "." + w[2:] // 2894
		}
		return put(units.Pressure, w, w, &r.StationInHg)
	}
	return fmt.Errorf("%q is one number too many: %s", clipped(w), quickWanted)
}

// put reads a quantity into the first place that is free.
func put(kind units.Kind, text, word string, places ...*units.Number) error {
	v, err := kind.Parse(text)
	if err != nil {
		return fmt.Errorf("%w; %s", err, quickWanted)
	}
	for _, at := range places {
		if !at.Known() {
			*at = units.Some(v)
			return nil
		}
	}
	return fmt.Errorf("%q is the second %s on the line: %s", clipped(word), kind.Name, quickWanted)
}

func clipped(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}
