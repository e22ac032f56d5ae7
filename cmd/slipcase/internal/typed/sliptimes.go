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

// Absent is what a racer types to leave a value out.
const Absent = "."

// span is the times that a run can take to a distance, s, far beyond what wheels
// have done on either side (common practice, no source).
type span struct{ low, high float64 }

func (s span) holds(v float64) bool { return v >= s.low && v <= s.high }

var (
	spans = map[float64]span{
		60:   from(60, 5),
		330:  from(330, 12),
		660:  from(660, 18),
		1000: from(1000, 24),
		1320: from(1320, 30),
	}
	dials = from(660, 30) // of any distance that is raced by dial
)

// from is the span from the quickest time at a distance, ft.
func from(ft, high float64) span { return span{logbook.QuickestS[ft], high} }

var bareDigits = pattern.Of(`^[0-9]{1,7}$`)

// placed puts the point into bare digits: the first of the scales that makes a
// value of the span, or the first of all when none does. A nought in front says that
// all places are typed: 042 is .042 wherever it stands. ok is false where the
// text is more than digits: a typed point is taken as typed.
func placed(text string, s span, scales ...float64) (v float64, ok bool) {
	if !bareDigits.MatchString(text) {
		return 0, false
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0, false
	}
	if len(text) > 1 && text[0] == '0' {
		scales = scales[:1]
	}
	for _, scale := range scales {
		if v := float64(n) / scale; s.holds(v) {
			return v, true
		}
	}
	return float64(n) / scales[0], true
}

// blank reports that a value is left out.
func blank(text string) bool { return text == "" || text == Absent }

// Time reads the time at a timed distance, ft: 1912 is 1.912 at 60 ft.
func Time(text string, ft float64) (units.Number, error) {
	return seconds(text, spans[ft], 1000, 100, 10, 1)
}

// Dial reads a dial-in, which is given in hundredths: 1325 is 13.25.
func Dial(text string) (units.Number, error) {
	return seconds(text, dials, 100, 1000, 10, 1)
}

// OtherET reads an ET over a distance that is not told, the other lane's.
func OtherET(text string) (units.Number, error) {
	return seconds(text, dials, 1000, 100, 10, 1)
}

func seconds(text string, s span, scales ...float64) (units.Number, error) {
	text = strings.TrimSpace(text)
	if blank(text) {
		return units.Number{}, nil
	}
	if v, ok := placed(text, s, scales...); ok {
		return units.Some(v), nil
	}
	v, err := units.Seconds.Parse(text)
	return units.Some(v), err
}

// Reaction reads a reaction time: 042 is .042; a red light is -.012 or r012.
func Reaction(text string) (units.Number, error) {
	digits, sign := strings.TrimSpace(text), 1.0
	if blank(digits) {
		return units.Number{}, nil
	}
	switch {
	case redWord.MatchString(digits):
		digits, sign = digits[1:], -1
	case strings.HasPrefix(digits, "-"):
		digits, sign = digits[1:], -1
	case strings.HasPrefix(digits, "−"):
		digits, sign = strings.TrimPrefix(digits, "−"), -1
	}
	if bareDigits.MatchString(digits) {
		n, err := strconv.Atoi(digits)
		return units.Some(sign * float64(n) / 1000), err
	}
	v, err := units.Seconds.Parse(digits)
	if err != nil || strings.HasPrefix(digits, "-") {
		return units.Number{}, fmt.Errorf(
			"reaction %q: want seconds such as .042 or 042; a red light is -.012 or r012",
			Shorten(text),
		)
	}
	return units.Some(sign * v), nil
}

// speeds are those that a slip prints, mph.
var speeds = span{logbook.SlowestMPH, logbook.FastestMPH}

