package main

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/page"
)

// flagError says what is wrong with a flag, and names the flag that was meant where a racer types a column's name for
// one, as --et-1320 for --1320 or --dial_s for --dial: the longest run of its words
// that is a flag.
func flagError(c *cobra.Command, err error) error {
	if bad := (*pflag.InvalidValueError)(nil); errors.As(err, &bad) {
		return badValue(bad.GetFlag().Name, bad.Unwrap())
	}
	if flag, empty := strings.CutPrefix(err.Error(), "flag needs an argument: "); empty {
		return usagef(
			"%s has nothing behind it: slipcase help %s says what it takes",
			flag,
			strings.TrimPrefix(c.CommandPath(), "slipcase "),
		)
	}
	if m := shorthand.FindStringSubmatch(err.Error()); m != nil {
		return noFlag(c, m[1])
	}
	name, ok := strings.CutPrefix(err.Error(), "unknown flag: --")
	if !ok {
		return err
	}
	words := strings.FieldsFunc(name, func(r rune) bool { return r == '-' || r == '_' })
	for n := len(words); n > 0; n-- {
		for from := 0; from+n <= len(words); from++ {
			if meant := strings.Join(words[from:from+n], "-"); c.Flags().Lookup(meant) != nil {
				return usagef("--%s is no flag here: did you mean --%s", name, meant)
			}
		}
	}
	return noFlag(c, "--"+name)
}

// shorthand is how pflag refuses a letter that is no flag.
var shorthand = regexp.MustCompile(`^unknown shorthand flag: '.*' in (.*)$`)

func noFlag(c *cobra.Command, name string) error {
	return usagef("%s is no flag of %s: see %[2]s --help", name, c.CommandPath())
}

// cobras are its own words on what a command takes besides its flags.
var cobras = regexp.MustCompile(`^(accepts|requires|unknown command) `)

// wordsToo makes what a command takes besides its flags a matter of plain words.
func wordsToo(c *cobra.Command) {
	check := c.Args
	if check == nil {
		return
	}
	c.Args = func(c *cobra.Command, args []string) error {
		err := check(c, args)
		if err == nil || !cobras.MatchString(err.Error()) {
			return err
		}
		var near []string
		if c.Parent() == nil {
			near = c.SuggestionsFor(args[0])
		}
		return usagef("%s", page.WordsWanted(c.CommandPath(), strings.Fields(c.Use)[1:], args, near))
	}
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
