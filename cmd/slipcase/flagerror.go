package main

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// flagError says what is wrong with a flag, and names the flag that was meant where a racer types a column's name for
// one, as --et-1320 for --1320 or --dial_s for --dial: the longest run of its words
// that is a flag.
func flagError(c *cobra.Command, err error) error {
	if bad := (*pflag.InvalidValueError)(nil); errors.As(err, &bad) {
		return badValue(bad.GetFlag().Name, bad.Unwrap())
	}
	name, ok := strings.CutPrefix(err.Error(), "unknown flag: --")
	if !ok {
		return err
	}
	words := strings.FieldsFunc(name, func(r rune) bool { return r == '-' || r == '_' })
	for n := len(words); n > 0; n-- {
		for from := 0; from+n <= len(words); from++ {
			if meant := strings.Join(words[from:from+n], "-"); c.Flags().Lookup(meant) != nil {
				return usagef("unknown flag --%s: did you mean --%s", name, meant)
			}
		}
	}
	return err
}

// badValue says what is wrong with the value of a flag.
func badValue(flag string, err error) error {
	colon := ":"
	if strings.HasPrefix(err.Error(), `"`) {
		colon = "" // what was typed comes next
	}
	return usagef("--%s%s %w", flag, colon, err)
}

// bothSet is how cobra refuses flags that exclude each other: their group, and which
// of it were set.
var bothSet = regexp.MustCompile(
	`^if any flags in the group \[(.*)\] are set none of the others can be; \[(.*)\] were all set$`,
)

// wrongUsage says what is wrong with a command line that cobra refused.
func wrongUsage(c *cobra.Command, err error) error {
	if m := bothSet.FindStringSubmatch(err.Error()); m != nil {
		set := strings.Fields(m[2])
		named := slices.DeleteFunc(strings.Fields(m[1]), func(flag string) bool { return !slices.Contains(set, flag) })
		return usagef("--%s: want one of them", strings.Join(named, " and --"))
	}
	return usagef("%w: want %s, see its --help", err, c.UseLine())
}
