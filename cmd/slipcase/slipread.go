package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/form"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/printed"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) slipRead() *cobra.Command {
	c := &cobra.Command{
		Use:   "read [FILE | -]",
		Short: "record a printed slip from its text",
		Long: `Records a printed slip from its text: what a phone copies off a photo of it, or what
the track's page lets you copy. On a terminal it asks for the text, then about each
figure it is not sure of, and shows the slip before it is recorded. Without one, from
FILE or from "-", a figure it is not sure of is left out, and told; --force takes the
best guess. Which lane is yours: --lane, --car with your number, or your car's times.
Other flags, as for slip add, go before what the slip says.`,
		Example: "  slipcase slip read slip.txt --lane left\n  slipcase slip read slip.txt --car 412",
		Args:    cobra.MaximumNArgs(1),
		RunE:    a.writes(a.readSlip),
	}
	c.Flags().String("vehicle", "", "the vehicle")
	c.Flags().String("track", "", "the track")
	c.Flags().String("at", "", "when it was run, where the slip does not say it")
	c.Flags().String("car", "", "your number on the slip")
	registerSlip(c)
	c.Flags().Bool("force", false, "take the best guess of what is not sure")
	return brief(c)
}

func (a *app) readSlip(c *cobra.Command, args []string, lb *crew.Session) error {
	r, err := a.typist(c, lb)
	if err != nil {
		return err
	}
	read, err := a.printedSlip(args)
	if err != nil {
		return err
	}
	s, t, err := r.about()
	if err != nil {
		return err
	}
	ours, err := r.ours(read, s.Vehicle)
	if err != nil {
		return err
	}
	at, err := r.when(read, a.zone(t))
	if err != nil {
		return err
	}
	s.Time = logbook.Time{Time: at}
	doubts := read.Fill(&s, ours, crew.RulesOf(s, t).PerfectS)
	lb.Fill(&s)
	if len(read.Unread) > 0 {
		a.page.Note("not read: %s", clipped(strings.Join(read.Unread, " ")))
	}
	if a.tty.Interactive() {
		return a.reviewPrinted(r.form(s), doubts)
	}
	return a.recordPrinted(c, lb, s, doubts)
}

// printedSlip is the slip of a text, or one that was read of it already.
func (a *app) printedSlip(args []string) (read printed.Slip, err error) {
	if pasted, is := a.in.(*printed.Paste); is {
		return pasted.Slip, nil
	}
	text, err := a.slipText(args)
	if err == nil {
		read, err = printed.Read(text)
		err = usage(err)
	}
	return read, err
}

// slipText is the text of a slip: of a file, of standard input, or pasted.
func (a *app) slipText(args []string) (string, error) {
	in := a.in
	switch {
	case len(args) == 1 && args[0] != "-":
		f, err := os.Open(args[0])
		if err != nil {
			return "", err
		}
		defer f.Close()
		in = f
	case a.typing():
		return a.tty.Paste("paste the slip's text, then an empty line")
	}
	data, err := io.ReadAll(io.LimitReader(in, printed.MostBytes+1))
	if err != nil {
		return "", fmt.Errorf("reading the slip: %w", err)
	}
	text, err := notebook.TextOf(data)
	return text, usage(err)
}

// about is what is known of a printed slip beside its text: whose it is, and where.
func (r *typist) about() (s slip, t logbook.Track, err error) {
	if err := apply(r.c, typed.SlipFields, &s); err != nil {
		return s, t, err
	}
	name, _ := r.c.Flags().GetString("vehicle")
	if name == "" && r.a.tty.Interactive() {
		name = r.Last().Vehicle
	}
	v, err := r.Vehicle(name)
	if err != nil {
		return s, t, err
	}
	name, _ = r.c.Flags().GetString("track")
	t, err = r.Track(name)
	s.Vehicle, s.Track = v.ID, t.ID
	return s, t, err
}

// when is the moment of a printed slip: as told, else as it says, else now.
func (r *typist) when(read printed.Slip, zone *time.Location) (time.Time, error) {
	if r.c.Flags().Changed("at") {
		return r.a.at(r.c, "at", zone)
	}
	text, err := read.When(r.Now.In(zone))
	switch {
	case err != nil:
		return r.Now, &advised{usage(err), `say it   --at "2026-05-02 14:25"`}
	case typed.DayAlone(text):
		return r.Now, &advised{usagef("the slip says its day, %s, but not when", text), `say it   --at "` + text + ` 14:25"`}
	case text == "":
		return r.Now.In(zone).Truncate(time.Second), nil
	}
	at, err := r.a.moment(text, r.Now, zone)
	return at, usage(err)
}

// ours is the lane of the slip that is the racer's.
func (r *typist) ours(read printed.Slip, vehicle string) (int, error) {
	lane, _ := r.c.Flags().GetString("lane")
	car, _ := r.c.Flags().GetString("car")
	if ours, told := read.Ours(strings.ToLower(lane), car, r.Usual(vehicle)); told {
		return ours, nil
	}
	if lane != "" || car != "" && !read.Either() {
		return 0, usagef("the slip has no lane %s", cmp.Or(lane, "of car "+car))
	}
	ends := read.Ends()
	if !r.a.tty.Interactive() {
		return 0, usagef("which lane is yours? %s", page.WhichLane(ends))
	}
	word, err := r.a.tty.Key("which lane is yours, "+page.BothLanes(ends), ends[0][0], ends[1][0])
	return read.Choose(slices.Index([]string{ends[0][0], ends[1][0]}, word)), err
}

// reviewPrinted asks about what is not sure, shows the slip and records it.
func (a *app) reviewPrinted(f *form.Form, doubts []printed.Doubt) error {
	for _, d := range doubts {
		if f.Force {
			d.Set(&f.Slip)
			continue
		}
		fmt.Fprintf(a.tty.Out, "  [Enter] %s\n", a.page.Printed(d.Column, d.Text, d.Value))
		word, err := a.tty.Key("  [o] omit it", "", "omit")
		if err != nil {
			return err
		}
		if word == "" {
			d.Set(&f.Slip)
		}
	}
	f.Given = func(string) bool { return false }
	return f.Finish()
}

// recordPrinted records a slip without asking: what is not sure is left out, unless forced.
func (a *app) recordPrinted(c *cobra.Command, lb *crew.Session, s slip, doubts []printed.Doubt) error {
	force, _ := c.Flags().GetBool("force")
	var guessed []string
	for _, d := range doubts {
		said := a.page.Printed(d.Column, d.Text, d.Value)
		if !force {
			a.page.Note("left out: %s?", said)
			continue
		}
		d.Set(&s)
		guessed = append(guessed, said)
	}
	check := func() error {
		err := a.checkSlip(c, lb, &s)
		s.Forced = strings.Join(append(nonEmpty(s.Forced), guessed...), "; ")
		return err
	}
	if err := check(); err != nil {
		return err
	}
	return a.recordSlip(lb, &s, true, check)
}

func nonEmpty(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}
