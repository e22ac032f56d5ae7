package main

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

// flagTimes reads a chance as it is said, so many times in 100.
func flagTimes(c *cobra.Command, flag string) (float64, error) {
	text, _ := c.Flags().GetString(flag)
	n, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "%")), 64)
	if err != nil || !(n > 0 && n < 100) {
		return 0, usagef("--%s %q: want how many times in 100, more than 0 and less than 100", flag, clipped(text))
	}
	return n, nil
}
