package form

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// takeTime takes the answer to one of typed.TimesOf. Several numbers are this field and
// those after it: a whole slip can be typed at the first.
func (f *Form) takeTime(at int, text string) error {
	if text == f.Page.AsTyped(f.Slip, at) {
		return nil // Enter
	}
	text = typed.Joined(text)
	words := strings.Fields(text)
	switch mph, is := f.lateSpeed(at, text); is {
	case typed.OnlySpeed:
		*mph.at, f.at = mph.n, f.at-1 // this line is still asked for
		return nil
	case typed.MaybeSpeed:
		speed, err := f.asSpeed(at, text, mph)
		if err != nil {
			return err
		}
		if speed {
			*mph.at, f.at = mph.n, f.at-1
			return nil
		}
	}
	early := at > 0 && f.Slip.Splits()[at-1].Ft < 660
	if early && len(words) == 1 && strings.Contains(text, "@") {
		return f.takeEarly(at, text)
	}
	if len(words) > 1 && !(at >= 3 && len(words) == 2 && !strings.Contains(text, "@") && isSpeed(words[1])) {
		return f.takeRest(at, words)
	}
	field, _ := typed.SlipField(typed.TimesOf[at])
	return field.Set(&f.Slip, f.Bare, text)
}

// isSpeed reports that a number has the two decimals, or none, of a printed speed.
func isSpeed(text string) bool {
	_, decimals, point := strings.Cut(text, ".")
	return point && len(decimals) <= 2 || !point && len(text) <= 3
}

// late is a speed on a line of its own, its cell and the distance.
type late struct {
	n  units.Number
	at *units.Number
	ft float64
}

// lateSpeed reads a number on a line of its own as the speed of the time before it; it is
// absent where it is none. Where it may be the next time as well, the slip before tells.
func (f *Form) lateSpeed(at int, text string) (mph late, is typed.Late) {
	cells, splits := speedCells(&f.Slip), f.Slip.Splits()
	i := min(at, len(splits)) - 1
	if at < len(typed.TimesOf) {
		i--
	}
	for ; i >= 0 && !splits[i].ETS.Known(); i-- {
	}
	if i < 0 || cells[i] == nil || cells[i].Known() {
		return mph, typed.NotSpeed
	}
	next := 0.
	if at < len(typed.TimesOf) {
		next = splits[at-1].Ft
	}
	mph.at, mph.ft = cells[i], splits[i].Ft
	mph.n, is = typed.LateSpeed(f.Bare, text, splits[i], next)
	if usual := f.Usual(f.Slip.Vehicle).Splits(); is == typed.MaybeSpeed &&
		usual[at-1].ETS.Known() != usual[i].MPH.Known() {
		is = typed.NotSpeed
		if usual[i].MPH.Known() {
			is = typed.OnlySpeed
		}
	}
	return mph, is
}

// asSpeed asks whether a number that may be a speed or the next time is the speed.
func (f *Form) asSpeed(at int, text string, mph late) (bool, error) {
	et, err := typed.Time(text, f.Slip.Splits()[at-1].Ft)
	if err != nil {
		return false, err
	}
	fmt.Fprintf(f.TTY.Out, "  [Enter] %g ft speed %s\n", mph.ft, f.Page.Speed(mph.n))
	word, err := f.TTY.Key(fmt.Sprintf("  [t] %s ft time %s", typed.TimesOf[at], page.Seconds(et)), "", "time", tty.Back)
	if word == tty.Back {
		err = errBack
	}
	return word == "", err
}

// speedCells are the cells for the speeds of a slip, nil where it prints none.
func speedCells(s *crew.Slip) []*units.Number {
	return []*units.Number{nil, nil, &s.MPH660, &s.MPH1000, &s.MPH1320}
}

// takeEarly takes a speed a line before the slip prints one: the lines above are moved
// down with it, if that is what happened.
func (f *Form) takeEarly(at int, text string) error {
	wrong := fmt.Errorf("%q: a speed is printed from 660 ft on; back goes to the line before", typed.Shorten(text))
	et, mph, _, err := typed.Split(f.Bare, text, 660)
	if err != nil || typed.TimesOf[at+1] != "660" {
		return wrong
	}
	s := f.Slip
	s.ET330S = et
	d, shifted := f.Log.Shifted(s)
	if !shifted || !d.Down {
		return wrong
	}
	d.Readings[0].Apply(&s)
	s.MPH660 = mph
	f.complain(f.Page.Doubt(d))
	word, err := f.TTY.Key("  [Enter] "+f.Page.Meant(d.Readings[0])+" [e] edit", "", "edit", tty.Back)
	switch {
	case err != nil:
		return err
	case word != "":
		return errBack
	}
	f.Slip = s
	_, first := crew.TimeCells(&s)
	f.goBehind(first[at+1], first, false)
	return nil
}

// takeRest reads a line from one of typed.TimesOf on, as far as it goes; the question asked
// next is that behind its last time.
func (f *Form) takeRest(at int, words []string) error {
	line := slices.Concat(slices.Repeat([]string{typed.Absent}, at), words)
	l, err := typed.ParseLine(
		f.Bare,
		strings.Join(line, " "),
		f.Slip,
		f.Usual(f.Slip.Vehicle),
		f.Log.TrackOf(f.Slip).LengthsFt...)
	if err != nil {
		return err
	}
	old, first := crew.TimeCells(&f.Slip)
	read, _ := crew.TimeCells(&l.Slip)
	last := -1 // of the cells that the line tells
	for i := first[at]; i < len(read); i++ {
		if read[i].Known() {
			last = i
		}
	}
	if last < 0 {
		return fmt.Errorf(
			"%q has no time of a slip: the day, the lane and the round stand in the first line, back goes there",
			typed.Shorten(strings.Join(words, " ")),
		)
	}
	for i := range read {
		if i < first[at] || i > last {
			*read[i] = *old[i]
		}
	}
	if l.At != "" {
		if l.Slip.Time.Time, err = f.Moment(l.At, f.Slip.Time.Time, f.Slip.Time.Location()); err != nil {
			return err
		}
	}
	f.Slip = l.Slip
	f.goBehind(last, first, slices.ContainsFunc(words, typed.BeginsOtherLane))
	return nil
}

