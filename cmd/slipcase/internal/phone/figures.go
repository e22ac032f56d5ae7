package phone

import (
	"encoding/json"
	"fmt"
	"net/url"
	"slices"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// figure is a field of the form for a slip: how it is read from what is typed and written
// back, and how many digits it takes by its first.
type figure struct {
	name, label string
	other       bool    // of the other lane
	ft          float64 // of a time or speed of the slip's own column
	speed       bool
	digits      [10]int
	at          func(s *crew.Slip) *units.Number
	read        reader
	write       func(bare units.System, n units.Number) string
}

// reader reads what is typed of a slip whose fields before are read.
type reader func(bare units.System, text string, s *crew.Slip) (units.Number, error)

// figures are all fields, in the order of a paper slip. A speed is read after its time.
var figures = func() (list []figure) {
	seconds := func(_ units.System, n units.Number) string { return page.Seconds(n) }
	reaction := func(_ units.System, n units.Number) string { return page.ReactionText(n) }
	hundredths := func(_ units.System, n units.Number) string { return page.Hundredths(n) }
	speed := func(bare units.System, n units.Number) string {
		if !n.Known() {
			return ""
		}
		return fmt.Sprintf("%.2f", units.Speed.In(bare, n.Value()))
	}
	plain := func(read func(text string) (units.Number, error)) reader {
		return func(_ units.System, text string, _ *crew.Slip) (units.Number, error) { return read(text) }
	}
	three := [10]int{3, 3, 3, 3, 3, 3, 3, 3, 3, 3}
	list = append(list, figure{
		name: "reaction", label: "reaction", digits: three, read: plain(typed.Reaction), write: reaction,
		at: func(s *crew.Slip) *units.Number { return &s.ReactionS },
	})
	for _, m := range []struct {
		ft      float64
		et, mph func(s *crew.Slip) *units.Number
	}{
		{60, func(s *crew.Slip) *units.Number { return &s.ET60S }, nil},
		{330, func(s *crew.Slip) *units.Number { return &s.ET330S }, nil},
		{
			660,
			func(s *crew.Slip) *units.Number { return &s.ET660S },
			func(s *crew.Slip) *units.Number { return &s.MPH660 },
		},
		{
			1000,
			func(s *crew.Slip) *units.Number { return &s.ET1000S },
			func(s *crew.Slip) *units.Number { return &s.MPH1000 },
		},
		{
			1320,
			func(s *crew.Slip) *units.Number { return &s.ET1320S },
			func(s *crew.Slip) *units.Number { return &s.MPH1320 },
		},
	} {
		label := fmt.Sprintf("%g ft", m.ft)
		list = append(list, figure{
			name: fmt.Sprintf("et_%g", m.ft), label: label, ft: m.ft, digits: typed.TimeDigits(m.ft), write: seconds,
			at: m.et, read: plain(func(text string) (units.Number, error) { return typed.Time(text, m.ft) }),
		})
		if m.mph == nil {
			continue
		}
		list = append(list, figure{
			name: fmt.Sprintf("speed_%g", m.ft), label: label + " speed", ft: m.ft, speed: true, at: m.mph, write: speed,
			read: func(bare units.System, text string, s *crew.Slip) (units.Number, error) {
				return typed.Speed(bare, text, *m.et(s), m.ft)
			},
		})
	}
	return append(
		list,
		figure{
			name: "dial", label: "dial", digits: typed.DialDigits(), read: plain(typed.Dial), write: hundredths,
			at: func(s *crew.Slip) *units.Number { return &s.DialS },
		},
		figure{
			name: "other_reaction", label: "other reaction", other: true, digits: three, read: plain(typed.Reaction),
			write: reaction, at: func(s *crew.Slip) *units.Number { return &s.OpponentReactionS },
		},
		figure{
			name: "other_et", label: "other ET", other: true, digits: typed.TimeDigits(1320), read: plain(typed.OtherET),
			write: seconds, at: func(s *crew.Slip) *units.Number { return &s.OpponentETS },
		},
		figure{
			name: "other_speed", label: "other speed", other: true, speed: true, write: speed,
			at: func(s *crew.Slip) *units.Number { return &s.OpponentMPH },
			read: func(bare units.System, text string, s *crew.Slip) (units.Number, error) {
				return typed.Speed(bare, text, s.OpponentETS, 0)
			},
		},
		figure{
			name: "other_dial", label: "other dial", other: true, digits: typed.DialDigits(), read: plain(typed.Dial),
			write: hundredths, at: func(s *crew.Slip) *units.Number { return &s.OpponentDialS },
		},
	)
}()

// field is a figure as the page shows it.
type field struct {
	Name, Label, Value string
	Digits             string // how many it takes by the first of them, a JSON array
	Minus              bool   // it may be red
	Other              bool
}

// fieldsFor are those of a slip at a track: as far as is raced there, the speed at 1000 ft only
// where the slip before had one.
func (s *Server) fieldsFor(t crew.Track, usual crew.Slip, values url.Values) (list []field) {
	end := 1320.
	if len(t.LengthsFt) > 0 {
		end = slices.Max(t.LengthsFt)
	}
	for _, f := range figures {
		value := values.Get(f.name)
		if value == "" && (f.ft > end || f.ft == 1000 && f.speed && !usual.MPH1000.Known()) {
			continue
		}
		digits := f.digits
		if f.speed {
			digits = typed.SpeedDigits(s.Bare)
		}
		text, _ := json.Marshal(digits) // ten numbers
		label := f.label
		if f.speed {
			label += ", " + units.Speed.Symbol(s.Bare)
		}
		red := f.name == "reaction" || f.name == "other_reaction"
		list = append(list, field{f.name, label, value, string(text), red, f.other})
	}
	return list
}

// readFigures takes the figures of a form into a slip; those of other fields stay.
func (s *Server) readFigures(values url.Values, slip *crew.Slip) error {
	for _, f := range figures {
		if !values.Has(f.name) {
			continue
		}
		n, err := f.read(s.Bare, values.Get(f.name), slip)
		if err != nil {
			return fmt.Errorf("%s: %w", f.label, err)
		}
		*f.at(slip) = n
	}
	return nil
}

// writeFigures puts the figures of a slip into a form.
func (s *Server) writeFigures(slip crew.Slip, values url.Values) {
	for _, f := range figures {
		values.Set(f.name, f.write(s.Bare, *f.at(&slip)))
	}
}
