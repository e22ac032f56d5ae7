package typed

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// Line is a slip read from one line. Its vehicle, track and time are the caller's.
type Line struct {
	Slip logbook.Slip
	At   string // the moment as typed, "" when none was

	bare units.System      // what a number without unit means
	said map[string]string // what has been told on the line, by its kind
}

// mostWords keeps a pasted page from being taken for a slip: one told whole has some 25.
const mostWords = 40

var wanted = units.Errorf(`want times as .042 1.912 5.437 8.412@{83.77|134.81} 10.980 13.212@{105.84|170.33}, ` +
	`"." for a missing one, and words such as left, E1, won, dial 13.25`)

var (
	clockWord = pattern.Of(`^([0-9]{1,2}:[0-9]{2}(?i:[ap]m?)?([-−+][0-9]{2}:[0-9]{2})?|[0-9]{1,2}(?i:[ap]m))$`)
	halfDay   = pattern.Of(`^(?i:[ap]m)$`)
	dateWord  = pattern.Of(`^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)
	roundWord = pattern.Of(`^([A-Za-z]{1,5}[0-9]{1,2}|(?i:test|practice|tt|qual|semis?|finals?))$`)
	redWord   = pattern.Of(`^[rR](0?\.[0-9]+|[0-9]{2,})$`)
	ownWord   = pattern.Of(`^[A-Za-z][A-Za-z0-9-]*=.+$`)
	placeWord = pattern.Of(`^[0-9][0-9,.]*(?i:ft|m)$`)
	dialWord  = pattern.Of(`^(?i:d|dial)([0-9.]+)$`)
)

// WordError names a word that says nothing of a slip.
type WordError struct{ Word string }

func (e *WordError) Error() string { return e.In(units.US) }

// In writes the error with the examples of a system.
func (e *WordError) In(s units.System) string {
	return units.In(units.Errorf("%q is no part of a slip: %w", Shorten(e.Word), wanted), s)
}

// ParseLine reads a slip from one line: times and speeds in the order of a paper
// slip, their places told by what is plausible at each distance, the words of a
// slip between them in any order. What the line does not say stays as in base, but
// for the times, which it says all of. usual is an earlier slip of the vehicle, whose
// times are a better guide than those of all cars; the zero Slip will do. bare is what a
// speed without unit means, lengthsFt are the distances raced at the track, where known.
func ParseLine(bare units.System, text string, base, usual logbook.Slip, lengthsFt ...float64) (Line, error) {
	words := strings.Fields(Joined(text))
	if len(words) == 0 {
		return Line{}, units.Errorf("the line is empty: %w", wanted)
	}
	if len(words) > mostWords {
		return Line{}, units.Errorf("%d words are more than a slip has: %w", len(words), wanted)
	}
	l := Line{Slip: base, bare: bare, said: map[string]string{}}
	own, other := words, []string(nil)
	if i := slices.IndexFunc(words, BeginsOtherLane); i >= 0 {
		own, other = words[:i], words[i+1:]
	}
	numbers, err := l.takeAllButNumbers(own, ownLane)
	if err != nil {
		return Line{}, err
	}
	if err := l.place(numbers, usual, lengthsFt); err != nil {
		return Line{}, err
	}
	// The lane, the round, the time and the result may also stand behind the other lane;
	// a dial there, and what became of the run, are the other lane's.
	if other, err = l.takeAllButNumbers(other, otherLane); err != nil {
		return Line{}, err
	}
	return l, Lane(bare, "the other lane's", &l.Slip, other)
}

// BeginsOtherLane reports that a word stands between the two lanes of a line.
func BeginsOtherLane(word string) bool { return word == "/" || strings.EqualFold(word, "vs") }

// IsNumber reports that a word can only be a figure of the slip's column, or its place.
func IsNumber(word string) bool {
	return word == Absent || redWord.MatchString(word) ||
		strings.Trim(word, "0123456789.,@-−+") == "" && !dateWord.MatchString(word)
}

// takeAllButNumbers takes what is no number of the slip's column, said of a lane, and returns
// the rest. A word may fit two cases, the first counts: r12 is a red light, then a round; d12 a
// dial, then a round; what begins like a figure is one with a unit or mistyped, then a word. A
// case that takes the next word too moves i.
func (l *Line) takeAllButNumbers(words []string, of whose) (numbers []string, err error) {
	dial := &l.Slip.DialS
	if of == otherLane {
		dial = &l.Slip.OpponentDialS
	}
	for i := 0; i < len(words); i++ {
		word, next := words[i], ""
		if i+1 < len(words) {
			next = words[i+1]
		}
		kind := ""
		switch lower := strings.ToLower(word); {
		case lower == "dial" || lower == "round":
			if next == "" {
				return nil, fmt.Errorf("%s has nothing behind it: want dial 13.25, round E1", lower)
			}
			if kind, word = lower, next; lower == "round" {
				l.Slip.Round = next
			} else if *dial, err = Dial(next); err != nil {
				return nil, fmt.Errorf("dial: %w", err)
			} else {
				kind = string(of) + "dial"
			}
			i++
		case clockWord.MatchString(word):
			if halfDay.MatchString(next) {
				word, i = word+next, i+1
			}
			kind, l.At = "time", strings.TrimSpace(l.At+" "+word)
		case dateWord.MatchString(word):
			kind, l.At = "date", strings.TrimSpace(l.At+" "+word)
		case IsNumber(word):
			numbers = append(numbers, word)
		case isKey(lower):
			if kind, err = l.tell(lower, next); err != nil {
				return nil, err
			}
			word, i = next, i+1
		case ownWord.MatchString(word):
			name, _, _ := strings.Cut(word, "=")
			if kind, err = "column "+name, Own(&l.Slip, word); err != nil {
				return nil, err
			}
		case isDial(word):
			kind = string(of) + "dial"
			*dial, _ = Dial(dialWord.FindStringSubmatch(word)[1])
		case roundWord.MatchString(word):
			kind, l.Slip.Round = "round", word
		case strings.ContainsAny(word[:1], "0123456789.-@"):
			numbers = append(numbers, word) // with a unit, or a mistake that its place will name
		default:
			var taken bool
			if kind, word, taken = say(&l.Slip, lower, of); !taken {
				return nil, &WordError{words[i]}
			}
			if kind == notTheOthers {
				return nil, fmt.Errorf("%q behind the / would be the other lane's: of your own run it stands before it", lower)
			}
			if kind == endOfRun {
				placed, err := l.placeBehind(word, words[i+1:])
				if err != nil {
					return nil, err
				}
				if placed {
					i++
				}
			}
		}
		if err := l.once(kind, word); err != nil {
			return nil, err
		}
	}
	return numbers, nil
}

// placeOf is a place on the track.
func placeOf(bare units.System, text string) (units.Number, error) {
	ft, err := units.ParseDistance(bare, text)
	return units.Some(ft), err
}

// isKey reports a key, whose value is the next word.
func isKey(word string) bool {
	_, is := keyed[word]
	return is
}

// tell takes the word behind a key.
func (l *Line) tell(key, next string) (kind string, err error) {
	t := keyed[key]
	if next == "" {
		return "", units.Errorf("%s has nothing behind it: want "+t.as, key)
	}
	return t.kind, t.take(&l.Slip, l.bare, next)
}

// placeBehind takes the place on the track behind the word for how a run ended, if there is one.
func (l *Line) placeBehind(word string, behind []string) (placed bool, err error) {
	if l.barePlace(behind) {
		return true, nil
	}
	if len(behind) == 0 || !placeWord.MatchString(behind[0]) {
		return false, nil
	}
	if l.Slip.FullPowerToFt, err = placeOf(l.bare, behind[0]); err != nil {
		return false, fmt.Errorf("%s %s: %w", word, behind[0], err)
	}
	return true, nil
}

// barePlace takes the distance without a unit behind lifted, braked, spun or broke, as lifted
// 1000: one where no figure of the slip's column stands behind it.
func (l *Line) barePlace(behind []string) bool {
	if len(behind) == 0 || strings.Trim(behind[0], "0123456789") != "" || slices.ContainsFunc(behind[1:], IsNumber) {
		return false
	}
	ft, err := placeOf(l.bare, behind[0])
	if err != nil || ft.Value() < shortestFt || ft.Value() > longestFt {
		return false
	}
	l.Slip.FullPowerToFt = ft
	return true
}

// A bare number below shortestFt or above longestFt is a figure of the slip, no way at full
// power: the quarter mile is the longest race that is timed here, and nobody tells a lift
// from a stall in the first car's length (common practice, no source).
const shortestFt, longestFt = 20, 1320

// isDial reports a dial with its letter, d1270; d1 is a round.
func isDial(word string) bool {
	m := dialWord.FindStringSubmatch(word)
	if m == nil {
		return false
	}
	d, err := Dial(m[1])
	return err == nil && dials.holds(d.Value())
}

// once refuses a line that tells one thing in two ways: which of them was meant
// nobody can know.
func (l *Line) once(kind, word string) error {
	if kind == "" {
		return nil
	}
	if before, told := l.said[kind]; told && !strings.EqualFold(before, word) {
		return fmt.Errorf("the %s is told twice, as %q and as %q: want one", kind, Shorten(before), Shorten(word))
	}
	l.said[kind] = word
	return nil
}

// ParseHead reads what stands above the times of a slip into s: lane, round, dial,
// a lone number being the dial. It returns the moment as typed, "" when none was, and the
// times that were typed there as well. bare is what a number without unit means.
func ParseHead(bare units.System, text string, s *logbook.Slip) (at string, times []string, err error) {
	l := Line{Slip: *s, bare: bare, said: map[string]string{}}
	words := strings.Fields(text)
	if len(words) > mostWords {
		return "", nil, fmt.Errorf("%d words: want the lane, the round, the time, the dial", len(words))
	}
	own, other := words, []string(nil)
	if i := slices.IndexFunc(words, BeginsOtherLane); i >= 0 {
		own, other = words[:i], words[i:]
	}
	times, err = l.takeAllButNumbers(own, ownLane)
	if err != nil {
		return "", nil, err
	}
	if len(times) == 1 && len(other) == 0 && !strings.Contains(times[0], "@") {
		if l.Slip.DialS, err = Dial(times[0]); err != nil {
			return "", nil, fmt.Errorf("dial: %w", err)
		}
		times = nil
	}
	*s = l.Slip
	return l.At, append(times, other...), nil
}
