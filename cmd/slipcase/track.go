package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) trackCommand() *cobra.Command {
	c := &cobra.Command{Use: "track", Short: "the places you race at", Example: "  slipcase track list"}
	add := &cobra.Command{
		Use:   "add NAME",
		Short: "record a track",
		Example: `  slipcase track add saltgrass --elevation {812ft|247m} --length {660ft,1320ft|201m,402m} --heading 240
  slipcase track add highmesa --elevation {5585ft|1702m} --time-zone America/Denver`,
		Args: cobra.ExactArgs(1),
		RunE: a.writes(a.addTrack),
	}
	register(add, typed.TrackFields)
	add.Flags().Bool("force", false, "record what looks wrong as it is")
	list := &cobra.Command{
		Use: "list", Short: "list the tracks", Args: cobra.NoArgs, Example: "  slipcase track list",
		RunE: a.reads(a.listTracks),
	}
	show := &cobra.Command{
		Use: "show NAME", Short: "show one track", Args: cobra.ExactArgs(1), Example: "  slipcase track show saltgrass",
		RunE: a.reads(a.showTrack),
	}
	amend := &cobra.Command{
		Use: "amend NAME", Short: "correct what is recorded of a track; the old stays as history",
		Args: cobra.ExactArgs(1), Example: "  slipcase track amend saltgrass --heading 238",
		RunE: a.writes(a.amendTrack),
	}
	register(amend, typed.TrackFields)
	amend.Flags().Bool("force", false, "record what looks wrong as it is")
	void, unvoid := voidable[logbook.Track]{
		what: "track", arg: "NAME", example: "saltgrass", entry: func(t *logbook.Track) *logbook.Entry { return &t.Entry },
		find:     func(_ *cobra.Command, lb *crew.Session, ref string) (logbook.Track, error) { return lb.Track(ref) },
		findVoid: (*logbook.Logbook).VoidTrack, amend: (*logbook.Logbook).AmendTrack,
		slips: (*crew.Session).TrackSlips, moves: "slipcase slip void takes one out, slip amend --track moves it",
		show:   (*page.Page).TrackStatus,
		called: func(t logbook.Track) string { return t.ID },
	}.commands(a)
	c.AddCommand(add, list, show, amend, void, unvoid)
	return c
}

func (a *app) addTrack(c *cobra.Command, args []string, lb *crew.Session) error {
	t := logbook.Track{Entry: logbook.Entry{ID: args[0]}}
	if err := apply(c, typed.TrackFields, &t); err != nil {
		return err
	}
	if err := t.Check(); err != nil {
		return usage(err)
	}
	if err := a.unusualTrack(c, &t); err != nil {
		return err
	}
	if t.BothRed == "" && a.tty.Interactive() {
		var err error
		if t.BothRed, err = a.askBothRed(); err != nil {
			return err
		}
	}
	if err := lb.AddTrack(&t); err != nil {
		was, _ := lb.Track(t.ID)
		return taken(err, crew.Stands("track", was.Entry))
	}
	return a.page.TrackAdded(t)
}

// unusualTrack lets a track that is hard to believe pass with --force.
func (a *app) unusualTrack(c *cobra.Command, t *logbook.Track) error {
	return forced(c, &t.Entry, a.page.Outliers(logbook.HardToBelieve(t)))
}

// askBothRed asks how the track decides a round with two reds; "" where it is not known.
func (a *app) askBothRed() (string, error) {
	for _, line := range page.Lines("Both red, who loses? first: who left first; worst: the redder light.", a.page.Room()) {
		fmt.Fprintln(a.tty.Out, line)
	}
	for {
		text, err := a.tty.Ask("first or worst, Enter if not known", "")
		if err != nil {
			return "", err
		}
		switch text = strings.ToLower(text); text {
		case "", "first", "worst":
			return text, nil
		case "f":
			return "first", nil
		case "w":
			return "worst", nil
		}
	}
}

func (a *app) listTracks(_ *cobra.Command, _ []string, lb *crew.Session) error {
	ts, err := lb.Tracks()
	if err != nil {
		return err
	}
	return a.page.Tracks(ts...)
}

func (a *app) showTrack(_ *cobra.Command, args []string, lb *crew.Session) error {
	t, err := lb.Track(args[0])
	if err != nil {
		return err
	}
	return a.page.Track(t)
}

func (a *app) amendTrack(c *cobra.Command, args []string, lb *crew.Session) error {
	if err := somethingToChange(c); err != nil {
		return err
	}
	t, err := lb.Track(args[0])
	if err != nil {
		return err
	}
	was := t
	t, err = lb.AmendTrack(t.ID, func(t *logbook.Track) error {
		if err := apply(c, typed.TrackFields, t); err != nil {
			return err
		}
		if err := t.Check(); err != nil {
			return usage(err)
		}
		return a.unusualTrack(c, t)
	})
	if err != nil {
		return err
	}
	return a.page.TrackAmended(t, logbook.Changes(&was, &t))
}
