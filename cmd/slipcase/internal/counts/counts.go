// Package counts refuses flags that do nothing: one that the way asked for has no use of is
// never silently dropped. Only names those that count in a way, Idle those of them that count
// beside others alone.
package counts

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Only refuses all flags of a command but these, and force, which takes what looks wrong.
func Only(c *cobra.Command, with string, flags ...[]string) (err error) {
	count := slices.Concat(append(flags, []string{"force"})...)
	c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
		if f.Changed && err == nil && !slices.Contains(count, f.Name) {
			err = fmt.Errorf("--%s does not go with %s", f.Name, with)
		}
	})
	return err
}

// Idle refuses flags where none of those is given that they count beside; want says what
// is.
func Idle(c *cobra.Command, want string, beside []string, flags ...string) error {
	i := slices.IndexFunc(flags, c.Flags().Changed)
	if i < 0 || slices.ContainsFunc(beside, c.Flags().Changed) {
		return nil
	}
	return fmt.Errorf("--%s does nothing alone: want %s with it", flags[i], want)
}

// Share refuses a bare figure of less than 1 as a percentage: a share was meant, most
// likely. With its own % it stands.
func Share(flag, text string, v float64) error {
	if v > 0 && v < 1 && !strings.Contains(text, "%") {
		return fmt.Errorf(
			"--%s %s is less than 1 percent: %g %% meant? Type --%[1]s %[3]g, or --%[1]s %[2]s%% for that little",
			flag,
			text,
			100*v,
		)
	}
	return nil
}
