package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/picture"
	"slipcase/cmd/slipcase/internal/table"
)

func (a *app) pictureCommand() *cobra.Command {
	var kinds strings.Builder
	for _, k := range picture.Kinds {
		fmt.Fprintf(&kinds, "\n  %-10s %s", k.Name, k.Words)
	}
	c := &cobra.Command{
		Use:   "picture KIND [OF...]",
		Short: "draw your runs: as SVG, PNG or PDF",
		Long: "Draws a picture to look at after the meet. The ending of the file says the form: .svg,\n" +
			".png or .pdf; without -o it is KIND.svg. --format csv or json gives its figures in place\n" +
			"of the drawing.\n" + kinds.String(),
		Example: "  slipcase picture air\n  slipcase picture trend -o trend.png --vehicle heron\n" +
			"  slipcase picture forecasts --format csv",
		Args:      pictureKind,
		ValidArgs: kindNames(),
		RunE:      a.reads(a.picture),
	}
	c.Flags().StringP("output", "o", "", "the file to write")
	c.Flags().String("vehicle", "", "the vehicle")
	runFilterFlags(c)
	c.Flags().Bool("force", false, "write over a file that is there")
	return c
}

func kindNames() (names []string) {
	for _, k := range picture.Kinds {
		names = append(names, k.Name)
	}
	return names
}

// pictureKind wants a kind that there is, and what that kind is of.
func pictureKind(_ *cobra.Command, args []string) error {
	if len(args) == 0 {
		return fmt.Errorf("no picture named: want one of %s", strings.Join(kindNames(), ", "))
	}
	at := slices.Index(kindNames(), args[0])
	if at < 0 {
		return fmt.Errorf("%q is no picture: want one of %s", clipped(args[0]), strings.Join(kindNames(), ", "))
	}
	return picture.Kinds[at].CheckOf(args[1:])
}

func (a *app) picture(c *cobra.Command, args []string, lb *crew.Session) error {
	kind := picture.Kinds[slices.Index(kindNames(), args[0])]
	var v crew.Vehicle
	var err error
	if kind.OfVehicle() {
		if v, err = a.theVehicle(c, lb); err != nil {
			return err
		}
	}
	filter, err := a.runFilter(c, lb)
	if err != nil {
		return err
	}
	path, _ := c.Flags().GetString("output")
	if path == "" {
		path = kind.Name + ".svg"
	}
	ending := strings.ToLower(filepath.Ext(path))
	if !slices.Contains(picture.Endings, ending) {
		return usagef("-o %s: want a name that ends in %s", path, strings.Join(picture.Endings, ", "))
	}
	from := picture.Source{Log: lb, Page: a.page, Vehicle: v, Keep: filter.Keeps, Of: args[1:]}
	chart, err := kind.Chart(c.Context(), &from)
	if err != nil {
		return err
	}
	if a.format != table.Text || len(chart.Panels) == 0 {
		return a.page.Chart(chart)
	}
	err = place(c, path, func(w io.Writer) error { return picture.Write(w, &chart, ending) })
	if err != nil {
		return err
	}
	return a.page.Drawn(path, chart)
}

// plotFlag gives a command the flag that draws its runs in the terminal too.
func plotFlag(c *cobra.Command) { c.Flags().Bool("plot", false, "draw them too, in run order") }

// plot draws a picture of a vehicle in the terminal where that is asked for.
func (a *app) plot(
	c *cobra.Command, lb *crew.Session, v crew.Vehicle, name string, keep func(*crew.Run) bool, of ...string,
) error {
	if asked, _ := c.Flags().GetBool("plot"); !asked || a.format != table.Text {
		return nil
	}
	kind := picture.Kinds[slices.Index(kindNames(), name)]
	chart, err := kind.Chart(c.Context(), &picture.Source{Log: lb, Page: a.page, Vehicle: v, Keep: keep, Of: of})
	if err == nil {
		a.page.InTerminal(chart)
	}
	return err
}

func anyRun(*crew.Run) bool { return true }
