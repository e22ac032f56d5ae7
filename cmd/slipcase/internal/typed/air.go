package typed

import (
	"fmt"
	"strings"
	"unicode"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// Air is a reading as it is read off the instruments between rounds, on one line:
// temperature, humidity, pressure, each known by its unit or its place; or a report
// pasted whole.
type Air struct {
	Reading weather.Reading
	Report  weather.Report // its Raw is empty where none was pasted
	At      string         // the moment as typed, "" when none was
	Track   string         // the id, "" when none is named
	Line    int            // of the text, counted from 1
	Err     error          // why it cannot be read

	bare units.System // what a number without unit means
}

var (
	reportTime = pattern.Of(`(?i)(^|\s)[0-9]{6}Z(\s|$)`)
	withUnit   = pattern.Of(`^[-−+]?[0-9.,]+\s*([^0-9.,\s].*)$`)
	altitude   = pattern.Of(`^(?i:DA)([-−+]?[0-9].*)$`)
	loneDA     = pattern.Of(`(?i)(^|\s)DA\s+([-−+]?[0-9])`)
	setting    = pattern.Of(`^(?i:[AQ])([0-9]{2})\.?([0-9]{2})$`)
)

// ParseAir reads the air of a text, one reading or many, at one of the tracks; bare is
// what a number without unit means.
func ParseAir(bare units.System, text string, tracks []logbook.Track) ([]Air, error) {
	parts := airParts(bare, text, tracks)
	if len(parts) == 0 {
		return nil, units.Errorf("no temperature: want one, such as {88F|31C}")
	}
	airs := make([]Air, len(parts))
	for i, p := range parts {
		airs[i] = oneAir(bare, p.text, tracks)
		airs[i].Line = p.line
	}
	return airs, nil
}

// oneAir reads one line, or one report.
func oneAir(bare units.System, text string, tracks []logbook.Track) (a Air) {
	a.bare = bare
	var rest []string
	reported := reportTime.MatchString(text)
	for _, w := range strings.Fields(loneDA.ReplaceAllString(text, "${1}DA$2")) {
		switch t := trackIn(tracks, w); {
		case reported && DayAlone(w):
			a.At = w
		case t != "" && !reported && a.Track != "" && a.Track != t:
			a.Err = fmt.Errorf("the track is told twice, as %q and as %q: want one", a.Track, t)
			return a
		case t != "" && !reported:
			a.Track = t
		default:
			rest = append(rest, w)
		}
	}
	if reported {
		a.Report, a.Err = weather.ParseMETAR(strings.Join(rest, " "))
		a.Reading = a.Report.Reading
		return a
	}
	for _, w := range rest {
		if a.Err = a.word(w); a.Err != nil {
			break
		}
	}
	return a
}

func trackIn(tracks []logbook.Track, word string) string {
	for _, t := range tracks {
		if strings.EqualFold(t.ID, word) {
			return t.ID
		}
	}
	return ""
}

var airWanted = units.Errorf("want temperature, humidity and station pressure, as {88F 42 28.94|31C 42 980}; slipcase air add --help has more")

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

// word takes a word of a line.
func (a *Air) word(w string) error {
	r := &a.Reading
	if strings.Contains(w, ":") || len(w) == len("2026-05-02") && strings.Count(w, "-") == 2 {
		a.At = strings.TrimSpace(a.At + " " + w)
		return nil
	}
	if m := setting.FindStringSubmatch(w); m != nil {
		kind, text := "inHg", m[1]+"."+m[2]
		if w[0] == 'Q' || w[0] == 'q' {
			kind, text = "hPa", m[1]+m[2]
		}
		return a.put(units.Pressure, text+kind, w, &r.AltimeterInHg)
	}
	if m := altitude.FindStringSubmatch(w); m != nil {
		return a.put(units.Length, m[1], w, &r.DensityAltitudeFt)
	}
	if withUnit.MatchString(w) {
		for _, k := range airKinds {
			if _, err := k.kind.Parse(w); err == nil {
				return a.put(k.kind, w, w, k.at(r)...)
			}
		}
		return units.Errorf("%q is no reading: %w", Shorten(w), airWanted)
	}
	// A bare number is what comes next: temperature, humidity, pressure; behind a density
	// altitude the pressure alone.
	switch alone := r.DensityAltitudeFt.Known(); {
	case !r.TempF.Known() && !alone:
		return a.put(units.Temperature, w, w, &r.TempF)
	case !r.RHPct.Known() && !r.DewPointF.Known() && !alone:
		return a.put(units.Percent, w, w, &r.RHPct)
	case !r.StationInHg.Known() && !r.AltimeterInHg.Known():
		return a.put(units.Pressure, a.pressure(w), w, &r.StationInHg)
	case strings.ContainsFunc(w, unicode.IsLetter):
		return units.Errorf("%q is no reading: %w", Shorten(w), airWanted)
	}
	return units.Errorf("%q is one number too many: %w", Shorten(w), airWanted)
}

// pressure puts the point into a bare pressure's digits: 2894 is 28.94 inHg, and in
// a metric log 9805 is 980.5 hPa, 10132 is 1013.2.
func (a *Air) pressure(w string) string {
	switch {
	case strings.Trim(w, "0123456789") != "":
	case a.bare == units.US && len(w) == 4 && w[0] != '0' && w[0] != '1':
		return w[:2] + "." + w[2:]
	case a.bare == units.Metric && (len(w) == 4 && w[0] != '0' && w[0] != '1' || len(w) == 5):
		return w[:len(w)-1] + "." + w[len(w)-1:]
	}
	return w
}

// put reads a quantity into the first place that is free.
func (a *Air) put(kind units.Kind, text, word string, places ...*units.Number) error {
	v, err := kind.ParseIn(a.bare, text)
	if err != nil {
		return units.Errorf("%w; %w", err, airWanted)
	}
	for _, at := range places {
		if !at.Known() {
			*at = units.Some(v)
			return nil
		}
	}
	return units.Errorf("%q is the second %s on the line: %w", Shorten(word), kind.Name, airWanted)
}
