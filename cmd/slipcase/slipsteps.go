package main

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// takeTime takes the answer to one of timesOf. Several numbers are this field and
// those after it: a whole slip can be typed at the first.
func (f *form) takeTime(at int, text string) error {
	if text == f.a.page.AsTyped(f.slip, at) {
		return nil // Enter
	}
	text = typed.Joined(text)
	words := strings.Fields(text)
	if len(words) > 1 && !(at >= 3 && len(words) == 2 && !strings.Contains(text, "@") && isSpeed(words[1])) {
		return f.takeRest(at, words)
	}
	field, _ := slipField(timesOf[at])
	return field.set(&f.slip, text)
}

// isSpeed reports that a number has the two decimals, or none, of a printed speed.
func isSpeed(text string) bool {
	_, decimals, point := strings.Cut(text, ".")
	return point && len(decimals) <= 2 || !point && len(text) <= 3
}

// takeRest reads a line from one of timesOf on, as far as it goes; the question asked
// next is that behind its last time.
func (f *form) takeRest(at int, words []string) error {
	line := slices.Concat(slices.Repeat([]string{typed.Absent}, at), words)
	l, err := typed.ParseLine(strings.Join(line, " "), f.slip, f.usual(f.slip.Vehicle))
	if err != nil {
		return err
	}
	old, first := crew.TimeCells(&f.slip)
	read, _ := crew.TimeCells(&l.Slip)
	last := -1 // of the cells that the line tells
	for i := first[at]; i < len(read); i++ {
		if read[i].Known() {
			last = i
		}
	}
	if last < 0 {
		return fmt.Errorf("%q has no time of a slip: the day, the lane and the round stand in the first line, back goes there",
			clipped(strings.Join(words, " ")))
	}
	for i := range read {
		if i < first[at] || i > last {
			*read[i] = *old[i]
		}
	}
	if l.At != "" {
		if l.Slip.Time.Time, err = typed.Moment(l.At, f.slip.Time.Time, f.slip.Time.Location()); err != nil {
			return err
		}
	}
	f.slip = l.Slip
	f.goBehind(last, first, slices.ContainsFunc(words, typed.BeginsOtherLane))
	return nil
}

// goBehind goes to the question whose answer brings that behind a cell; other says
// that the other lane is told as well.
func (f *form) goBehind(last int, first []int, other bool) {
	told := 0
	for i, at := range first {
		if at <= last {
			told = i
		}
	}
	for i, st := range f.steps() {
		if place := slices.Index(timesOf, strings.TrimSuffix(st.label, " ft")); place >= 0 && place <= told || other {
			f.at = i
		}
	}
}

func (f *form) otherTyped() string { return page.OtherAsTyped(f.slip, typed.Absent) }

func (f *form) takeOther(text string) error {
	if text == f.otherTyped() {
		return nil
	}
	base := f.slip
	for _, n := range []*units.Number{&base.OpponentReactionS, &base.OpponentETS, &base.OpponentMPH, &base.OpponentDialS} {
		*n = units.Number{}
	}
	base.Result = ""
	if text == typed.Absent {
		f.slip = base
		return nil
	}
	l, err := typed.ParseLine("/ "+text, base, slip{})
	if err != nil {
		return err
	}
	if l.At != "" {
		return fmt.Errorf("%q is no part of the other lane: the time of the run stands in the first line", l.At)
	}
	f.slip = l.Slip
	f.tellResult()
	return nil
}

// tellResult fills in who won where both lanes tell it; a word typed stands.
func (f *form) tellResult() {
	word, why := crew.TellResult(f.slip, f.lb.TrackOf(f.slip))
	switch {
	case word == "" || f.slip.Result == word:
	case f.slip.Result == "":
		f.slip.Result, f.told = word, word
		f.complain(word + ": " + page.Decision(why))
	default:
		f.complain("by these figures " + word + ": " + page.Decision(why))
	}
}

// show writes the slip as it stands.
func (f *form) show(s slip) {
	width := f.a.page.Room() - 2
	head := []string{s.Vehicle, s.Track, s.Time.Format("2 Jan 15:04")}
	fmt.Fprintf(f.a.tty.Out, "  %s\n", table.Clean(strings.Join(strings.Fields(strings.Join(head, " ")), " ")))
	for _, line := range f.a.page.SlipLines(s, width) {
		fmt.Fprintf(f.a.tty.Out, "  %s\n", table.Clean(line))
	}
}

// review shows the whole slip: Enter records it, anything else changes it. again
// says that the questions are to go on.
func (f *form) review() (again bool, err error) {
	for {
		f.show(f.slip)
		text, err := f.a.tty.Ask("Enter records, 60 1.9 corrects", "")
		if err != nil {
			return false, err
		}
		switch {
		case goesBack(text):
			f.at = max(len(f.steps())-1, 0)
			return true, nil
		case text == "":
			err = f.settle()
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
			f.complain(err.Error())
		}
		f.saveDraft()
	}
}

// change takes "field value" at the review; without a field it is the words of the
// line above the times that are meant.
func (f *form) change(text string) error {
	name, rest, _ := strings.Cut(typed.Joined(text), " ")
	name, rest = strings.ToLower(strings.TrimSuffix(name, ":")), strings.TrimSpace(rest)
	before := f.slip
	field, ok := slipField(name)
	var err error
	switch {
	case rest == "" && (ok || name == "/" || name == "other"):
		err = fmt.Errorf(`%s is to be what? want the field and its value, as 60 1.9; "60 ." leaves it out`, name)
	case ok:
		err = field.set(&f.slip, rest)
	case name == "/" || name == "other":
		err = f.takeOther(rest)
	case typed.IsNumber(name):
		err = fmt.Errorf("%q is the value of which field? want it named, as 60 1.9, 1320 13.212@105.84, dial 13.25", clipped(text))
	default:
		err = f.takeHead(text)
	}
	if err == nil {
		err = possible(f.slip, f.now)
	}
	if err != nil {
		f.slip = before
		return err
	}
	f.retell()
	return nil
}

// retell tells the result anew after a figure has changed, unless it was typed.
func (f *form) retell() {
	if f.told != "" && f.slip.Result == f.told {
		f.slip.Result = ""
		f.tellResult()
	}
}
