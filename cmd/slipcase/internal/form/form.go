// Package form asks for a slip, in the order of a paper one, by plain lines: they work over
// ssh, in tmux, on a dumb terminal and in a window of twenty columns. What is known before
// (vehicle, track, time, lane, round, dial) is one line, one Enter.
package form

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// Form is a slip being asked for.
type Form struct {
	*Typist
	TTY    *tty.Terminal
	Clock  func() time.Time
	Given  func(flag string) bool                 // fields told by flags are not asked for
	Said   func(flag string) string               // what was
	Force  bool                                   // record what looks wrong as it is
	Look   func(*crew.Slip) ([]crew.Doubt, error) // says what looks wrong
	Record func(f *Form) error
	Slip   crew.Slip

	at       int          // the step asked next
	lastDial units.Number // of the round before, that day
}

// step is one question. Its answer changes the slip or is an error, which is shown
// and asked again.
type step struct {
	label   string
	offered func(*Form) string
	take    func(f *Form, text string) error
}

var errBack = errors.New("back") // the racer wants the question before

// Ask asks for the slip, from what the flags have said, and records it.
func (f *Form) Ask() error {
	if err := f.begin(); err != nil {
		return err
	}
	fmt.Fprintln(f.TTY.Out, `Enter keeps, "." omits, back corrects`)
	return f.toRecord()
}

// Finish shows a slip that is all told, and records it.
func (f *Form) Finish() error {
	f.ToEnd()
	return f.toRecord()
}

// ToEnd leaves out all questions.
func (f *Form) ToEnd() { f.at = len(f.steps()) }

func (f *Form) zone(t logbook.Track) *time.Location { return t.Location(f.Clock().Location()) }

// toRecord asks what is left to ask, until the slip is recorded.
func (f *Form) toRecord() error {
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
	if err := f.Record(f); err != nil {
		return err
	}
	f.DropDraft()
	return nil
}

// begin offers the draft of an earlier try, else what is known before.
func (f *Form) begin() error {
	if d, ok := ReadDraft(f.Log.Dir()); ok {
		fmt.Fprintf(f.TTY.Out, "a slip was begun %s:\n", page.When(d.SavedAt.In(f.Clock().Location())))
		f.show(d.Slip)
		for {
			text, err := f.TTY.Ask(fmt.Sprintf("Enter goes on, %s drops it", discards), "")
			if err != nil {
				return err
			}
			switch strings.ToLower(text) {
			case "", "y", "yes":
				f.Slip, f.at = d.Slip, d.Step
				return nil
			case discards:
				f.DropDraft()
				return f.beginAnew()
			}
			f.complain(fmt.Sprintf("%q is neither: the draft is kept", typed.Shorten(text)))
		}
	}
	return f.beginAnew()
}

// discards is the word that throws a draft away.
const discards = "discard"

func (f *Form) beginAnew() error {
	f.know()
	if f.lastDial.Known() {
		f.complain(fmt.Sprintf("dial %s last time: %s takes it again", page.Hundredths(f.lastDial), dialAgain))
	}
	return nil
}

// know fills in what the command line, the last slip and the clock tell.
func (f *Form) know() {
	last := f.Last()
	vehicle := cmp.Or(f.Said("vehicle"), f.Log.InUse().Vehicle, last.Vehicle)
	if v, err := f.Vehicle(vehicle); err == nil {
		f.Slip.Vehicle = v.ID
		last = f.Usual(v.ID)
	}
	track := cmp.Or(f.Said("track"), f.Log.InUse().Track, last.Track, f.Last().Track)
	t, err := f.Track(track)
	if err == nil {
		f.Slip.Track = t.ID
	}
	at := f.Now.In(f.zone(t)).Truncate(time.Second)
	if f.Given("at") {
		if given, err := f.Moment(f.Said("at"), at, f.zone(t)); err == nil {
			at = given
		}
	}
	f.Slip.Time = logbook.Time{Time: at}
	if !f.Given("lane") {
		f.Slip.Lane = last.Lane
	}
	// A dial belongs to its round: the last one is offered and never taken over.
	if !f.Given("dial") && last.Time.Format(time.DateOnly) == at.Format(time.DateOnly) {
		f.lastDial = last.DialS
	}
	if !f.Given("round") {
		result, _ := crew.TellResult(last, f.Log.TrackOf(last))
		f.Slip.Round = crew.NextRound(last, result, at)
	}
	if f.Slip.Meet == "" && last.Time.Format(time.DateOnly) == at.Format(time.DateOnly) {
		f.Slip.Meet = last.Meet
	}
}

// fill asks from the step that is next to the last one.
func (f *Form) fill() error {
	for steps := f.steps(); f.at < len(steps); steps = f.steps() {
		st := steps[f.at]
		text, err := f.TTY.Ask(st.label, st.offered(f))
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
			f.complain(f.Page.Wrong(err))
		default:
			f.at++
			f.saveDraft()
		}
	}
	return nil
}

