package typed

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// teller takes the word behind its key into a slip.
type teller struct {
	kind, as string // what is told, and how it is typed
	take     func(s *logbook.Slip, bare units.System, text string) error
}

// keyed are what is told by two words, a key and its value.
var keyed = map[string]teller{
	"class": {
		"class",
		"class heads-up",
		func(s *logbook.Slip, _ units.System, text string) error { return Class(s, text) },
	},
	"index": {
		"index",
		"index 8.90",
		func(s *logbook.Slip, _ units.System, text string) error { return Index(s, text) },
	},
	"tree":  {"tree", "tree .400", func(s *logbook.Slip, _ units.System, text string) error { return treeOf(s, text) }},
	"pro":   {"tree", "pro tree", named("pro")},
	"full":  {"tree", "full tree", named("full")},
	"raced": {"distance raced", "raced {660ft|201m}", raced},
	"driver": {
		"driver",
		"driver lee",
		func(s *logbook.Slip, _ units.System, text string) error { s.Driver = text; return nil },
	},
	"opponent": {
		"opponent",
		"opponent kit",
		func(s *logbook.Slip, _ units.System, text string) error { s.Opponent = text; return nil },
	},
	"delay": {"delay", "delay 1.234", delay},
	"stop": {
		"throttle stop",
		"stop 1.32, or stop .20-1.52",
		func(s *logbook.Slip, _ units.System, text string) error { return Stop(s, text) },
	},
}

// named is a tree by its name, as pro tree.
func named(name string) func(*logbook.Slip, units.System, string) error {
	return func(s *logbook.Slip, _ units.System, text string) error {
		if !strings.EqualFold(text, "tree") {
			return fmt.Errorf("%s %s: want %s tree", name, Shorten(text), name)
		}
		return treeOf(s, name)
	}
}

func treeOf(s *logbook.Slip, text string) (err error) {
	s.Tree, err = Tree(text)
	return err
}

func raced(s *logbook.Slip, bare units.System, text string) error {
	ft, err := placeOf(bare, text)
	if err == nil {
		s.RacedFt = ft
	}
	return err
}

func delay(s *logbook.Slip, _ units.System, text string) error {
	v, err := units.Seconds.Parse(text)
	if err == nil {
		s.DelayS = units.Some(v)
	}
	return err
}

// Tree reads the tree of a round by its perfect light: .5 of a full tree, .4 of a pro
// tree, or 0 where the slip counts from the green light.
func Tree(text string) (units.Number, error) {
	switch lower := strings.ToLower(strings.TrimSpace(text)); {
	case blank(lower):
		return units.Number{}, nil
	case lower == "pro":
		return units.Some(0.4), nil
	case lower == "full":
		return units.Some(0.5), nil
	}
	n, err := Reaction(text)
	if v := n.Value(); err != nil || v != 0 && v != 0.4 && v != 0.5 {
		return units.Number{}, fmt.Errorf(
			"tree %q: want pro, full, or what its slip prints for a perfect light: 0, .4 or .5",
			Shorten(text),
		)
	}
	return n, nil
}

// formats are how a round may be raced, as classes.
var formats = []string{"dial", "index", "heads-up", "test"}

// Class reads a class: how it is raced, or the name that the racer has for it. An index
// is kept only for a class that has one.
func Class(s *logbook.Slip, text string) error {
	text = strings.TrimSpace(text)
	switch lower := strings.ToLower(text); {
	case blank(lower):
		s.Class, s.ClassName = "", ""
	case slices.Contains(formats, lower):
		s.Class = lower
	default:
		s.ClassName = text
		return nil
	}
	if s.Class != "index" {
		s.IndexS = units.Number{}
	}
	return nil
}

// Index reads the index of a class, which makes it one.
func Index(s *logbook.Slip, text string) error {
	n, err := Dial(text)
	if err != nil {
		return fmt.Errorf("index: %w", err)
	}
	if s.IndexS = n; n.Known() {
		s.Class = "index"
	}
	return nil
}

// Own reads values of the racer's own columns, as jets=68; jets=. takes it out.
func Own(s *logbook.Slip, text string) error {
	said := logbook.Slip{Own: text}
	cells, err := said.OwnCells()
	if err == nil && len(cells) == 0 {
		err = logbook.ErrOwnCells
	}
	for _, c := range cells {
		if blank(c.Text) {
			c.Text = ""
		}
		if err == nil {
			err = s.SetOwn(c.Name, c.Text)
		}
	}
	return err
}

// Stop reads when a throttle stop comes on and goes off, .20-1.52 from the launch; one
// time alone is how long it stays on from there.
func Stop(s *logbook.Slip, text string) error {
	on, off, both := strings.Cut(strings.TrimSpace(text), "-")
	if blank(on) && !both {
		s.StopOnS, s.StopOffS = units.Number{}, units.Number{}
		return nil
	}
	if !both {
		on, off = "0", on
	}
	from, err := units.Seconds.Parse(on)
	to, err2 := units.Seconds.Parse(off)
	if err != nil || err2 != nil || to < from {
		return fmt.Errorf(
			"throttle stop %q: want how long it is on, as 1.32, or from when to when, as .20-1.52",
			Shorten(text),
		)
	}
	s.StopOnS, s.StopOffS = units.Some(from), units.Some(to)
	return nil
}
