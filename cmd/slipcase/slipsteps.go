package main

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/predict"
	"slipcase/weather/units"
)

// typedAs is a field of the slip as it would be typed, "" while it is empty.
func (f *form) typedAs(flag string) string {
	if flag == "reaction" {
		return reactionText(f.slip.ReactionS)
	}
	for _, p := range f.slip.Splits() {
		if strings.TrimSuffix(p.Label, " ft") != flag {
			continue
		}
		if p.MPH.Known() {
			return fmt.Sprintf("%s@%.2f", seconds(p.ETS), p.MPH.Value())
		}
		return seconds(p.ETS)
	}
	return ""
}

// takeTime takes the answer to one of timesOf. Several numbers are this field and
// those after it: a whole slip can be typed at the first.
func (f *form) takeTime(at int, text string) error {
	if text == f.typedAs(timesOf[at]) {
		return nil // Enter
	}
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

// timeCells are the cells of a slip that timesOf fill, in order, and the first cell
// of each.
func timeCells(s *slip) (cells []*units.Number, first []int) {
	return []*units.Number{&s.ReactionS, &s.ET60S, &s.ET330S, &s.ET660S, &s.MPH660, &s.ET1000S, &s.MPH1000, &s.ET1320S, &s.MPH1320},
		[]int{0, 1, 2, 3, 5, 7}
}

// takeRest reads the rest of a slip from one line and goes on behind it.
func (f *form) takeRest(at int, words []string) error {
	line := slices.Concat(slices.Repeat([]string{typed.Absent}, at), words)
	l, err := typed.ParseLine(strings.Join(line, " "), f.slip, f.usual(f.slip.Vehicle))
	if err != nil {
		return err
	}
	old, first := timeCells(&f.slip)
	read, _ := timeCells(&l.Slip)
	for i := range first[at] {
		*read[i] = *old[i]
	}
	f.slip = l.Slip
	for f.at+2 < len(f.steps()) {
		f.at++ // all times are said
	}
	return nil
}

// otherTyped is the other lane as it would be typed.
func otherTyped(s slip) string {
	var parts []string
	if s.OpponentETS.Known() || s.OpponentReactionS.Known() {
		for _, n := range []string{reactionText(s.OpponentReactionS), seconds(s.OpponentETS), hundredths(s.OpponentDialS)} {
			if n == "" {
				n = typed.Absent
			}
			parts = append(parts, n)
		}
	}
	return strings.Join(append(parts, strings.Fields(s.Result)...), " ")
}

func (f *form) takeOther(text string) error {
	if text == otherTyped(f.slip) {
		return nil
	}
	base := f.slip
	base.OpponentReactionS, base.OpponentETS, base.OpponentMPH, base.OpponentDialS = units.Number{}, units.Number{}, units.Number{}, units.Number{}
	base.Result = ""
	if text == typed.Absent {
		f.slip = base
		return nil
	}
	l, err := typed.ParseLine("/ "+text, base, slip{})
	if err != nil {
		return err
	}
	f.slip = l.Slip
	f.tellResult()
	return nil
}

// tellResult fills in who won where both lanes tell it; a word typed stands.
func (f *form) tellResult() {
	var rules predict.RoundRules
	if t, err := f.track(f.slip.Track); err == nil {
		rules.PerfectS, rules.WorstRed = t.PerfectReactionS.Or(0), t.BothRed == "worst"
	}
	lanes := lanesOf(f.slip, trackOf(f.lb, f.slip))
	if !lanes[1].ReactionS.Known() || !lanes[0].ETS.Known() {
		return
	}
	res := predict.Adjudicate(rules, lanes, false)
	word := resultWord(res.Winner)
	switch {
	case word == "":
	case f.slip.Result == "":
		f.slip.Result, f.told = word, word
		f.complain(word + ": " + res.Why)
	case f.slip.Result != word:
		f.complain("by these figures " + word + ": " + res.Why)
	}
}

// show writes the slip as it stands.
func (f *form) show(s slip) {
	width := f.a.room() - 2
	head := []string{s.Vehicle, s.Track, s.Time.Format("2 Jan 15:04")}
	fmt.Fprintf(f.a.terminal, "  %s\n", table.Clean(strings.Join(strings.Fields(strings.Join(head, " ")), " ")))
	for _, line := range slipLines(s, width) {
		fmt.Fprintf(f.a.terminal, "  %s\n", table.Clean(line))
	}
}

// review shows the whole slip: Enter records it, anything else changes it. again
// says that the questions are to go on.
func (f *form) review() (again bool, err error) {
	for {
		f.show(f.slip)
		text, err := f.a.ask("Enter records, 60 1.9 corrects", "")
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

// change takes "field value" at the review; without a field it is the line above
// the times that is meant.
func (f *form) change(text string) error {
	name, rest, _ := strings.Cut(text, " ")
	name = strings.ToLower(strings.TrimSuffix(name, ":"))
	before := f.slip
	var err error
	if field, ok := slipField(name); ok {
		err = field.set(&f.slip, strings.TrimSpace(rest))
	} else if name == "/" || name == "other" {
		err = f.takeOther(strings.TrimSpace(rest))
	} else if typed.Word(&f.slip, name) && rest == "" {
		err = nil
	} else {
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
