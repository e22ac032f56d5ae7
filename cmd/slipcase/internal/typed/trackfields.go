package typed

import (
	"fmt"
	"strings"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// TrackFields are the columns of a track.
var TrackFields = []Field[logbook.Track]{
	WordsField("title", "its full name, free to change", func(t *logbook.Track) *string { return &t.Title }),
	NumberField("elevation", "above sea level, as {812ft|247m}", units.Length,
		func(t *logbook.Track) *units.Number { return &t.ElevationFt }),
	{
		Flag: "length",
		Help: "a distance timed there, as {660ft|201m} or 1/8; apart by commas where several",
		Set:  setLengths,
	},
	NumberField("heading", "true bearing from start to finish, 0 to 360", units.Degrees,
		func(t *logbook.Track) *units.Number { return &t.HeadingDeg }),
	WordsField("time-zone", "as America/Chicago; without it the machine's",
		func(t *logbook.Track) *string { return &t.TimeZone }),
	NumberField("perfect-reaction", "what the slip prints for a perfect light: 0, 0.4 or 0.5", units.Seconds,
		func(t *logbook.Track) *units.Number { return &t.PerfectReactionS }),
	ChoiceField("both-red", "who loses when both are red: first or worst", func(t *logbook.Track) *string { return &t.BothRed },
		"first", "worst"),
	WordsField("notes", "anything else", func(t *logbook.Track) *string { return &t.Notes }),
}

// setLengths reads the distances timed at a track.
func setLengths(t *logbook.Track, bare units.System, text string) error {
	t.LengthsFt = nil
	if text == Absent {
		return nil
	}
	for _, one := range lengths(text) {
		ft, err := units.ParseDistance(bare, one)
		if err != nil {
			return err
		}
		if !(ft > 0) {
			return fmt.Errorf("length %q: want more than 0", one)
		}
		t.LengthsFt = append(t.LengthsFt, ft)
	}
	return nil
}

// lengths parts a list of lengths at commas and blanks, but not a number from its unit.
func lengths(text string) (all []string) {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		if last := len(all) - 1; last >= 0 && !strings.ContainsAny(word, "0123456789") {
			all[last] += word
			continue
		}
		all = append(all, word)
	}
	return all
}
