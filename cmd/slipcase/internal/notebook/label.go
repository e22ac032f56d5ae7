package notebook

import (
	"slices"
	"strings"
	"sync"

	"slipcase/cmd/slipcase/internal/pattern"
)

// label is what a heading says.
type label struct {
	role      Role   // "" where it says nothing that is known
	unit      string // "" where it says none
	corrected bool   // of another air than that of the day
	opponent  bool
	derived   bool // worked out of other figures
}

type rewriting struct {
	from *pattern.Pattern
	to   string
}

// plainer writes a heading's short forms out, as tokens apart by blanks. It is made when it is
// first asked for: most commands never read a heading.
var plainer = sync.OnceValue(func() (all []rewriting) {
	for _, r := range [][2]string{
		{`[‘’′´]`, "'"},
		{`\br\s*/\s*t\b|\br\.\s*t\.?`, " rt "},
		{`\bw\s*/\s*l\b|\bwin\s*/\s*loss?\b|\bw\s*-\s*l\b`, " wl "},
		{`\be\.\s*t\.?|\be/t\b`, " et "},
		{`\bd\.\s*a\.?|\bd/a\b`, " da "},
		{`\bm\.\s*p\.\s*h\.?`, " mph "},
		{`\bo\s*/\s*u\b|\+\s*/\s*-|±`, " over "},
		{`\bmi\s*/\s*h\b`, " mph "},
		{`km\s*/\s*h|\bkmh\b|\bkph\b`, " km/h "},
		{`in\.?\s*hg`, " inhg "},
		{`°\s*([cf])\b`, " deg$1 "},
		{`\b(1/8|8th|eighth|half[ -]?track)(\s*-?\s*(mile|mi|m)\b)?`, " m660 "},
		{`(^|[^0-9])1/8`, "$1 m660 "},
		{`\b(1/4|4th|quarter)(\s*-?\s*(mile|mi|m)\b)?`, " m1320 "},
		{`⅛`, " m660 "},
		{`¼`, " m1320 "},
		{`\bsixty\b`, " m60 "},
		{`\b1[,.]?320\s*('|f\b|ft\b|feet\b|foot\b|pi\b|pies\b|piedi\b|fuss\b|fot\b)?`, " m1320 "},
		{`\b1[,.]?000\s*('|f\b|ft\b|feet\b|foot\b|pi\b|pies\b|piedi\b|fuss\b|fot\b)?`, " m1000 "},
		{`\b660\s*('|f\b|ft\b|feet\b|foot\b|pi\b|pies\b|piedi\b|fuss\b|fot\b)?`, " m660 "},
		{`\b330\s*('|f\b|ft\b|feet\b|foot\b|pi\b|pies\b|piedi\b|fuss\b|fot\b)?`, " m330 "},
		{`\b60\s*('|f\b|ft\b|feet\b|foot\b|pi\b|pies\b|piedi\b|fuss\b|fot\b|s\b)?`, " m60 "},
		{`\b40[02]\s*-?\s*(m|meters?|metres?)\b`, " m1320 "},
		{`\b30[05]\s*-?\s*(m|meters?|metres?)\b`, " m1000 "},
		{`\b20[01]\s*-?\s*(m|meters?|metres?)\b`, " m660 "},
		{`\b10[01]\s*-?\s*(m|meters?|metres?)\b`, " m330 "},
		{`\b(18|18\.3|20)\s*-?\s*(m|meters?|metres?)\b`, " m60 "},
		{`_s\b`, " "},
		{`[^a-z0-9%/#]+`, " "},
	} {
		all = append(all, rewriting{pattern.Of(r[0]), r[1]})
	}
	return all
})

func tokens(text string) []string {
	text = lettersThenDigits.ReplaceAllString(plainLetters(text), "$1 $2")
	for _, r := range plainer() {
		text = r.from.ReplaceAllString(text, r.to)
	}
	return inEnglish(strings.Fields(text))
}

// lettersThenDigits is where a word ends and a mark begins, as in ft60.
var lettersThenDigits = pattern.Of(`([a-z])([0-9])`)

