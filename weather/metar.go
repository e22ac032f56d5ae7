package weather

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"slipcase/weather/units"
)

// Report is an airport's routine weather report (METAR or SPECI) in the code of
// WMO-No. 306, FM 15, with the remarks of the US Federal Meteorological
// Handbook No. 1. Its pressure is an altimeter setting at the airport.
type Report struct {
	Station           string
	Day, Hour, Minute int // UTC
	Reading           Reading
	GustMPH           units.Number
	Unread            []string // groups that were not understood
	Raw               string   // the report on one line
}

// ParseMETAR reads one report as pasted: any case, line breaks, a closing "=".
// The groups that a racer has no use for (visibility, cloud, weather) are
// recognised and skipped; what is not recognised goes to Unread.
func ParseMETAR(text string) (Report, error) {
	groups := strings.Fields(strings.ToUpper(text))
	r := Report{Raw: strings.Join(groups, " ")}
	groups = strings.Fields(strings.TrimRight(r.Raw, "= "))
	rest, err := r.readHead(groups)
	if err != nil {
		return Report{}, err
	}
	body, remarks := rest, []string(nil)
	for i, g := range rest {
		if g == "RMK" {
			body, remarks = rest[:i], rest[i+1:]
			break
		}
	}
	r.readBody(body)
	r.readRemarks(remarks)
	return r, nil
}

// Notes says what was not understood.
func (r Report) Notes() []Note {
	if len(r.Unread) == 0 {
		return nil
	}
	return []Note{{Kind: Unread, Groups: strings.Join(r.Unread, " ")}}
}

// Time is the time of the report, whose text gives only the day of the month: the
// newest such moment that is not after latest, in UTC.
func (r Report) Time(latest time.Time) time.Time {
	latest = latest.UTC()
	for back := 0; ; back++ { // a month or two may lack the day
		t := time.Date(latest.Year(), latest.Month()-time.Month(back), r.Day, r.Hour, r.Minute, 0, 0, time.UTC)
		if t.Day() == r.Day && !t.After(latest) || back > 12 {
			return t
		}
	}
}

var (
	stationGroup = regexp.MustCompile(`^[A-Z][A-Z0-9]{3}$`)
	timeGroup    = regexp.MustCompile(`^(\d\d)(\d\d)(\d\d)Z$`)
	windGroup    = regexp.MustCompile(`^(\d{3}|VRB|///)P?(\d{2,3}|//)(?:GP?(\d{2,3}|//))?(KT|MPS|KMH)$`)
	tempGroup    = regexp.MustCompile(`^(M?\d\d|//|XX)/(M?\d\d|//|XX)?$`)
	altimeter    = regexp.MustCompile(`^([AQ])(\d{4})$`)
	tenthsGroup  = regexp.MustCompile(`^T([01]\d{3})([01]\d{3})?$`)
)

// readHead reads up to the time and returns the groups behind it.
func (r *Report) readHead(groups []string) ([]string, error) {
	if len(groups) == 0 {
		return nil, errors.New("the report is empty: want a METAR, such as KXYZ 021851Z 24006KT 10SM 31/17 A2992")
	}
	i := 0 // of the station; a date or a bulletin's heading may stand before it
	for i+1 < len(groups) && !(stationGroup.MatchString(groups[i]) && timeGroup.MatchString(groups[i+1])) {
		switch groups[i] {
		case "METAR", "SPECI", "COR":
		case "TAF":
			return nil, errors.New("this is a forecast (TAF): want an observation, a METAR or SPECI")
		default:
			r.Unread = append(r.Unread, groups[i])
		}
		i++
	}
	if i+1 >= len(groups) {
		return nil, fmt.Errorf(
			"%q is not a METAR: want station and time first, such as KXYZ 021851Z",
			excerpt(strings.Join(groups, " ")),
		)
	}
	r.Station = groups[i]
	m := timeGroup.FindStringSubmatch(groups[i+1])
	r.Day, r.Hour, r.Minute = number(m[1]), number(m[2]), number(m[3])
	if r.Day < 1 || r.Day > 31 || r.Hour > 23 || r.Minute > 59 {
		return nil, fmt.Errorf(
			"time %s of the report is impossible: want day, hour and minute of UTC, such as 021851Z",
			groups[i+1],
		)
	}
	rest := groups[i+2:]
	for _, g := range rest {
		if g == "NIL" {
			return nil, errors.New("the report is empty (NIL): want an earlier one")
		}
		if timeGroup.MatchString(g) {
			return nil, errors.New("more than one report: want one at a time")
		}
	}
	return rest, nil
}

