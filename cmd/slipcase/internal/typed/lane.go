package typed

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/logbook"
	"slipcase/weather/units"
)

var laneWanted = units.Errorf("want its reaction, ET, speed and dial, as / .051 12.430@{109.40|176.06} 12.40")

// Lane reads the other lane's reaction, ET, speed and dial, in this order, into s. Of
// several, a first value that is no reaction is the ET; one alone must tell what it is.
// Of a lane that broke the last value alone is its dial. name is what errors call the
// lane, bare what a speed without unit means.
func Lane(bare units.System, name string, s *logbook.Slip, words []string) error {
	broke := s.OpponentBroke != ""
	switch {
	case len(words) == 0:
		return nil
	case len(words) > 4:
		return units.Errorf("%s figures have %q too many: %w", name, Shorten(words[4]), laneWanted)
	case len(words) == 1 && !broke && dialOrET(words[0]):
		return fmt.Errorf("%q alone may be %s reaction, ET or dial: want .051, 12.430 to the thousandth, or dial 12.40",
			Shorten(words[0]), name)
	}
	led := len(words) == 4 || len(words) == 3 && !isETAndSpeed(bare, words[0], words[1])
	if r, err := Reaction(words[0]); led || err == nil && (!r.Known() || isReaction(words[0], r.Value())) {
		if err != nil {
			return fmt.Errorf("%s reaction: %w", name, err)
		}
		s.OpponentReactionS = r
		words = words[1:]
	}
	if broke && len(words) == 1 {
		return dialOf(name, s, words[0])
	}
	if len(words) > 0 {
		if err := timeOf(bare, name, s, words[0]); err != nil {
			return err
		}
		words = words[1:]
	}
	if len(words) > 0 && !s.OpponentMPH.Known() {
		speed, err := isSpeed(bare, words[0], s.OpponentETS.Value())
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if speed {
			s.OpponentMPH, err = Speed(bare, words[0], s.OpponentETS, 0)
			if err != nil {
				return fmt.Errorf("%s speed: %w", name, err)
			}
			words = words[1:]
		}
	}
	switch len(words) {
	case 0:
		return nil
	case 1:
		return dialOf(name, s, words[0])
	}
	return units.Errorf("%s figures have %q too many: %w", name, Shorten(words[1]), laneWanted)
}

func dialOf(name string, s *logbook.Slip, text string) error {
	dial, err := Dial(text)
	if err != nil {
		return fmt.Errorf("%s dial: %w", name, err)
	}
	s.OpponentDialS = dial
	return nil
}

func timeOf(bare units.System, name string, s *logbook.Slip, text string) error {
	time, speed, _ := strings.Cut(text, "@")
	if err := runTogether(bare, time); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	et, err := OtherET(time)
	if err != nil {
		return fmt.Errorf("%s ET: %w", name, err)
	}
	mph, err := Speed(bare, speed, et, 0)
	if err != nil {
		return fmt.Errorf("%s speed: %w", name, err)
	}
	s.OpponentETS, s.OpponentMPH = et, mph
	return nil
}

// isETAndSpeed reports that two numbers can only be an ET, to the thousandth, and its
// speed.
func isETAndSpeed(bare units.System, time, speed string) bool {
	et, err := seconds(time, dials, 1000)
	if err != nil || !dials.holds(et.Value()) {
		return false
	}
	is, err := isSpeed(bare, speed, et.Value())
	return is && err == nil
}

// isSpeed tells the speed behind an ET, s, from a dial: both are typed in hundredths, or
// a speed in whole miles or kilometres an hour. Digits that both may be are asked about.
func isSpeed(bare units.System, text string, et float64) (bool, error) {
	if !bareDigits.MatchString(text) {
		v, err := units.Speed.ParseIn(bare, text)
		return err == nil && units.Speed.In(bare, v) > dials.high, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return false, nil
	}
	v, mph := float64(n), float64(n)/units.Speed.In(bare, 1)
	fits := func(ft float64) bool { return pulls(et, mph/10, ft) }
	switch hundredths := v / 100; {
	case hundredths > dials.high || !dials.holds(hundredths) && speeds.holds(mph):
		return true, nil
	case math.Abs(hundredths-et) > 1 && slices.ContainsFunc(placeFt[at660:], fits):
		return false, fmt.Errorf(
			"%q may be the speed %.1f or a dial of %.2f: want @%.1f or dial %.2f",
			text,
			v/10,
			hundredths,
			v/10,
			hundredths,
		)
	}
	return false, nil
}

// isReaction reports that a value is short enough for a reaction and typed like one:
// 1260 is not, though thousandths of a second would make it 1.260.
func isReaction(text string, v float64) bool {
	return v < dials.low && !(bareDigits.MatchString(text) && len(text) > 3 && text[0] != '0')
}

var thousandth = pattern.Of(`^[0-9]{1,2}\.[0-9]{3}$`)

// dialOrET reports that a number standing alone for the other lane can be taken for
// two of its figures: a dial is in hundredths, and an ET may be typed so too.
func dialOrET(text string) bool {
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
