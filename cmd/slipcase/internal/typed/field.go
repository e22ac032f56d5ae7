package typed

import (
	"strings"

	"slipcase/weather/units"
)

// Field is one column as the racer types it: the flag, its help, and how the text is read
// into the row. Flags, prompts and amendments all go through it.
type Field[T any] struct {
	Flag, Help string
	Set        func(row *T, bare units.System, text string) error
	Words      []string // what it can be, where that is one of a few
	Many       bool     // given several times, it is all of them
}

// NumberField is a quantity; a bare number is of the log's units.
func NumberField[T any](flag, help string, kind units.Kind, at func(*T) *units.Number) Field[T] {
	return ReadFieldIn(flag, help, func(bare units.System, text string) (units.Number, error) {
		return ParseNumber(bare, kind, text)
	}, at)
}

// ReadField is a number that parse reads, whatever the units of the log.
func ReadField[T any](
	flag, help string,
	parse func(text string) (units.Number, error),
	at func(*T) *units.Number,
) Field[T] {
	return ReadFieldIn(flag, help, func(_ units.System, text string) (units.Number, error) { return parse(text) }, at)
}

// ReadFieldIn is ReadField where a bare number is of the log's units.
func ReadFieldIn[T any](
	flag, help string, parse func(bare units.System, text string) (units.Number, error), at func(*T) *units.Number,
) Field[T] {
	return Field[T]{Flag: flag, Help: help, Set: func(row *T, bare units.System, text string) error {
		n, err := parse(bare, text)
		if err != nil {
			return err
		}
		*at(row) = n
		return nil
	}}
}

// DistanceField is a length along the track.
func DistanceField[T any](flag, help string, at func(*T) *units.Number) Field[T] {
	return ReadFieldIn(flag, help, func(bare units.System, text string) (units.Number, error) {
		if text = strings.TrimSpace(text); text == Absent || text == "" {
			return units.Number{}, nil
		}
		ft, err := units.ParseDistance(bare, text)
		return units.Some(ft), err
	}, at)
}

// ParseNumber reads a quantity that may be left out.
func ParseNumber(bare units.System, kind units.Kind, text string) (units.Number, error) {
	if text = strings.TrimSpace(text); text == Absent || text == "" {
		return units.Number{}, nil
	}
	v, err := kind.ParseIn(bare, text)
	return units.Some(v), err
}

// WordsField is text.
func WordsField[T any](flag, help string, at func(*T) *string) Field[T] {
	return Field[T]{Flag: flag, Help: help, Set: func(row *T, _ units.System, text string) error {
		if text == Absent {
			text = ""
		}
		*at(row) = strings.TrimSpace(text)
		return nil
	}}
}

// ChoiceField is a field of a few words, which a phone may have capitalised.
func ChoiceField[T any](flag, help string, at func(*T) *string, few ...string) Field[T] {
	f := WordsField(flag, help, at)
	set := f.Set
	f.Set = func(row *T, bare units.System, text string) error { return set(row, bare, strings.ToLower(text)) }
	f.Words = few
	return f
}
