package typed

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// Kind is what a line is that is typed where slips, readings and commands all may be.
type Kind int

// The kinds of line.
const (
	Unknown Kind = iota // begins with no word that is known here
	Command
	ASlip
	AReading
)

// Words are those that such a line may begin with.
type Words struct {
	Command func(word string) bool // names one
	Name    func(word string) bool // of a vehicle or a track
}

// enoughTimes make a line a slip, whatever word it begins with (common practice, no source).
const enoughTimes = 3

// KindOf tells what a line is. One of three or more times is a slip, even where it begins
// with the dial or the round of one, but for one with a flag.
func KindOf(bare units.System, text string, is Words) Kind {
	words := strings.Fields(Joined(text))
	if len(words) == 0 {
		return Unknown
	}
	if first := strings.ToLower(words[0]); is.Command(first) {
		flag := func(w string) bool { return len(w) > 2 && strings.HasPrefix(w, "--") }
		if toldBefore(first, words) && times(words[2:]) >= enoughTimes && !slices.ContainsFunc(words, flag) {
			return ASlip
		}
		return Command
	}
	words = slices.DeleteFunc(words, is.Name)
	n := times(words)
	if isAir(bare, strings.Join(words, " "), n) {
		return AReading
	}
	if _, err := ParseLine(bare, strings.Join(words, " "), logbook.Slip{}, logbook.Slip{}); n < enoughTimes {
		word := (*WordError)(nil)
		if len(words) == 0 || errors.As(err, &word) && !IsNumber(words[0]) {
			return Unknown
		}
	}
	return ASlip
}

// WholeSlip reports a line that reads as a slip of three or more times, with nothing left over.
func WholeSlip(bare units.System, text string, is Words) bool {
	words := slices.DeleteFunc(strings.Fields(Joined(text)), is.Name)
	_, err := ParseLine(bare, strings.Join(words, " "), logbook.Slip{}, logbook.Slip{})
	return err == nil && times(words) >= enoughTimes
}

// toldBefore reports a line that begins with the dial or the round of a slip, though the
// word is a command as well: round .042 is a lane.
func toldBefore(first string, words []string) bool {
	return len(words) > 2 && (first == "dial" || first == "round" && !IsNumber(words[1]))
}

// times counts the figures of the racer's own lane.
func times(words []string) (n int) {
	for _, w := range words {
		if BeginsOtherLane(w) {
			break
		}
		if IsNumber(w) {
			n++
		}
	}
	return n
}

// isAir reports a reading by itself: with a unit or as a report, or three bare numbers that
// can be no times.
func isAir(bare units.System, text string, numbers int) bool {
	if reportHead.MatchString(text) {
		return true
	}
	if !isReading(bare, text, nil) {
		return false
	}
	a := oneAir(bare, text, nil)
	inHg := a.Reading.StationInHg.Or(0)
	return numbers < len(strings.Fields(text)) || numbers == 3 && a.Reading.RHPct.Or(0) <= 100 && inHg > 20 && inHg < 32
}

// ParseUse reads what is to hold for the day, as on the line of a slip: class index 8.90,
// heads-up, pro tree, driver lee.
func ParseUse(bare units.System, words []string, s *logbook.Slip) error {
	if len(words) > 2 && strings.EqualFold(words[0], "class") && strings.EqualFold(words[1], "index") {
		words = words[1:]
	}
	l := Line{Slip: *s, bare: bare, said: map[string]string{}}
	numbers, err := l.takeAllButNumbers(words, ownLane)
	word := (*WordError)(nil)
	switch {
	case errors.As(err, &word):
		return fmt.Errorf("%q: %s", Shorten(word.Word), useWanted)
	case err != nil:
		return err
	case len(numbers) > 0 || l.At != "":
		return fmt.Errorf("%q: %s", Shorten(strings.Join(words, " ")), useWanted)
	}
	*s = l.Slip
	return nil
}

const useWanted = "want a vehicle, a track, or class index 8.90, class dial, heads-up, pro tree, driver lee"
