package typed

import (
	"fmt"
	"strings"
)

// SplitWords parts a line at blanks, but not within double quotes.
func SplitWords(line string) ([]string, error) {
	var words []string
	var word strings.Builder
	quoted, some := false, false
	for _, r := range line {
		switch {
		case r == '"':
			quoted, some = !quoted, true
		case r == ' ' && !quoted:
			if some {
				words = append(words, word.String())
			}
			word.Reset()
			some = false
		default:
			word.WriteRune(r)
			some = true
		}
	}
	if quoted {
		return nil, fmt.Errorf("a quote is not closed in %q", line)
	}
	if some {
		words = append(words, word.String())
	}
	return words, nil
}
