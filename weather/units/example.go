package units

import (
	"regexp"
	"strings"
)

// twoWays is an example as it is typed where bare numbers are US, and where they are metric.
var twoWays = regexp.MustCompile(`\{([^{}|]*)\|([^{}|]*)\}`)

// Examples writes a text whose examples stand in it in either system, as {88F|31C}, with
// those that a reader of the system types. Errorf does so with its format.
func Examples(s System, text string) string {
	if !strings.Contains(text, "|") {
		return text
	}
	return twoWays.ReplaceAllString(text, [...]string{US: "$1", Metric: "$2"}[s])
}
