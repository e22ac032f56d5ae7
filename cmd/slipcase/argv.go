package main

import (
	"regexp"
	"strings"

	"github.com/spf13/cobra"
)

var negative = regexp.MustCompile(`^-[.0-9]`)

// bareMinus lets a red light (-.012) or a frost (-5C) stand among the arguments: a
// bare one that looks like a negative number is no flag. It goes on with the minus
// sign of typesetters, which every quantity is read with.
func bareMinus(root *cobra.Command, args []string) []string {
	c, _, err := root.Find(args)
	if err != nil {
		c = root
	}
	out := make([]string, len(args))
	for i, arg := range args {
		out[i] = arg
		if arg == "--" {
			copy(out[i:], args[i:])
			return out
		}
		if negative.MatchString(arg) && !(i > 0 && wantsValue(c, args[i-1])) {
			out[i] = "−" + arg[1:]
		}
	}
	return out
}

// wantsValue reports that an argument is a flag whose value is the next one.
func wantsValue(c *cobra.Command, arg string) bool {
	name, long := strings.CutPrefix(arg, "--")
	if !long || strings.Contains(name, "=") {
		return false
	}
	f := c.Flags().Lookup(name)
	if f == nil {
		f = c.InheritedFlags().Lookup(name)
	}
	return f != nil && f.NoOptDefVal == ""
}
