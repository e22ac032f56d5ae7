package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// The shell completes what the log holds: names, and ids with what they are. A log that
// cannot be read completes to nothing, without a word.

// mostListed are as many entries as a shell should show; the latest ones.
const mostListed = 50

// lister lists entries of the log, the likeliest first.
type lister func(lb *crew.Session) ([]page.Listed, error)

// completing is how cobra asks for what a word may become.
type completing = func(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective)

// ofGroup are the entries that the commands of a group name.
var ofGroup = map[string]lister{
	"vehicle": listVehicles, "track": listTracks, "setup": listSetups, "air": listReadings, "slip": listSlips,
	"power": listSheets, "plan": listParts, "part": listWorn, "column": listOwnColumns,
}

// ofFlag are the entries that a flag names.
var ofFlag = map[string]lister{
	"vehicle": listVehicles, "track": listTracks, "setup": listSetups, "air": listReadings, "meet": listMeets,
	"change": listParts, "opponent": listVehicles,
}

// takesFile are the flags that name a file or a folder.
var takesFile = []string{"map", "keep-map", "sheet", "before", "after", "logbook"}

// completes gives a command and those under it what their words may become.
func (a *app) completes(c *cobra.Command) {
	verb, group := c.Name(), ""
	if c.HasParent() {
		group = c.Parent().Name()
	}
	switch {
	case slices.Contains([]string{"show", "amend", "void", "drop", "fit", "remove", "note"}, verb):
		c.ValidArgsFunction = a.oneOf(ofGroup[group], most(verb, group))
	case verb == "unvoid":
		c.ValidArgsFunction = cobra.FixedCompletions(
			[]string{"last\tthe one voided last"},
			cobra.ShellCompDirectiveNoFileComp,
		)
	case verb == "compare":
		c.ValidArgsFunction = a.oneOf(listSetups, 2)
	case verb == "round":
		c.ValidArgsFunction = a.oneOf(listSlips, 1)
	case verb == "add" && group == "slip", verb == "use":
		c.ValidArgsFunction = a.oneOf(listSlipWords, 40)
	case verb == "add" && group == "air":
		c.ValidArgsFunction = a.oneOf(listTracks, 40)
	case !slices.Contains([]string{"backup", "restore", "merge", "export", "import"}, verb):
		c.ValidArgsFunction = cobra.NoFileCompletions
	}
	flag := func(f *pflag.Flag) {
		// Two commands may share a flag; what it completes to is the same.
		_ = c.RegisterFlagCompletionFunc(f.Name, a.valuesOf(f, group))
	}
	c.Flags().VisitAll(flag)
	c.PersistentFlags().VisitAll(flag)
	for _, sub := range c.Commands() {
		a.completes(sub)
	}
}

// most is how many entries a command names.
func most(verb, group string) int {
	if verb == "show" && group == "power" {
		return 2 // two sheets over each other
	}
	return 1
}

// valuesOf are what the value of a flag may be.
func (a *app) valuesOf(f *pflag.Flag, group string) completing {
	var few []string
	switch v := f.Value.(type) {
	case *keyword:
		few = v.words
	case *typedCell:
		few = v.words
	}
	switch f.Name {
	case "units":
		few = []string{units.US.String(), units.Metric.String()}
	case "format":
		for _, format := range table.Formats {
			few = append(few, string(format))
		}
	}
	switch {
	case len(few) > 0:
		return cobra.FixedCompletions(few, cobra.ShellCompDirectiveNoFileComp)
	case f.Name == "sheet" && group == "setup":
		return a.oneOf(listSheets, 1)
	case f.Name == "logbook":
		return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		}
	case slices.Contains(takesFile, f.Name):
		return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveDefault
		}
	case ofFlag[f.Name] != nil:
		return a.oneOf(ofFlag[f.Name], mostListed)
	}
	return cobra.NoFileCompletions
}

// oneOf completes the first words of a command, as many as it takes, to entries.
func (a *app) oneOf(list lister, words int) completing {
	return func(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		const how = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
		if list == nil || len(args) >= words {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		dir, _ := c.Flags().GetString("logbook")
		lb, err := a.openAt(dir)
		if err != nil {
			return nil, how
		}
		all, err := list(lb)
		if err != nil {
			return nil, how
		}
		var found []string
		for _, l := range all {
			if strings.HasPrefix(l.Name, begun) && !slices.Contains(args, l.Name) && len(found) < mostListed {
				found = append(found, l.Name+"\t"+l.What)
			}
		}
		return found, how
	}
}

// each lists entries.
func each[T any](all []T, err error, name func(T) page.Listed) ([]page.Listed, error) {
	list := make([]page.Listed, len(all))
	for i, it := range all {
		list[i] = name(it)
	}
	return list, err
}

// latest lists entries, the last first.
func latest[T any](all []T, err error, name func(T) page.Listed) ([]page.Listed, error) {
	slices.Reverse(all)
	return each(all, err, name)
}

func listVehicles(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.Vehicles()
	return each(all, err, page.ListedVehicle)
}

func listTracks(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.Tracks()
	return each(all, err, page.ListedTrack)
}

func listSheets(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.Sheets("")
	return each(all, err, page.ListedSheet)
}

func listParts(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.Plan("")
	return each(all, err, page.ListedPart)
}

func listWorn(lb *crew.Session) ([]page.Listed, error) {
	all, _, err := lb.Worn("", lb.Now())
	return each(all, err, page.ListedWorn)
}

func listOwnColumns(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.OwnColumns()
	return each(all, err, page.ListedOwnColumn)
}

func listReadings(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.Readings("")
	return latest(all, err, page.ListedReading)
}

func listSlips(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.Slips("")
	return latest(all, err, page.ListedSlip)
}

func listSetups(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.Setups("")
	times := map[string]int{}
	for _, s := range all {
		times[s.Name]++
	}
	return latest(all, err, func(s logbook.Setup) page.Listed { return page.ListedSetup(s, times[s.Name] == 1) })
}

func listMeets(lb *crew.Session) ([]page.Listed, error) {
	all, err := lb.Meets()
	return each(all, err, page.ListedMeet)
}

// listSlipWords lists what can be completed on the line of a slip.
func listSlipWords(lb *crew.Session) ([]page.Listed, error) {
	vs, err := listVehicles(lb)
	if err != nil {
		return nil, err
	}
	ts, err := listTracks(lb)
	return slices.Concat(vs, ts), err
}