// Speed reads the speed at a distance, ft, 0 where that is not told: 10584 is
// 105.84 and 106 is 106. The time there, absent when not known, tells where the
// point goes. bare is what a number without unit means: in a metric log 16950 is
// 169.50 km/h.
func Speed(bare units.System, text string, et units.Number, ft float64) (units.Number, error) {
	text = strings.TrimSpace(text)
	if blank(text) {
		return units.Number{}, nil
	}
	expected := 0.
	if et.Known() && et.Value() > 0 && ft > 0 {
		expected = units.Speed.In(bare, logbook.UsualPull*ft/1320/et.Value())
	}
	usual := span{units.Speed.In(bare, speeds.low), units.Speed.In(bare, speeds.high)}
	if bareDigits.MatchString(text) && expected > 0 {
		n, err := strconv.Atoi(text)
		best := float64(n)
		for _, scale := range []float64{10, 100, 1000} {
			if v := float64(n) / scale; usual.holds(v) && math.Abs(math.Log(v/expected)) < math.Abs(math.Log(best/expected)) {
				best = v
			}
		}
		return units.Some(best / units.Speed.In(bare, 1)), err
	}
	scales := []float64{1, 100, 10}
	if len(text) > 3 {
		scales = []float64{100, 10, 1}
	}
	if v, ok := placed(text, usual, scales...); ok {
		return units.Some(v / units.Speed.In(bare, 1)), nil
	}
	v, err := units.Speed.ParseIn(bare, text)
	return units.Some(v), err
}

// Late is what a number behind a split, on a line of its own, can be.
type Late int

// What it can be.
const (
	NotSpeed Late = iota
	OnlySpeed
	MaybeSpeed // or the time at the next distance
)

// LateSpeed reads a number that stands behind a split on a line of its own as its speed, where
// it is one for the time there. It may be the time at the next distance too, ft, or, where that is 0,
// be of another lane. The speed is absent where it is none for the time there.
func LateSpeed(bare units.System, text string, split logbook.Split, next float64) (mph units.Number, is Late) {
	text, marked := strings.CutPrefix(strings.TrimSpace(text), "@")
	if split.Ft < placeFt[at660] || strings.ContainsAny(text, " @") || blank(text) {
		return mph, NotSpeed
	}
	mph, err := Speed(bare, text, split.ETS, split.Ft)
	if err != nil || !pulls(split.ETS.Value(), mph.Value(), split.Ft) {
		return units.Number{}, NotSpeed
	}
	if marked {
		return mph, OnlySpeed
	}
	if next == 0 {
		et, err := OtherET(text)
		r, _ := Reaction(text)
		if err != nil || !dials.holds(et.Value()) && !isReaction(text, r.Value()) {
			return mph, OnlySpeed
		}
		return mph, NotSpeed
	}
	switch et, err := Time(text, next); {
	case err != nil || !follows(split, et.Value(), next):
		return mph, OnlySpeed
	case bareDigits.MatchString(text) && math.Abs(offPull(split.ETS.Value(), mph.Value(), split.Ft)) < maybeOff:
		return mph, MaybeSpeed
	}
	return mph, NotSpeed
}

// maybeOff is how far a speed may be from the usual, in logs, to be asked about where it can
// be a time too: further off it is the time (common practice, no source).
const maybeOff = 0.12

// soonest is the least share of the usual time from one distance to the next that a run
// takes (common practice, no source): its speed can hardly grow.
const soonest = 0.7

// follows reports that a time, s, can be that at the next distance, ft, behind a split.
func follows(split logbook.Split, et, next float64) bool {
	of := func(ft float64) float64 { return share[slices.Index(placeFt[:], ft)].of }
	usual := (of(next)/of(split.Ft) - 1) * split.ETS.Value()
	return spans[next].holds(et) && et-split.ETS.Value() > soonest*usual
}

// Split reads a time and its speed as the trade writes them, ET@mph; either side
// alone is allowed. speedTyped is false where the text says nothing of a speed.
func Split(bare units.System, text string, ft float64) (et, mph units.Number, speedTyped bool, err error) {
	time, speed, both := strings.Cut(strings.TrimSpace(text), "@")
	if err := runTogether(bare, time); err != nil {
		return et, mph, both, err
	}
	if fields := strings.Fields(time); !both && len(fields) == 2 {
		time, speed, both = fields[0], fields[1], true
	}
	if et, err = Time(time, ft); err != nil {
		return et, mph, both, err
	}
	if !both {
		return et, mph, blank(time), nil
	}
	mph, err = Speed(bare, speed, et, ft)
	return et, mph, true, err
}

// Shorten keeps a pasted paragraph out of an error message.
func Shorten(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}