func (f *Form) answer(st step, text string) error {
	if tty.GoesBack(text) {
		return errBack
	}
	before, at := f.Slip, f.at
	err := st.take(f, text)
	if err == nil {
		err = typed.Possible(f.Slip, f.Now)
	}
	if err != nil {
		f.Slip, f.at = before, at
	}
	return err
}

// steps are the questions for this crew.Slip: the times as far as the track is long.
func (f *Form) steps() []step {
	steps := []step{{"run", (*Form).head, (*Form).takeHead}}
	for i, flag := range typed.TimesOf {
		if f.Given(flag) || f.beyond(flag) {
			continue
		}
		label := flag + " ft"
		if i == 0 {
			label = flag
		}
		offered := func(f *Form) string { return f.Page.AsTyped(f.Slip, i) }
		steps = append(steps, step{label, offered, func(f *Form, text string) error { return f.takeTime(i, text) }})
	}
	if !f.Given("opponent-et") && !f.Given("result") {
		steps = append(steps, step{"other lane", (*Form).otherTyped, (*Form).takeOther})
	}
	return steps
}

// beyond reports that the day's slips end before a distance.
func (f *Form) beyond(flag string) bool {
	end := 1320.
	if t, err := f.Log.Track(f.Slip.Track); err == nil && f.Slip.Track != "" && len(t.LengthsFt) > 0 {
		end = 0
		for _, ft := range t.LengthsFt {
			end = max(end, ft)
		}
	}
	last := f.Usual(f.Slip.Vehicle)
	if p, some := last.Finish(); some && last.Track == f.Slip.Track && p.Ft >= 660 &&
		f.Slip.Time.Sub(last.Time.Time).Abs() < 24*time.Hour && last.FullPower == "" {
		end = min(end, p.Ft)
	}
	for _, p := range f.Slip.Splits() {
		if strings.TrimSuffix(p.Label, " ft") == flag {
			return p.Ft > end && !p.ETS.Known()
		}
	}
	return false
}

// head is the line above the times as it would be typed.
func (f *Form) head() string {
	s := f.Slip
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
func (f *Form) takeHead(text string) error {
	if text == f.head() {
		text = ""
	}
	vehicle, track, words, err := f.Names(f.sameDial(strings.Fields(typed.Joined(text))))
	if err != nil {
		return err
	}
	noTrack := len(words) == 1 && words[0] == typed.Absent
	if noTrack {
		words, f.Slip.Track = nil, ""
	}
	at, times, err := typed.ParseHead(f.Bare, strings.Join(words, " "), &f.Slip)
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
		vehicle = f.Slip.Vehicle
	}
	v, err := f.Vehicle(vehicle)
	if err != nil {
		return fmt.Errorf("which vehicle: %s", f.ids())
	}
	if track == "" {
		track = f.Slip.Track
	}
	var t logbook.Track
	switch {
	case track != "":
		if t, err = f.Track(track); err != nil {
			return err
		}
	case len(f.Tracks) > 0 && !noTrack:
		return fmt.Errorf(`which track: %s; "." for none of them`, f.trackIDs())
	}
	f.Slip.Vehicle, f.Slip.Track = v.ID, t.ID
	moment := f.Slip.Time.In(f.zone(t))
	if typed.DayAlone(at) {
		return typed.NoClock(at, moment.Format("15:04"))
	}
	if at != "" {
		if moment, err = f.Moment(at, f.Now, f.zone(t)); err != nil {
			return err
		}
	}
	f.Slip.Time = logbook.Time{Time: moment}
	return f.timesInHead(times)
}

// timesInHead takes times typed on the line above them. Where they cannot be read the words
// beside them stay.
func (f *Form) timesInHead(times []string) error {
	if len(times) == 0 {
		return nil
	}
	before := f.Slip
	err := f.takeRest(0, times)
	if err == nil {
		err = typed.Possible(f.Slip, f.Now)
	}
	if err != nil {
		f.Slip, f.at = before, 0
		f.complain(f.Page.Wrong(err))
	}
	return nil
}

// dialAgain is typed for the dial of the round before.
const dialAgain = "d"

// sameDial writes out the dial that is taken again.
func (f *Form) sameDial(words []string) []string {
	if i := slices.Index(words, dialAgain); i >= 0 && f.lastDial.Known() {
		return slices.Replace(slices.Clone(words), i, i+1, "dial", page.Hundredths(f.lastDial))
	}
	return words
}

func (f *Form) ids() string {
	var ids []string
	for _, v := range f.Vehicles {
		ids = append(ids, v.ID)
	}
	if len(ids) == 0 {
		return "none is in the logbook yet: slipcase vehicle add"
	}
	return strings.Join(ids, ", ")
}

func (f *Form) trackIDs() string {
	var ids []string
	for _, t := range f.Tracks {
		ids = append(ids, t.ID)
	}
	return strings.Join(ids, ", ")
}

// complain writes a remark by the field it is about.
func (f *Form) complain(words string) {
	for _, line := range page.Lines(table.Clean(words), f.Page.Room()-2) {
		fmt.Fprintf(f.TTY.Out, "  %s\n", line)
	}
}
