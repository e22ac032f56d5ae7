package page

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Reflowed breaks a help for a window that is too narrow for it: its paragraphs anew, what
// is set in line by line.
func Reflowed(text string, width int) string {
	lines := strings.Split(text, "\n")
	fits := func(line string) bool { return utf8.RuneCountInString(line) <= width }
	if width <= 0 || !slices.ContainsFunc(lines, func(line string) bool { return !fits(line) }) {
		return text
	}
	var out []string
	for _, line := range lines {
		last := len(out) - 1
		if last >= 0 && isProse(out[last]) && isProse(line) && !strings.HasPrefix(line, "Exit status") {
			out[last] += " " + line
			continue
		}
		out = append(out, line)
	}
	for from := 0; from < len(out); {
		if isProse(out[from]) {
			out[from] = strings.Join(Lines(out[from], width), "\n")
			from++
			continue
		}
		to := from
		for to < len(out) && !isProse(out[to]) {
			to++
		}
		// A session as it is shown has 80 columns: in a window of so many it is not set in.
		wide := slices.ContainsFunc(out[from:to], func(line string) bool { return !fits(line) })
		for ; from < to; from++ {
			if wide {
				out[from] = strings.TrimPrefix(out[from], "    ")
			}
			out[from] = Folded(out[from], width)
		}
	}
	return strings.Join(out, "\n")
}

// isProse reports a line of a paragraph: neither blank nor set in, and no heading.
func isProse(line string) bool {
	return line != "" && line[0] != ' ' && line != strings.ToUpper(line) && !strings.HasSuffix(line, "Examples:")
}
