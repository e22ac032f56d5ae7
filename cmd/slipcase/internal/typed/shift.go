package typed

import (
	"fmt"
	"strings"

	"slipcase/weather/units"
)

// Shift is the flag of a range of engine speeds, as 4500-6000.
type Shift struct {
	text            string
	LowRPM, HighRPM float64
}

func (s *Shift) String() string { return s.text }

// Type is what help calls its value.
func (s *Shift) Type() string { return "string" }

// Set reads it.
func (s *Shift) Set(text string) (err error) {
	left, right, both := strings.Cut(text, "-")
	if !both {
		return fmt.Errorf("%q: want two engine speeds, as 4500-6000", Shorten(text))
	}
	s.text = text
	if s.LowRPM, err = units.RPM.Parse(left); err != nil {
		return err
	}
	if s.HighRPM, err = units.RPM.Parse(right); err == nil && s.HighRPM == 0 {
		return fmt.Errorf("%q: want engine speeds above 0", Shorten(text))
	}
	return err
}
