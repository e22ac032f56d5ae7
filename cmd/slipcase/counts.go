package main

import (
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// A flag that the way asked for has no use of is refused, never silently dropped: only
// names those that count in a way, idle those of them that count beside others alone.

// only refuses all flags of a command but these.
func only(c *cobra.Command, with string, flags ...[]string) (err error) {
	count := slices.Concat(append(flags, []string{"force"})...)
	c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
		if f.Changed && err == nil && !slices.Contains(count, f.Name) {
			err = usagef("--%s does not go with %s", f.Name, with)
		}
	})
	return err
}

// idle refuses flags where none of those is given that they count beside; want says what
// is.
func idle(c *cobra.Command, want string, beside []string, flags ...string) error {
	i := slices.IndexFunc(flags, c.Flags().Changed)
	if i < 0 || anyChanged(c, beside...) {
		return nil
	}
	return usagef("--%s does nothing alone: want %s with it", flags[i], want)
}