// readBody reads the groups up to the remarks. What follows a trend word is a
// forecast and is left alone.
func (r *Report) readBody(groups []string) {
	var windSeen, tempSeen bool
	for i, g := range groups {
		if g == "BECMG" || g == "TEMPO" || g == "NOSIG" {
			return
		}
		if m := windGroup.FindStringSubmatch(g); m != nil && !windSeen {
			windSeen = true
			r.readWind(m)
			continue
		}
		if m := tempGroup.FindStringSubmatch(g); m != nil && !tempSeen {
			tempSeen = true
			r.Reading.TempF, r.Reading.DewPointF = wholeCelsius(m[1]), wholeCelsius(m[2])
			continue
		}
		if m := altimeter.FindStringSubmatch(g); m != nil {
			// Where both are sent, the first is the station's own.
			if !r.Reading.AltimeterInHg.Known() {
				r.Reading.AltimeterInHg = settingInHg(m)
			}
			continue
		}
		next := ""
		if i+1 < len(groups) {
			next = groups[i+1]
		}
		if !notNeeded(g, next) {
			r.Unread = append(r.Unread, g)
		}
	}
}

// readRemarks takes the temperatures in tenths, which are better than the body's.
func (r *Report) readRemarks(groups []string) {
	for _, g := range groups {
		m := tenthsGroup.FindStringSubmatch(g)
		switch {
		case m != nil:
			r.Reading.TempF = tenthsCelsius(m[1])
			if m[2] != "" {
				r.Reading.DewPointF = tenthsCelsius(m[2])
			}
		case !skippedRemark.MatchString(g):
			r.Unread = append(r.Unread, g)
		}
	}
	// Tenths for the temperature alone can put it below the body's rounded dew point.
	if t, d := r.Reading.TempF, r.Reading.DewPointF; t.Known() && d.Known() && d.Value() > t.Value() &&
		d.Value()-t.Value() < 2 {
		r.Reading.DewPointF = t
	}
}

func (r *Report) readWind(m []string) {
	kind := map[string]string{"KT": "kt", "MPS": "m/s", "KMH": "km/h"}[m[4]]
	r.Reading.WindMPH = speedMPH(m[2], kind)
	r.GustMPH = speedMPH(m[3], kind)
	calm := r.Reading.WindMPH.Known() && r.Reading.WindMPH.Value() == 0
	if deg, err := strconv.Atoi(m[1]); err == nil && !calm && deg <= 360 {
		r.Reading.WindFromDeg = units.Some(float64(deg))
	}
}

func speedMPH(digits, unit string) units.Number {
	mph, err := units.Speed.Parse(digits + unit)
	if digits == "" || err != nil {
		return units.Number{}
	}
	return units.Some(mph)
}

// settingInHg reads A2992 in hundredths of inHg, Q1013 in hPa.
func settingInHg(m []string) units.Number {
	v := float64(number(m[2]))
	if m[1] == "A" {
		return units.Some(v / 100)
	}
	return units.Some(v / hPaPerInHg)
}

func wholeCelsius(text string) units.Number {
	c, err := strconv.Atoi(strings.Replace(text, "M", "-", 1))
	if err != nil {
		return units.Number{}
	}
	return units.Some(float64(c)*1.8 + 32)
}

// tenthsCelsius reads a sign digit and tenths: 1012 is -1.2 °C.
func tenthsCelsius(text string) units.Number {
	c := float64(number(text[1:])) / 10
	if text[0] == '1' {
		c = -c
	}
	return units.Some(c*1.8 + 32)
}

// number reads digits that a pattern has already matched.
func number(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

func excerpt(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}