// unitWords are units that stand in headings, as units.Kind reads them.
var unitWords = map[string]string{
	"mph": "mph", "km/h": "km/h", "degc": "C", "degf": "F", "c": "C", "f": "F", "celsius": "C", "fahrenheit": "F",
	"inhg": "inHg", "hpa": "hPa", "mb": "hPa", "mbar": "hPa", "millibar": "hPa", "millibars": "hPa", "kpa": "kPa", "mmhg": "mmHg",
	"psi": "psi", "bar": "bar", "kg": "kg", "lb": "lb", "lbs": "lb", "hp": "hp", "whp": "hp", "kw": "kW", "ps": "PS", "m": "m", "ft": "ft",
	"feet": "ft", "sec": "s", "secs": "s", "seconds": "s", "s": "s", "meters": "m", "metres": "m",
}

// readLabel tells what a heading says a column is.
func readLabel(text string) (l label) {
	text = strings.TrimSpace(text)
	if r, ok := exactRole(text); ok {
		return label{role: r, unit: unitOfName(r)}
	}
	if text == whyLeft {
		return label{role: Skip}
	}
	words := tokens(text)
	has := func(any ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(any, w) })
	}
	for _, w := range words {
		if u, is := unitWords[w]; is {
			l.unit = u
		}
	}
	l.opponent = has(
		"opp",
		"opponent",
		"opponents",
		"other",
		"his",
		"him",
		"their",
		"them",
		"theirs",
		"rival",
		"competitor",
		"far",
	)
	l.corrected = has(
		"corr",
		"corrected",
		"correction",
		"std",
		"standard",
		"sae",
		"adj",
		"adjusted",
		"sealevel",
		"normalized",
		"normalised",
		"sl",
	)
	l.derived = has("over", "under", "diff", "difference", "delta", "margin", "mov", "avg", "average", "package", "pkg",
		"gap", "back", "split", "interval", "gain", "improvement", "predicted", "forecast", "expected", "target", "goal")
	var marks []string
	for _, w := range words {
		if strings.HasPrefix(w, "m") && strings.Trim(w[1:], "0123456789") == "" && len(w) > 2 {
			marks = append(marks, w[1:])
		}
	}
	l.role = roleSaid(words, marks, has, l)
	return l
}

// unitOfName is the unit at the end of a column's word.
func unitOfName(r Role) string {
	if strings.HasPrefix(string(r), "mph_") {
		return "mph"
	}
	return unitWords[string(r)[strings.LastIndexByte(string(r), '_')+1:]]
}

// exactRole is the role whose word a heading is, with its unit.
func exactRole(text string) (Role, bool) {
	i := slices.IndexFunc(fields, func(f roleField) bool {
		return string(f.role) == text && (strings.Contains(text, "_") || f.role == ownCells)
	})
	if i < 0 {
		return "", false
	}
	return fields[i].role, true
}

func roleSaid(words, marks []string, has func(...string) bool, l label) Role {
	speed := has("mph", "km/h", "speed", "spd", "trap", "velocity", "vmax")
	switch {
	case len(words) == 0:
		return ""
	case l.derived:
		return Note
	case has("note", "notes", "remark", "remarks", "comment", "comments", "memo"):
		return "notes"
	case has("wind"):
		if has("dir", "direction", "from", "deg", "bearing") {
			return "wind_from_deg"
		}
		return "wind_mph"
	case has("reaction", "react", "rt", "light", "lite", "lights"):
		return ofLane(l, "reaction_s", "opponent_reaction_s")
	case len(marks) > 1 && !slices.ContainsFunc(marks, func(m string) bool { return m != marks[0] }), len(marks) == 1:
		return roleAtMark(marks[0], speed, l, has)
	case len(marks) > 1:
		return Note // a piece of a run
	case has("dial", "dialin", "dialed", "dialled", "di"):
		return ofLane(l, "dial_s", "opponent_dial_s")
	case has("index"):
		return "index_s"
	case has("et", "elapsed"):
		return ofLane(l, anyET, "opponent_et_s")
	}
	if r := airSaid(has, speed); r != "" {
		return r
	}
	switch {
	case speed:
		return ofLane(l, anyMPH, "opponent_mph")
	case has("time") && has("day"):
		return Clock
	case has("date", "day", "when"):
		return Date
	case has("clock", "tod", "hour", "hr", "hrs"):
		return Clock
	case has("time", "times"):
		return anyTime
	}
	return wordSaid(words, has, l)
}

