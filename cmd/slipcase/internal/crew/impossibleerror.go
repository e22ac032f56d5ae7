package crew

import (
	"fmt"

	"slipcase/weather/units"
)

// Impossible is an error about what was asked: it cannot be, whatever the log holds.
type Impossible struct {
	Of     string // what of the ask, in the word of its column; "" for all of it
	Figure bool   // it is the figure of that: who says it, says it as it was typed
	Err    error
}

func (e *Impossible) Error() string { return e.Err.Error() }
func (e *Impossible) Unwrap() error { return e.Err }

// markImpossible marks an error as one about what was asked; nil stays nil.
func markImpossible(of string, err error) error {
	if err == nil {
		return nil
	}
	return &Impossible{Of: of, Err: err}
}

func impossiblef(of, format string, a ...any) error {
	return markImpossible(of, fmt.Errorf(format, a...))
}

// outside is the error of a figure outside of what it may be; want says what that is.
func outside(of, want string, a ...any) error {
	return &Impossible{Of: of, Figure: true, Err: units.Errorf(want, a...)}
}
