package main

import (
	"embed"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// brief makes the --help of a command that is used between rounds fit one screen: its
// flags by name alone. "slipcase help ..." explains every one.
func brief(c *cobra.Command) *cobra.Command {
	full := c.HelpFunc()
	c.SetHelpFunc(func(c *cobra.Command, args []string) {
		if len(args) == 0 { // the help command, not the flag
			full(c, args)
			return
		}
		fmt.Fprintf(c.OutOrStdout(), "%s\n\nExamples:\n%s\n\n", strings.TrimSuffix(c.Long, "\n\n"+exitHelp), c.Example)
		name := strings.TrimPrefix(c.CommandPath(), "slipcase ")
		flags := fmt.Sprintf("Flags, explained by slipcase help %s: %s", name, strings.Join(flagNames(c), " "))
		for _, line := range page.Lines(flags, 80) {
			fmt.Fprintln(c.OutOrStdout(), line)
		}
		fmt.Fprintln(c.OutOrStdout(), exitHelp)
	})
	return c
}

func flagNames(c *cobra.Command) []string {
	var names []string
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if f.Name != "help" && !f.Hidden {
			names = append(names, "--"+f.Name)
		}
	})
	return names
}

// writeExamples writes the examples in the help of a command and of those under it as they
// are typed in a system.
func writeExamples(c *cobra.Command, s units.System) {
	c.Long, c.Example = units.Examples(s, c.Long), units.Examples(s, c.Example)
	c.LocalFlags().VisitAll(func(f *pflag.Flag) { f.Usage = units.Examples(s, f.Usage) })
	for _, sub := range c.Commands() {
		writeExamples(sub, s)
	}
}

// helpTails are what there is to know beside a command, told at the end of its help:
// TestREADME runs what they show.
//
//go:embed help/*.txt
var helpTails embed.FS

// helpTail is the end of a command's help, "" where it has none.
func helpTail(name string) string {
	text, err := helpTails.ReadFile("help/" + name + ".txt")
	if err != nil {
		return ""
	}
	return string(text)
}

// foldHelp breaks the help of a command and of those under it at blanks, where the
// window is too narrow for it, and ends it with what there is to know beside. Its examples
// are as they are typed into the log.
func (a *app) foldHelp(c *cobra.Command) {
	for _, sub := range c.Commands() {
		a.foldHelp(sub)
	}
	show := c.HelpFunc()
	c.SetHelpFunc(func(c *cobra.Command, args []string) {
		out := c.OutOrStdout()
		var b strings.Builder
		c.SetOut(&b)
		show(c, args)
		c.SetOut(out)
		if tail := helpTail(c.Name()); tail != "" && (c.Parent() == nil || c.Parent() == c.Root()) {
			b.WriteString("\n" + tail)
		}
		fmt.Fprint(out, page.Reflowed(units.Examples(logbook.UnitsOf(a.dir), b.String()), a.page.Width()))
	})
}