func ofLane(l label, own, other Role) Role {
	if l.opponent {
		return other
	}
	return own
}

func roleAtMark(mark string, speed bool, l label, has func(...string) bool) Role {
	r := Role("et_" + mark + "_s")
	switch {
	case has("dial", "dialin"):
		return ofLane(l, "dial_s", "opponent_dial_s")
	case has("index"):
		return "index_s"
	case l.opponent:
		return Note // which of his is the finish, the racer says
	case speed && !has("et"):
		if m, timed := speedMarks[r]; timed {
			return m
		}
		return Note
	case slices.Contains(etMarks, r):
		return r
	}
	return ""
}

// airSaid reads the headings of instruments.
func airSaid(has func(...string) bool, speed bool) Role {
	pressure := has(
		"pressure",
		"press",
		"baro",
		"barometer",
		"barometric",
		"bp",
		"inhg",
		"hpa",
		"mb",
		"mbar",
		"kpa",
		"mmhg",
	)
	temp := has("temp", "temperature", "temps", "degf", "degc")
	switch {
	case has("tire", "tires", "tyre", "tyres", "slick", "slicks") && (pressure || has("psi", "bar", "air", "tp")):
		return "tyre_psi"
	case has("da", "density"):
		return "density_altitude_ft"
	case has("dew", "dewpoint", "dewpt"):
		return "dew_point_f"
	case has("wet", "wetbulb"):
		return "wet_bulb_f"
	case has("humidity", "hum", "rh", "humid"):
		return "rh_pct"
	case has("altimeter", "altim", "qnh", "kollsman"):
		return "altimeter_inhg"
	case pressure && has("sea", "slp") || has("slp"):
		return "sea_level_inhg"
	case pressure && has("station", "absolute", "abs", "actual", "uncorrected") || has("station"):
		return "station_inhg"
	case pressure && has("oil", "fuel", "boost", "manifold"):
		return Note
	case pressure:
		return anyPress
	case has("water", "coolant") && !has("grains", "vapor", "vapour", "content"):
		return "water_temp_f"
	case temp && has("oil", "trans", "egt", "intake", "iat", "plenum"):
		return Note
	case temp && has("engine", "motor", "head"):
		return "water_temp_f"
	case temp && has("track", "surface", "lane"):
		return "track_temp_f"
	case temp || has("ambient", "oat"):
		return "temp_f"
	}
	return ""
}

// wordSaid reads the headings of all else.
func wordSaid(words []string, has func(...string) bool, l label) Role {
	counted := has("#", "no", "num", "number", "nr")
	switch {
	case has("wl", "result", "results", "win", "won", "outcome"):
		return "result"
	case has("round", "rnd", "rd"):
		return "round"
	case has("lane", "side", "ln"):
		return "lane"
	case has("weight", "wt"):
		return WeightLb
	case has("hp", "horsepower", "power", "whp"):
		return PowerHP
	case has("launch") && !has("psi", "boost"):
		return "launch_rpm"
	case has("step"):
		return "two_step_rpm"
	case has("delay") || has("box"):
		return "delay_s"
	case has("driver", "rider", "pilot"):
		return "driver"
	case has("class", "category", "cat"):
		return "class_name"
	case has("car", "vehicle", "veh", "bike", "motorcycle", "machine", "ride", "rig") && !counted && !l.opponent:
		return Vehicle
	case has("track", "trk", "strip", "venue", "location", "place", "where", "dragstrip"):
		return Track
	case has("meet", "event", "race") && !counted:
		return "meet"
	case l.opponent && !counted && len(words) <= 2:
		return "opponent"
	}
	return ""
}

// whyLeft is the heading of the reason in the file of rows that were left out.
const whyLeft = "why left out"
