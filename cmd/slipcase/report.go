package main

import (
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/report"
	"slipcase/cmd/slipcase/internal/tty"
)

func (a *app) reportCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "report",
		Short: "one page for the browser, the phone and paper: summary, pictures, every run",
		Long: `Writes one HTML file that needs no network and no script: first the bests, the rounds and
why they were lost, what the air costs, the setups and what each brought, what is due; then
pictures, each with its figures; then every run, which opens to its verdict. It prints on A4
or Letter.`,
		Example: "  slipcase report\n  slipcase report -o heron.html --vehicle heron --from 2026-04-01 --open",
		Args:    cobra.NoArgs,
		RunE:    a.reads(a.report),
	}
	c.Flags().StringP("output", "o", "report.html", "the file to write")
	c.Flags().String("vehicle", "", "of this vehicle alone")
	runFilterFlags(c)
	c.Flags().Bool("force", false, "write over a file that is there")
	c.Flags().Bool("open", false, "show it in the browser")
	return c
}

func (a *app) report(c *cobra.Command, _ []string, lb *crew.Session) error {
	path, _ := c.Flags().GetString("output")
	if ending := strings.ToLower(filepath.Ext(path)); ending != ".html" && ending != ".htm" {
		return usagef("-o %s: want a name that ends in .html", path)
	}
	id, filter, err := a.ofRuns(c, lb)
	if err != nil {
		return err
	}
	vehicles, err := lb.Vehicles()
	if err != nil {
		return err
	}
	if id != "" {
		v, err := lb.Vehicle(id)
		if err != nil {
			return err
		}
		vehicles = []crew.Vehicle{v}
	}
	if err := checkPlace(c, path); err != nil {
		return err
	}
	made, err := report.Make(c.Context(), lb, a.page, vehicles, filter)
	if err != nil {
		return err
	}
	if err := place(c, path, func(w io.Writer) error { return made.Write(w) }); err != nil {
		return err
	}
	if open, _ := c.Flags().GetBool("open"); open {
		if err := tty.Open(path); err != nil {
			a.page.Note("%s is written, but no browser came: %v", path, err)
		}
	}
	return a.page.Reported(path, made.Runs())
}
