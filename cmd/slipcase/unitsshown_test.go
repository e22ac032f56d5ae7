package main

import (
	"regexp"
	"strings"
	"testing"
)

// otherUnits are the units that the words of an answer must be free of, by the system
// that is asked for.
var otherUnits = map[string]*regexp.Regexp{
	"metric": regexp.MustCompile(`(^|[^\w-])(lb|lbs|hp|mph|inHg|psi|ft|feet|pounds|lb-ft)\b|[0-9](lb|hp|mph|inHg|psi|ft|in)\b|\bin F\b|[0-9]\s*(°F|F\b)`),
	"us":     regexp.MustCompile(`(^|[^\w-])(kg|kW|km/h|hPa|kPa|bar|mm|cm|Nm|kmh)\b|[0-9](kg|kW|km/h|hPa|kPa|bar|mm|m)\b|[0-9] m\b|[0-9]\s*(°C|C\b)`),
}

// namedOrTyped is what of an answer may have any unit: the names of the marks, the
// heading of their column, what was typed, and what may be typed.
var namedOrTyped = []*regexp.Regexp{
	regexp.MustCompile(`\b(60|330|660|1000|1320)\s+ft\b`),
	regexp.MustCompile(`(?m)^ *ft  .*$`),
	regexp.MustCompile(`"[^"]*"`),
	regexp.MustCompile(`slipcase [a-z].*`),
	regexp.MustCompile(`--[a-z0-9-]+( [0-9][^ ]*)?`),
	regexp.MustCompile(`want one in .*, or with its unit: .*`),
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
		for _, may := range namedOrTyped {
			words = may.ReplaceAllString(words, "…")
		}
		for line := range strings.Lines(words) {
			key := s.Form + digits.ReplaceAllString(line, "#")
			if other.MatchString(line) && !said[key] {
				said[key] = true
				t.Errorf("%s: slipcase %s says in %s units: %s", s.Script, strings.Join(s.Args, " "), s.Form, strings.TrimSpace(line))
			}
		}
	}
}

var digits = regexp.MustCompile(`[0-9][0-9.,]*`)
