package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// The form asks in the order of a paper slip, by plain lines: they work over ssh, in
// tmux, on a dumb terminal and in a window of twenty columns. What is known before
// (vehicle, track, time, lane, round, dial) is one line, one Enter.

// form is a slip being asked for.
type form struct {
	*typist
	slip  slip
	given map[string]bool // fields told by flags, not asked for
	at    int             // the step asked next

	lastDial units.Number // of the round before, that day
}

// step is one question. Its answer changes the slip or is an error, which is shown
// and asked again.
type step struct {
	label   string
	offered func(*form) string
	take    func(f *form, text string) error
}

var errBack = errors.New("back") // the racer wants the question before

// slipForm asks for a slip and records it; s holds what the flags have said.
func (a *app) slipForm(c *cobra.Command, lb *crew.Session, r *typist, s slip) error {
	f := &form{typist: r, slip: s, given: map[string]bool{}}
	for _, field := range typed.SlipFields {
		f.given[field.Flag] = c.Flags().Changed(field.Flag)
	}
	if err := f.begin(); err != nil {
		return err
	}
	fmt.Fprintln(a.tty.Out, `Enter keeps, "." omits, back corrects`)
	return f.toRecord()
}

// toRecord asks what is left to ask, until the slip is recorded.
func (f *form) toRecord() error {
	for {
		if err := f.fill(); err != nil {
			return err
		}
		again, err := f.review()
		if err != nil {
			return err
		}
		if !again {
			break
		}
	}
	if err := f.a.recordSlip(f.lb, &f.slip, false, f.settle); err != nil {
		return err
	}
	f.dropDraft()
	return nil
}

// begin offers the draft of an earlier try, else what is known before.
func (f *form) begin() error {
	if d, ok := f.draft(); ok {
		fmt.Fprintf(f.a.tty.Out, "a slip was begun %s:\n", page.When(d.SavedAt.In(f.a.now().Location())))
		f.show(d.Slip)
		for {
			text, err := f.a.tty.Ask(fmt.Sprintf("Enter goes on, %s drops it", discards), "")
			if err != nil {
				return err
			}
			switch strings.ToLower(text) {
			case "", "y", "yes":
				f.slip, f.at = d.Slip, d.Step
				return nil
			case discards:
				f.dropDraft()
				return f.beginAnew()
			}
			f.complain(fmt.Sprintf("%q is neither: the draft is kept", clipped(text)))
		}
	}
	return f.beginAnew()
}

// discards is the word that throws a draft away.
const discards = "discard"

func (f *form) beginAnew() error {
	f.know()
	if f.lastDial.Known() {
		f.complain(fmt.Sprintf("dial %s last time: %s takes it again", page.Hundredths(f.lastDial), dialAgain))
	}
	return nil
}

// know fills in what the command line, the last slip and the clock tell.
func (f *form) know() {
	vehicle, _ := f.c.Flags().GetString("vehicle")
	track, _ := f.c.Flags().GetString("track")
	last := f.last()
	vehicle = cmp.Or(vehicle, f.lb.InUse().Vehicle, last.Vehicle)
	if v, err := f.vehicle(vehicle); err == nil {
		f.slip.Vehicle = v.ID
		last = f.usual(v.ID)
	}
	track = cmp.Or(track, f.lb.InUse().Track, last.Track, f.last().Track)
	t, err := f.track(track)
	if err == nil {
		f.slip.Track = t.ID
	}
	at := f.now.In(f.a.zone(t)).Truncate(time.Second)
	if f.c.Flags().Changed("at") {
		if given, err := f.a.at(f.c, "at", f.a.zone(t)); err == nil {
			at = given
		}
	}
	f.slip.Time = logbook.Time{Time: at}
	if !f.given["lane"] {
		f.slip.Lane = last.Lane
	}
	// A dial belongs to its round: the last one is offered and never taken over.
	if !f.given["dial"] && last.Time.Format(time.DateOnly) == at.Format(time.DateOnly) {
		f.lastDial = last.DialS
	}
	if !f.given["round"] {
		result, _ := crew.TellResult(last, f.lb.TrackOf(last))
		f.slip.Round = crew.NextRound(last, result, at)
	}
	if f.slip.Meet == "" && last.Time.Format(time.DateOnly) == at.Format(time.DateOnly) {
		f.slip.Meet = last.Meet
	}
}

// fill asks from the step that is next to the last one.
func (f *form) fill() error {
	for steps := f.steps(); f.at < len(steps); steps = f.steps() {
		st := steps[f.at]
		text, err := f.a.tty.Ask(st.label, st.offered(f))
		if err != nil {
			return err
		}
		err = f.answer(st, text)
		switch {
		case errors.Is(err, errBack):
			f.at = max(f.at-1, 0)
		case errors.Is(err, tty.ErrEnded), errors.Is(err, tty.ErrInterrupted):
			return err
		case err != nil:
			f.complain(f.a.page.Wrong(err))
		default:
			f.at++
			f.saveDraft()
		}
	}
	return nil
}

func (f *form) answer(st step, text string) error {
	if tty.GoesBack(text) {
		return errBack
	}
	before, at := f.slip, f.at
	err := st.take(f, text)
	if err == nil {
		err = typed.Possible(f.slip, f.now)
	}
	if err != nil {
		f.slip, f.at = before, at
	}
	return err
}

