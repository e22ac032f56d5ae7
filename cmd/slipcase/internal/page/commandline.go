package page

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"slipcase/cmd/slipcase/internal/table"
)

// WordsWanted says what is missing or too much on a command line: path is its command, takes
// the words behind it in its help, near what a first word that is no command is close to.
func WordsWanted(path string, takes, args, near []string) string {
	_, sub, under := strings.Cut(path, " ")
	if !under {
		text := fmt.Sprintf("%q is no command: ", table.Clean(args[0]))
		if len(near) > 0 {
			return text + "did you mean " + path + " " + near[0]
		}
		return text + path + " --help lists them"
	}
	group, _, _ := strings.Cut(sub, " ")
	wanted := slices.DeleteFunc(slices.Clone(takes), func(w string) bool { return strings.HasPrefix(w, "[") })
	line := strings.Join(append([]string{path}, takes...), " ")
	if len(args) < len(wanted) {
		return askFor(group, wanted[len(args)]) + ": " + line
	}
	return fmt.Sprintf("%q is one word too many: want %s", table.Clean(args[min(len(takes), len(args)-1)]), line)
}

// Quote is a word of a command line as a shell wants it typed: in quotes where it would
// else be taken for several words or for something else.
func Quote(word string) string {
	plain := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_.,:/+@%=", r) || r == filepath.Separator
	}
	switch {
	case word != "" && !strings.ContainsFunc(word, func(r rune) bool { return !plain(r) }):
		return word
	case strings.ContainsAny(word, "\"$`!\\") && filepath.Separator == '/':
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	return `"` + word + `"`
}

// askFor asks for a word that a command of a group wants and did not get.
func askFor(group, word string) string {
	what := map[string]string{"plan": "change", "power": "dyno sheet", "air": "reading"}[group]
	if what == "" {
		what = group
	}
	switch {
	case strings.HasPrefix(word, "FILE") || word == "FOLDER":
		return "name the " + strings.ReplaceAll(strings.ToLower(word), "|", " or the ")
	case word == "WORDS":
		return "what is to be noted"
	case strings.HasPrefix(word, "ID"):
		return "which " + what
	}
	return "name the " + what
}
