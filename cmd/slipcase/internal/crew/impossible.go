package crew

import "fmt"

// Impossible is an error about what was asked: it cannot be, whatever the log holds.
type Impossible struct {
	Of  string // what of the ask, in the word of its column; "" for all of it
	Err error
}

func (e *Impossible) Error() string { return e.Err.Error() }
func (e *Impossible) Unwrap() error { return e.Err }

// markImpossible marks an error as one about what was asked; nil stays nil.
func markImpossible(of string, err error) error {
	if err == nil {
		return nil
	}
	return &Impossible{of, err}
}

func impossiblef(of, format string, a ...any) error {
	return markImpossible(of, fmt.Errorf(format, a...))
}
