package typed

import (
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// airPart is the text of one reading among many, and the line it begins on.
type airPart struct {
	text string
	line int
}

var (
	reportHead = pattern.Of(
		`(?i)(?:(?:^|\s)(?:METAR|SPECI)(?:\s+COR)?\s+|^|\s)[A-Z][A-Z0-9]{3}\s+[0-9]{6}Z(?:\s|$)`,
	)
	reportBegun = pattern.Of(`(?i)^\s*(?:METAR|SPECI)\b`)
)

// airParts takes a text apart into readings: a line each, or a METAR report each, which
// may go on over several lines, up to its "=" or to the next reading.
func airParts(bare units.System, text string, tracks []logbook.Track) (parts []airPart) {
	open := false // the last part is a report that may go on
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		heads := reportHead.FindAllStringIndex(line, -1)
		last := len(parts) - 1
		switch {
		case open && len(heads) > 0 && !reportHead.MatchString(parts[last].text),
			open && len(heads) == 0 && !reportBegun.MatchString(line) && !isReading(bare, line, tracks):
			parts[last].text += " " + line
		case len(heads) > 1:
			at := 0 // what stands before the first report goes with it
			for _, h := range heads[1:] {
				parts = append(parts, airPart{line[at:h[0]], i + 1})
				at = h[0]
			}
			parts = append(parts, airPart{line[at:], i + 1})
		default:
			parts = append(parts, airPart{line, i + 1})
		}
		open = (len(heads) > 0 || reportBegun.MatchString(line) || open && last == len(parts)-1) &&
			!strings.HasSuffix(line, "=")
	}
	return parts
}

// isReading reports that a line is a reading by itself: one with a temperature and
// its humidity, or a density altitude.
func isReading(bare units.System, line string, tracks []logbook.Track) bool {
	a := oneAir(bare, line, tracks)
	r := a.Reading
	return a.Err == nil && (r.DensityAltitudeFt.Known() || r.TempF.Known() && (r.RHPct.Known() || r.DewPointF.Known()))
}
