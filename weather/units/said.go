package units

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Quantity is a figure in the US unit of its kind, to be said in the reader's unit.
type Quantity struct {
	Kind Kind
	US   float64
}

// Of is a quantity of the kind, given in its US unit.
func (k Kind) Of(us float64) Quantity { return Quantity{k, us} }

// In writes the quantity with its unit, to as many figures as a limit needs: "-101.1 C".
func (q Quantity) In(s System) string { return q.number(s) + " " + q.Kind.Symbol(s) }

func (q Quantity) number(s System) string {
	number := strconv.FormatFloat(q.Kind.In(s, q.US), 'g', 4, 64)
	if v, err := strconv.ParseFloat(number, 64); err == nil && v > -1e6 && v < 1e6 {
		number = strconv.FormatFloat(v, 'f', -1, 64)
	}
	if q.Kind.wholes {
		return Group(number)
	}
	return number
}

// Span is what a quantity may be, both ends included.
type Span struct{ Low, High Quantity }

// Between is a span of the kind, given in its US unit.
func (k Kind) Between(low, high float64) Span { return Span{k.Of(low), k.Of(high)} }

// In writes the span with its unit said once: "-150 to 250 F".
func (b Span) In(s System) string { return b.Low.number(s) + " to " + b.High.In(s) }

// InWholes is a span said in whole units, of bounds that need no more: "80 to 563 km/h".
type InWholes struct{ Span }

// In writes the span for a reader of the system.
func (b InWholes) In(s System) string {
	return fmt.Sprintf("%.0f to %.0f %s", b.Low.Kind.In(s, b.Low.US), b.High.Kind.In(s, b.High.US), b.Low.Kind.Symbol(s))
}

// Error is an error that names quantities.
type Error struct {
	format string
	args   []any
}

// Errorf is fmt.Errorf for a reader whose units are not known yet: quantities among its
// arguments, examples in its format, and those of errors that it wraps, are written by In.
func Errorf(format string, args ...any) error { return &Error{format, args} }

func (e *Error) Error() string { return e.In(US) }

// In writes the error for a reader of the system.
func (e *Error) In(s System) string {
	args := make([]any, len(e.args))
	for i, a := range e.args {
		switch a := a.(type) {
		case interface{ In(System) string }:
			args[i] = a.In(s)
		case error:
			args[i] = In(a, s)
		default:
			args[i] = a
		}
	}
	return fmt.Sprintf(Examples(s, strings.ReplaceAll(e.format, "%w", "%v")), args...)
}

// Unwrap gives the errors that it wraps.
func (e *Error) Unwrap() (wrapped []error) {
	for _, a := range e.args {
		if err, ok := a.(error); ok {
			wrapped = append(wrapped, err)
		}
	}
	return wrapped
}

// In writes any error for a reader of the system: the quantities of those made by
// Errorf, also where fmt.Errorf or a type of its own has wrapped them.
func In(err error, s System) string {
	if both, ok := err.(interface{ In(System) string }); ok {
		return both.In(s)
	}
	if inner := errors.Unwrap(err); inner != nil {
		return strings.Replace(err.Error(), inner.Error(), In(inner, s), 1)
	}
	return err.Error()
}
