package main

import (
	"cmp"
	"errors"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/form"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
)

func (a *app) slipAdd() *cobra.Command {
	c := &cobra.Command{
		Use:   "add [TIMES | -]",
		Short: "record a time slip and judge it at once",
		Long: `Records a time slip and judges it at once. Alone on a terminal it asks, line by
line or all in its first; on one line, places are told by what is plausible, "."
for a missing time; or by flags. 1912 is 1.912, {10584 is 105.84|17033 is 170.33}; -.012 or r012
is red. On a line also: left, won, lifted {600ft|180m}, E1, dial 13.25 or d1325, L, dq,
bye, bb (buyback), a vehicle, a track, jets=68, 14:25 or 2:25pm (01:30-05:00 in
the hour that came twice); / before the other lane: reaction, ET, {mph|km/h}, dial,
broke (before it staged, or behind its reaction), staged broke. "-": many.`,
		Example: `  slipcase slip add .042 1.912 5.437 8.412@{83.77|134.81} 10.980 13.212@{105.84|170.33}
  slipcase slip add 042 1912 . 8412@{8377|13481} left E2 dial 1325 / 051 12430 1240
  slipcase slip add --vehicle heron --track saltgrass - < slips.txt`,
		Args: cobra.ArbitraryArgs,
		RunE: a.writes(a.addSlip),
	}
	c.Flags().String("vehicle", "", "the vehicle")
	c.Flags().String("track", "", "the track")
	c.Flags().String("at", "", "when it was run, as \"2026-05-02 14:25\" or 14:25; now when left out")
	registerSlip(c)
	c.Flags().Bool("force", false, "record what looks wrong as it is")
	return brief(c)
}

func (a *app) addSlip(c *cobra.Command, args []string, lb *crew.Session) error {
	if len(args) == 1 && args[0] == "-" {
		return a.addSlipLines(c, lb)
	}
	r, err := a.typist(c, lb)
	if err != nil {
		return err
	}
	if len(args) == 0 && a.tty.Interactive() {
		var s slip
		if err := apply(c, typed.SlipFields, &s); err != nil {
			return err
		}
		if _, some := s.Finish(); !some {
			return r.form(s).Ask()
		}
	}
	s, err := r.slip(strings.Join(args, " "))
	if err != nil {
		return err
	}
	if a.held != nil {
		return r.settle(s)
	}
	check := func() error { return a.checkSlip(c, lb, &s) }
	if err := check(); err != nil {
		return err
	}
	return a.recordSlip(lb, &s, len(args) > 0, check)
}

// recordSlip records a checked slip and judges it. Where another window has just recorded
// the same, check is to look at it again. echo says that the racer should see how his line
// was read.
func (a *app) recordSlip(lb *crew.Session, s *slip, echo bool, check func() error) error {
	err := lb.AddSlips(s)
	for errors.Is(err, logbook.ErrRecordedMeanwhile) {
		lb.Refresh()
		if err = check(); err == nil {
			err = lb.AddSlips(s)
		}
	}
	if err != nil {
		return err
	}
	j, err := lb.Judge(*s)
	if err != nil {
		// The slip is safe; what was promised is only the judgement.
		a.page.Note("recorded %s, but it cannot be judged: %v", s.ID, err)
		return nil
	}
	return a.page.Recorded(j, echo)
}

// typist turns typed lines into slips, with what the command line and the logbook say beside
// them.
type typist struct {
	*form.Typist
	a *app
	c *cobra.Command
}

func (a *app) typist(c *cobra.Command, lb *crew.Session) (*typist, error) {
	t, err := form.NewTypist(lb, a.page, a.now())
	if errors.Is(err, form.ErrNoVehicle) {
		return nil, errNoVehicle
	}
	if err != nil {
		return nil, err
	}
	t.Bare, t.Moment = bareIn(c), a.moment
	t.TheVehicle = func() (logbook.Vehicle, error) { return a.theVehicle(c, lb) }
	t.TheTrack = func() (logbook.Track, error) { return a.theTrack(c, lb) }
	return &typist{t, a, c}, nil
}

// form is a slip to be asked for.
func (r *typist) form(s slip) *form.Form {
	force, _ := r.c.Flags().GetBool("force")
	return &form.Form{
		Typist: r.Typist, TTY: r.a.tty, Clock: r.a.now, Force: force, Slip: s,
		Given:  r.c.Flags().Changed,
		Said:   func(flag string) string { text, _ := r.c.Flags().GetString(flag); return text },
		Look:   func(s *slip) ([]crew.Doubt, error) { return r.a.look(r.Log, s) },
		Record: func(f *form.Form) error { return r.a.recordSlip(r.Log, &f.Slip, false, f.Settle) },
	}
}

// settle records a slip typed at the board: what looks wrong is settled there. One to be
// edited goes back onto the prompt.
func (r *typist) settle(s slip) error {
	f := r.form(s)
	f.ToEnd()
	err := f.Settle()
	if err == nil {
		err = r.a.recordSlip(r.Log, &f.Slip, true, f.Settle)
	}
	f.DropDraft()
	return err
}

// slip reads a line; flags count more than it.
func (r *typist) slip(text string) (slip, error) {
	vehicle, track, words, err := r.Names(strings.Fields(text))
	if err != nil {
		return slip{}, usage(err)
	}
	for flag, name := range map[string]*string{"vehicle": &vehicle, "track": &track} {
		if given, _ := r.c.Flags().GetString(flag); given != "" {
			*name = given
		}
	}
	v, err := r.Vehicle(vehicle)
	if err != nil {
		return slip{}, err
	}
	t, err := r.Track(track)
	if err != nil {
		return slip{}, err
	}
	var l typed.Line
	if len(words) > 0 {
		if l, err = typed.ParseLine(r.Bare, strings.Join(words, " "), slip{}, r.Usual(v.ID),
			t.LengthsFt...); err != nil {
			return slip{}, usage(err)
		}
	}
	zone := r.a.zone(t)
	at := r.Now.In(zone).Truncate(time.Second)
	flag, _ := r.c.Flags().GetString("at")
	switch {
	case typed.DayAlone(cmp.Or(flag, l.At)):
		err = usage(typed.NoClock(cmp.Or(flag, l.At), "14:25"))
	case r.c.Flags().Changed("at"):
		at, err = r.a.at(r.c, "at", zone)
	case l.At != "":
		at, err = r.a.moment(l.At, r.Now, zone)
		err = usage(err)
	}
	if err != nil {
		return slip{}, err
	}
	s := l.Slip
	if err := apply(r.c, typed.SlipFields, &s); err != nil {
		return slip{}, err
	}
	s.Vehicle, s.Track, s.Time = v.ID, t.ID, logbook.Time{Time: at}
	r.Log.Fill(&s, r.Beside...)
	return s, nil
}