// goBehind goes to the question whose answer brings that behind a cell; other says
// that the other lane is told as well.
func (f *Form) goBehind(last int, first []int, other bool) {
	told := 0
	for i, at := range first {
		if at <= last {
			told = i
		}
	}
	for i, st := range f.steps() {
		if place := slices.Index(typed.TimesOf, strings.TrimSuffix(st.label, " ft")); place >= 0 && place <= told || other {
			f.at = i
		}
	}
}

func (f *Form) otherTyped() string { return f.Page.OtherAsTyped(f.Slip, typed.Absent) }

func (f *Form) takeOther(text string) error {
	if text == f.otherTyped() {
		return nil
	}
	text = typed.Joined(text)
	switch mph, is := f.lateSpeed(len(typed.TimesOf), text); {
	case is == typed.OnlySpeed:
		*mph.at, f.at = mph.n, f.at-1
		return nil
	case mph.n.Known():
		return units.Errorf("%[1]q may be your own speed: want @%[1]s, or the other lane as .051 12.430@{109.40|176.06}", text)
	}
	return f.readOther(crew.WithoutOther(f.Slip), text)
}

// correctOther takes what the review says of the other lane: the rest of it stays, unless it
// broke, which says all of it.
func (f *Form) correctOther(text string) error {
	base := f.Slip
	if slices.ContainsFunc(strings.Fields(text), func(w string) bool { return strings.EqualFold(w, "broke") }) {
		base = crew.WithoutOther(base)
	}
	return f.readOther(base, typed.Joined(text))
}

// readOther reads the other lane into a slip that holds what is to stay.
func (f *Form) readOther(base crew.Slip, text string) error {
	if text == typed.Absent {
		f.Slip = crew.WithoutOther(f.Slip)
		return nil
	}
	l, err := typed.ParseLine(f.Bare, "/ "+text, base, crew.Slip{})
	if err != nil {
		return err
	}
	if l.At != "" {
		return fmt.Errorf("%q is no part of the other lane: the time of the run stands in the first line", l.At)
	}
	f.Slip = l.Slip
	return nil
}

// tellResult says who won where both lanes tell it. Only the racer's own word is
// recorded.
func (f *Form) tellResult() {
	silent := f.Slip
	silent.Result = ""
	word, why := crew.TellResult(silent, f.Log.TrackOf(f.Slip))
	switch {
	case word == "" || f.Slip.Result == word || f.Slip.Result == "dq":
	case f.Slip.Result == "":
		f.complain(word + ": " + page.Decision(why))
	default:
		f.complain("by these figures " + word + ": " + page.Decision(why))
	}
}

// show writes the slip as it stands.
func (f *Form) show(s crew.Slip) {
	width := f.Page.Room() - 2
	head := []string{s.Vehicle, s.Track, s.Time.Format("2 Jan 15:04")}
	fmt.Fprintf(f.TTY.Out, "  %s\n", table.Clean(strings.Join(strings.Fields(strings.Join(head, " ")), " ")))
	for _, line := range f.Page.SlipLines(s, width) {
		fmt.Fprintf(f.TTY.Out, "  %s\n", table.Clean(line))
	}
}

// review shows the whole slip: Enter records it, anything else changes it. again
// says that the questions are to go on.
func (f *Form) review() (again bool, err error) {
	for {
		f.Log.Fill(&f.Slip)
		f.show(f.Slip)
		f.tellResult()
		text, err := f.TTY.Ask("Enter records, 60 1.9 corrects", "")
		if err != nil {
			return false, err
		}
		switch {
		case tty.GoesBack(text):
			f.at = max(len(f.steps())-1, 0)
			return true, nil
		case text == "":
			err = f.Settle()
			if err == nil {
				return false, nil
			}
			if !isRetry(err) {
				return false, err
			}
		default:
			err = f.change(text)
		}
		if err != nil {
			f.complain(f.Page.Wrong(err))
		}
		f.saveDraft()
	}
}

// change takes "field value" at the review; without a field it is the words of the
// line above the times that are meant.
func (f *Form) change(text string) error {
	name, rest, _ := strings.Cut(typed.Joined(text), " ")
	name, rest = strings.ToLower(strings.TrimSuffix(name, ":")), strings.TrimSpace(rest)
	before := f.Slip
	field, ok := typed.SlipField(name)
	var err error
	switch {
	case rest == "" && slices.Contains(typed.YesAlone, name):
		err = field.Set(&f.Slip, f.Bare, "yes")
	case rest == "" && (ok || name == "/" || name == "other"):
		err = fmt.Errorf(`%s is to be what? want the field and its value, as 60 1.9; "60 ." leaves it out`, name)
	case ok:
		err = field.Set(&f.Slip, f.Bare, rest)
	case name == "/" || name == "other":
		err = f.correctOther(rest)
	case typed.IsNumber(name):
		err = units.Errorf(
			"%q is the value of which field? want it named, as 60 1.9, 1320 13.212@{105.84|170.33}, dial 13.25",
			typed.Shorten(text),
		)
	default:
		err = f.takeHead(text)
	}
	if err == nil {
		err = typed.Possible(f.Slip, f.Now)
	}
	if err != nil {
		f.Slip = before
		return err
	}
	return nil
}
