package main

import (
	"context"
	_ "embed"
	"encoding/base32"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/typed"

	"github.com/spf13/cobra"
)

// season is an invented season as command lines, for the demo alone.
//
//go:embed demo/season.txt
var season string

// tour is what the demo shows of it once it is typed in.
var tour = []struct{ words, line string }{
	{
		"What would weight and power run? Three published formulas, before there are slips:",
		"forecast --weight 3450lb --power 312hp",
	},
	{"Heron's last slip, judged as it was typed in:", "slip show last"},
	{"All of Heron's runs in standard air; the bigger carburetor came in July:", "correct --vehicle heron"},
	{
		"Heron's next run, had it to run at 16:45 on the last day:",
		`forecast --vehicle heron --track saltgrass --at "2026-08-08 16:45"`,
	},
}

func (a *app) demoCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "demo",
		Short: "the whole job on an invented season, in a temporary logbook",
		Long: `Types an invented season into a temporary logbook with the same commands that you would
use, and shows what comes out. It says where the logbook is, for you to go on with;
--logbook gives it a place of your own.`,
		Example: "  slipcase demo\n  slipcase demo --logbook season",
		Args:    cobra.NoArgs,
		RunE:    do(a.demo),
	}
}

func (a *app) demo(c *cobra.Command, _ []string) error {
	dir := a.dir
	if !c.Flags().Changed("logbook") {
		var err error
		if dir, err = os.MkdirTemp("", "slipcase-demo-"); err != nil {
			return fmt.Errorf("making a place for the demo: %w", err)
		}
	}
	a.page.DemoBegun()
	typed := 0
	for line := range strings.Lines(season) {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		if err := demoLine(c.Context(), io.Discard, a.errOut, dir, line); err != nil {
			return err
		}
		typed++
	}
	a.page.DemoTyped(typed)
	for _, stop := range tour {
		a.page.DemoStop(stop.words, stop.line)
		if err := demoLine(c.Context(), a.out, a.errOut, dir, stop.line); err != nil {
			return err
		}
	}
	page := filepath.Clean(dir) + "-report.html"
	if err := demoLine(c.Context(), io.Discard, a.errOut, dir, `report --force -o "`+page+`"`); err != nil {
		return err
	}
	a.page.DemoDone(dir, page)
	return nil
}

// demoNow is the moment at which the season is told: after its last meet.
var demoNow = time.Date(2026, 8, 8, 22, 0, 0, 0, time.UTC)

// demoLine runs one line as if typed, with a held clock and the same ids each time.
func demoLine(ctx context.Context, out, errOut io.Writer, dir, line string) error {
	words, err := splitWords(line)
	if err != nil {
		return err
	}
	typist := &app{
		in: strings.NewReader(""), out: out, errOut: errOut,
		now:   func() time.Time { return demoNow },
		newID: func(kind byte) string { return demoID(kind, line) },
	}
	if status := typist.run(ctx, append(words, "--logbook", dir)); status != exitDone {
		return fmt.Errorf("the demo's line %q ended with status %d", line, status)
	}
	return nil
}

// demoID makes an id out of the line that it is for.
func demoID(kind byte, line string) string {
	h := fnv.New64a()
	io.WriteString(h, line)
	return string(kind) + strings.ToLower(base32.StdEncoding.EncodeToString(h.Sum(nil)))[:9]
}

// splitWords parts a line at blanks, but not within double quotes.
func splitWords(line string) ([]string, error) { return typed.SplitWords(line) }
