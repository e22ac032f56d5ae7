package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/slipcase/internal/intake"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
)

// zonesOf is the zone of each track.
func zonesOf(a *app, tracks []logbook.Track) func(string) *time.Location {
	return func(id string) *time.Location {
		i := slices.IndexFunc(tracks, func(t logbook.Track) bool { return t.ID == id })
		if i < 0 {
			return a.zone(logbook.Track{})
		}
		return a.zone(tracks[i])
	}
}

func (a *app) id(kind byte) string {
	if a.newID != nil {
		return a.newID(kind)
	}
	return logbook.NewID(kind)
}

// recordImport writes the batch, and the rows left out into their file.
func (a *app) recordImport(c *cobra.Command, p *intake.Plan) error {
	if len(p.Questions) > 0 {
		return usagef("nothing recorded: %s", strings.Join(p.Questions, "; "))
	}
	leftFile := ""
	out := notebook.Placing{Over: true}
	defer out.Drop()
	if len(p.Left) > 0 {
		leftFile = leftName(p.File)
		if leftFile == p.File { // it is not written over before it is in
			leftFile = strings.TrimSuffix(p.File, ".csv") + ".left.csv"
		}
		if err := out.Write(leftFile, func(w io.Writer) error { return notebook.WriteLeft(w, p.Left) }); err != nil {
			return fmt.Errorf("nothing recorded: %w", err)
		}
	}
	if err := c.Context().Err(); err != nil {
		return err
	}
	if len(p.Batch.Slips) > 0 {
		if err := p.Log.AddAll(p.Batch); err != nil {
			if errors.Is(err, logbook.ErrRecordedMeanwhile) {
				return &advised{err, "run the import again: it adds what is left"}
			}
			return err
		}
	}
	if err := out.Done(); err != nil {
		return fmt.Errorf("recorded, but the rows left out could not be written: %w", err)
	}
	im := p.Shown()
	im.Recorded, im.LeftFile = true, leftFile
	if len(p.Batch.Slips) > 0 {
		im.ID = p.ID
	}
	return a.page.Imported(im)
}

// importAgain is the command line so far.
func importAgain(c *cobra.Command, p *intake.Plan) string {
	words := []string{"slipcase import", page.Quote(p.File)}
	c.Flags().Visit(func(f *pflag.Flag) {
		values := []string{f.Value.String()}
		if list, several := f.Value.(pflag.SliceValue); several {
			values = list.GetSlice()
		}
		for _, v := range values {
			if words = append(words, "--"+f.Name); f.NoOptDefVal == "" {
				words = append(words, page.Quote(v))
			}
		}
	})
	return strings.Join(words, " ")
}
