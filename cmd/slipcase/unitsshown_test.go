package main

import (
	"regexp"
	"strings"
	"testing"
)

// otherUnits are the units that the words of an answer must be free of, by the system
// that is asked for.
var otherUnits = map[string]*regexp.Regexp{
	"metric": regexp.MustCompile(
		`(^|[^\w-])(lb|hp|mph|inHg|psi|ft|feet|pounds|lb-ft)\b|[0-9](lb|hp|mph|inHg|psi|ft|in)\b|\bin F\b|[0-9] ?°?F\b`,
	),
	"us": regexp.MustCompile(
		`(^|[^\w-])(kg|kW|km/h|hPa|kPa|mm|cm|Nm)\b|[0-9](kg|kW|km/h|hPa|kPa|bar|mm|m)\b|[0-9] (m|bar)\b|[0-9] ?°?C\b`,
	),
}

// mayBe is what may stand in the words of an answer in any unit, and why.
var mayBe = []struct {
	why  string
	what *regexp.Regexp
}{
	{"a mark's name, and the last 66 ft to it", regexp.MustCompile(`\b(60|66|330|660|1000|1320)\s+ft\b`)},
	{"the heading of a column of marks", regexp.MustCompile(`(?m)(^ *|  |lengths )ft(  |$)`)},
	{"what was typed", regexp.MustCompile(`"[^"]*"`)},
	{"a command to type, its flags and their values", regexp.MustCompile(`slipcase [a-z].*|--[a-z0-9-]+( [0-9]\S*)?`)},
	{"how a quantity is typed", regexp.MustCompile(`(written like|such as|write|as) [0-9]\S*( or [0-9]\S*)?`)},
	{
		"the units that may be typed",
		regexp.MustCompile(`(unknown unit …,|or with its unit:|want one in|speed 0: want) .*`),
	},
	{"digits as they were typed, in the units of the log", regexp.MustCompile(`may be [0-9.]+ (mph|km/h) or a dial`)},
	{
		"a speed in the unit that was meant",
		regexp.MustCompile(`likely [0-9.]+ (mph|km/h) at …, not (mph|km/h), was meant`),
	},
	{"a figure in the unit that was meant", regexp.MustCompile(`likely [0-9.]+(lb|kg|hp|kW|PS) was meant`)},
	{"a change as it was typed", regexp.MustCompile(`power [+-][0-9/.]+[a-zA-Z]+|[0-9/.]+[a-z]+ (off|on)\b`)},
	{"a reason as it was recorded", regexp.MustCompile(`forced: .*`)},
	{"a dyno sheet's own units", regexp.MustCompile(`\.csv: row .*`)},
	{"density, which has no other unit in use", regexp.MustCompile(`kg/m3`)},
	{"a column of another program's file, in its own unit", regexp.MustCompile(`(?m)^(\w+ +)?[A-Z]{1,2}  .*`)},
	{"the unit of a racer's own column, which is never converted", regexp.MustCompile(`number( in |  +)\w+|\b(your own|columns?) .*\(\w+\).*|is in \w+, your column \w+ in \w+`)},
	{"metric in brackets beside", regexp.MustCompile(`\([0-9,.]+( to [0-9,.]+)? (m|C|kPa|hPa)\)`)},
}

// holdUnits holds the words of every answer to the units asked for.
func holdUnits(t *testing.T, all []shadow) {
	said := map[string]bool{}
	for _, s := range all {
		other := otherUnits[s.Form]
		if other == nil || s.asksHelp() {
			continue
		}
		words := s.Out + s.Err
		for _, may := range mayBe {
			words = may.what.ReplaceAllString(words, "…")
		}
		for line := range strings.Lines(words) {
			key := s.Form + digits.ReplaceAllString(line, "#")
			if other.MatchString(line) && !said[key] {
				said[key] = true
				t.Errorf(
					"%s: slipcase %s says in %s units: %s",
					s.Script,
					strings.Join(s.Args, " "),
					s.Form,
					strings.TrimSpace(line),
				)
			}
		}
	}
}

var digits = regexp.MustCompile(`[0-9][0-9.,]*`)