// steps are the questions for this slip: the times as far as the track is long.
func (f *form) steps() []step {
	steps := []step{{"run", (*form).head, (*form).takeHead}}
	for i, flag := range typed.TimesOf {
		if f.given[flag] || f.beyond(flag) {
			continue
		}
		label := flag + " ft"
		if i == 0 {
			label = flag
		}
		offered := func(f *form) string { return f.a.page.AsTyped(f.slip, i) }
		steps = append(steps, step{label, offered, func(f *form, text string) error { return f.takeTime(i, text) }})
	}
	if !f.given["opponent-et"] && !f.given["result"] {
		steps = append(steps, step{"other lane", (*form).otherTyped, (*form).takeOther})
	}
	return steps
}

// beyond reports that the day's slips end before a distance.
func (f *form) beyond(flag string) bool {
	end := 1320.
	if t, err := f.lb.Track(f.slip.Track); err == nil && f.slip.Track != "" && len(t.LengthsFt) > 0 {
		end = 0
		for _, ft := range t.LengthsFt {
			end = max(end, ft)
		}
	}
	last := f.usual(f.slip.Vehicle)
	if p, some := last.Finish(); some && last.Track == f.slip.Track && p.Ft >= 660 &&
		f.slip.Time.Sub(last.Time.Time).Abs() < 24*time.Hour && last.FullPower == "" {
		end = min(end, p.Ft)
	}
	for _, p := range f.slip.Splits() {
		if strings.TrimSuffix(p.Label, " ft") == flag {
			return p.Ft > end && !p.ETS.Known()
		}
	}
	return false
}

// head is the line above the times as it would be typed.
func (f *form) head() string {
	s := f.slip
	parts := []string{s.Vehicle, s.Track}
	if !s.Time.IsZero() {
		parts = append(parts, s.Time.Format("15:04"))
	}
	parts = append(parts, s.Lane, s.Round)
	if s.DialS.Known() {
		parts = append(parts, "dial "+page.Hundredths(s.DialS))
	}
	return strings.Join(strings.Fields(strings.Join(parts, " ")), " ")
}

// takeHead changes of the line above the times what is typed.
func (f *form) takeHead(text string) error {
	if text == f.head() {
		text = ""
	}
	vehicle, track, words, err := f.names(f.sameDial(strings.Fields(typed.Joined(text))))
	if err != nil {
		return err
	}
	noTrack := len(words) == 1 && words[0] == typed.Absent
	if noTrack {
		words, f.slip.Track = nil, ""
	}
	at, times, err := typed.ParseHead(bareIn(f.c), strings.Join(words, " "), &f.slip)
	if unknown := (*typed.WordError)(nil); errors.As(err, &unknown) {
		return fmt.Errorf(
			"%q is no vehicle (%s), no track (%s), no lane, round, dial or time",
			unknown.Word,
			f.ids(),
			f.trackIDs(),
		)
	}
	if err != nil {
		return err
	}
	if vehicle == "" {
		vehicle = f.slip.Vehicle
	}
	v, err := f.vehicle(vehicle)
	if err != nil {
		return fmt.Errorf("which vehicle: %s", f.ids())
	}
	if track == "" {
		track = f.slip.Track
	}
	var t logbook.Track
	switch {
	case track != "":
		if t, err = f.track(track); err != nil {
			return err
		}
	case len(f.tracks) > 0 && !noTrack:
		return fmt.Errorf(`which track: %s; "." for none of them`, f.trackIDs())
	}
	f.slip.Vehicle, f.slip.Track = v.ID, t.ID
	moment := f.slip.Time.In(f.a.zone(t))
	if typed.DayAlone(at) {
		return noClock(at, moment.Format("15:04"))
	}
	if at != "" {
		if moment, err = f.a.moment(at, f.now, f.a.zone(t)); err != nil {
			return err
		}
	}
	f.slip.Time = logbook.Time{Time: moment}
	return f.timesInHead(times)
}

// timesInHead takes times typed on the line above them. Where they cannot be read the words
// beside them stay.
func (f *form) timesInHead(times []string) error {
	if len(times) == 0 {
		return nil
	}
	before := f.slip
	err := f.takeRest(0, times)
	if err == nil {
		err = typed.Possible(f.slip, f.now)
	}
	if err != nil {
		f.slip, f.at = before, 0
		f.complain(f.a.page.Wrong(err))
	}
	return nil
}

// dialAgain is typed for the dial of the round before.
const dialAgain = "d"

// sameDial writes out the dial that is taken again.
func (f *form) sameDial(words []string) []string {
	if i := slices.Index(words, dialAgain); i >= 0 && f.lastDial.Known() {
		return slices.Replace(slices.Clone(words), i, i+1, "dial", page.Hundredths(f.lastDial))
	}
	return words
}

func (f *form) ids() string {
	var ids []string
	for _, v := range f.vehicles {
		ids = append(ids, v.ID)
	}
	if len(ids) == 0 {
		return "none is in the logbook yet: slipcase vehicle add"
	}
	return strings.Join(ids, ", ")
}

func (f *form) trackIDs() string {
	var ids []string
	for _, t := range f.tracks {
		ids = append(ids, t.ID)
	}
	return strings.Join(ids, ", ")
}

// complain writes a remark by the field it is about.
func (f *form) complain(words string) {
	for _, line := range page.Lines(table.Clean(words), f.a.page.Room()-2) {
		fmt.Fprintf(f.a.tty.Out, "  %s\n", line)
	}
}
