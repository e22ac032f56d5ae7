package typed

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"slipcase/logbook"
)

const laneWanted = "want its reaction, ET and dial, as / .051 12.430 12.40"

// Lane reads the other lane's reaction, ET and dial, in this order, into s. Of two, a
// first value that is no reaction is the ET; one alone must tell what it is. name is
// what errors call the lane.
func Lane(name string, s *logbook.Slip, words []string) error {
	switch {
	case len(words) == 0:
		return nil
	case len(words) > 3:
		return fmt.Errorf("%s has %q too many: %s", name, Shorten(words[3]), laneWanted)
	case len(words) == 1 && ambiguous(words[0]):
		return fmt.Errorf("%q alone may be %s's reaction, ET or dial: want .051, 12.430 to the thousandth, or dial 12.40", Shorten(words[0]), name)
	}
	if r, err := Reaction(words[0]); len(words) == 3 || err == nil && (!r.Known() || isReaction(words[0], r.Value())) {
		if err != nil {
			return fmt.Errorf("%s's reaction: %w", name, err)
		}
		s.OpponentReactionS = r
		words = words[1:]
	}
	if len(words) > 2 {
		return fmt.Errorf("%s has %q too many: %s", name, Shorten(words[2]), laneWanted)
	}
	if len(words) > 0 {
		if err := timeOf(name, s, words[0]); err != nil {
			return err
		}
	}
	if len(words) == 2 {
		dial, err := Dial(words[1])
		if err != nil {
			return fmt.Errorf("%s's dial: %w", name, err)
		}
		s.OpponentDialS = dial
	}
	return nil
}

func timeOf(name string, s *logbook.Slip, text string) error {
	time, speed, _ := strings.Cut(text, "@")
	et, err := OtherET(time)
	if err != nil {
		return fmt.Errorf("%s's ET: %w", name, err)
	}
	mph, err := Speed(speed, et, 0)
	if err != nil {
		return fmt.Errorf("%s's speed: %w", name, err)
	}
	s.OpponentETS, s.OpponentMPH = et, mph
	return nil
}

// isReaction reports that a value is short enough for a reaction and typed like one:
// 1260 is not, though thousandths of a second would make it 1.260.
func isReaction(text string, v float64) bool {
	return v < dials.low && !(bareDigits.MatchString(text) && len(text) > 3 && text[0] != '0')
}

var thousandth = regexp.MustCompile(`^[0-9]{1,2}\.[0-9]{3}$`)

// ambiguous reports that a number standing alone for the other lane can be taken for
// two of its figures: a dial is in hundredths, and an ET may be typed so too.
func ambiguous(text string) bool {
	switch {
	case text == Absent, strings.Contains(text, "@"), thousandth.MatchString(text):
		return false
	case bareDigits.MatchString(text) && text[0] != '0':
		n, err := strconv.Atoi(text)
		return err == nil && dials.holds(float64(n)/100)
	}
	r, err := Reaction(text)
	return err == nil && r.Value() >= 1
}
