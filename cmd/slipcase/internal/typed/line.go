package typed

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// Line is a slip read from one line. Its vehicle, track and time are the caller's.
type Line struct {
	Slip logbook.Slip
	At   string // the moment as typed, "" when none was
}

// mostWords keeps a pasted page from being taken for a slip.
const mostWords = 40

const wanted = `want times as .042 1.912 5.437 8.412@83.77 10.980 13.212@105.84, "." for a missing one, ` +
	`and words such as left, E1, won, dial 13.25`

var (
	clockWord = regexp.MustCompile(`^[0-9]{1,2}:[0-9]{2}$`)
	dateWord  = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)
	roundWord = regexp.MustCompile(`^[A-Za-z]{1,5}[0-9]{1,2}$`)
	redWord   = regexp.MustCompile(`^[rR](\.[0-9]+|0?\.[0-9]+|[0-9]{2,})$`)
)

// WordError names a word that says nothing of a slip.
type WordError struct{ Word string }

func (e *WordError) Error() string {
	return fmt.Sprintf("%q is no part of a slip: %s", shorten(e.Word), wanted)
}

// ParseLine reads a slip from one line: times and speeds in the order of a paper
// slip, their places told by what is plausible at each distance, the words of a
// slip between them in any order. What the line does not say stays as in base, but
// for the times, which it says all of. usual is an earlier slip of the vehicle, whose
// times are a better guide than those of all cars; the zero Slip will do.
func ParseLine(text string, base, usual logbook.Slip) (Line, error) {
	words := strings.Fields(text)
	if len(words) == 0 {
		return Line{}, errors.New("the line is empty: " + wanted)
	}
	if len(words) > mostWords {
		return Line{}, fmt.Errorf("%d words are more than a slip has: %s", len(words), wanted)
	}
	l := Line{Slip: base}
	own, other := words, []string(nil)
	if i := slices.IndexFunc(words, func(w string) bool { return w == "/" || strings.EqualFold(w, "vs") }); i >= 0 {
		own, other = words[:i], words[i+1:]
	}
	numbers, err := l.takeWords(own, &l.Slip.DialS)
	if err != nil {
		return Line{}, err
	}
	if err := l.place(numbers, usual); err != nil {
		return Line{}, err
	}
	// What is said of the run itself may also stand behind the other lane; a dial
	// there is the other lane's.
	if other, err = l.takeWords(other, &l.Slip.OpponentDialS); err != nil {
		return Line{}, err
	}
	return l, OtherLane(&l.Slip, other)
}

// takeWords takes what is no number of the slip's column, a dial into the lane's,
// and returns the rest.
func (l *Line) takeWords(words []string, dial *units.Number) (numbers []string, err error) {
	for i := 0; i < len(words); i++ {
		word := words[i]
		lower := strings.ToLower(word)
		next := ""
		if i+1 < len(words) {
			next = words[i+1]
		}
		switch {
		case lower == "dial" || lower == "round":
			if next == "" {
				return nil, fmt.Errorf("%s has nothing behind it: want dial 13.25, round E1", lower)
			}
			if lower == "round" {
				l.Slip.Round = next
			} else if *dial, err = Dial(next); err != nil {
				return nil, fmt.Errorf("dial: %w", err)
			}
			i++
		case Word(&l.Slip, lower):
		case clockWord.MatchString(word), dateWord.MatchString(word):
			l.At = strings.TrimSpace(l.At + " " + word)
		case word == Absent, redWord.MatchString(word), strings.Trim(word, "0123456789.,@-−+") == "":
			numbers = append(numbers, word)
		case roundWord.MatchString(word):
			l.Slip.Round = word
		case strings.ContainsAny(word[:1], "0123456789.-@"):
			numbers = append(numbers, word) // with a unit, or a mistake that its place will name
		default:
			return nil, &WordError{word}
		}
	}
	return numbers, nil
}

// Word takes a word that can stand anywhere on a slip's line: the lane, the
// result, how the run ended. It reports whether the word is one of them.
func Word(s *logbook.Slip, word string) bool {
	switch word {
	case "left", "right":
		s.Lane = word
	case "won", "lost":
		s.Result = word
	case "lifted", "braked", "spun", "broke":
		s.FullPower = word
	default:
		return false
	}
	return true
}

// OtherLane reads the other lane's reaction, ET and dial, in this order; a first
// value that is too long for a reaction is the ET.
func OtherLane(s *logbook.Slip, words []string) error {
	if len(words) == 0 {
		return nil
	}
	if r, err := Reaction(words[0]); err == nil && (!r.Known() || r.Value() < dials.low) {
		s.OpponentReactionS = r
		words = words[1:]
	}
	if len(words) > 2 {
		return fmt.Errorf("the other lane has %q too many: want its reaction, ET and dial, as / .051 12.430 12.40", shorten(words[2]))
	}
	if len(words) > 0 {
		time, speed, _ := strings.Cut(words[0], "@")
		et, err := OtherET(time)
		if err != nil {
			return fmt.Errorf("the other lane's ET: %w", err)
		}
		if s.OpponentMPH, err = Speed(speed, et, 0); err != nil {
			return fmt.Errorf("the other lane's speed: %w", err)
		}
		s.OpponentETS = et
	}
	if len(words) == 2 {
		dial, err := Dial(words[1])
		if err != nil {
			return fmt.Errorf("the other lane's dial: %w", err)
		}
		s.OpponentDialS = dial
	}
	return nil
}

// ParseHead reads what stands above the times of a slip into s: lane, round, dial,
// a lone number being the dial. It returns the moment as typed, "" when none was.
func ParseHead(text string, s *logbook.Slip) (at string, err error) {
	l := Line{Slip: *s}
	words := strings.Fields(text)
	if len(words) > mostWords {
		return "", fmt.Errorf("%d words: want the lane, the round, the time, the dial", len(words))
	}
	numbers, err := l.takeWords(words, &l.Slip.DialS)
	if err != nil {
		return "", err
	}
	if len(numbers) > 1 {
		return "", fmt.Errorf("%q: want one number here, the dial; the times come next", shorten(strings.Join(numbers, " ")))
	}
	if len(numbers) == 1 {
		if l.Slip.DialS, err = Dial(numbers[0]); err != nil {
			return "", fmt.Errorf("dial: %w", err)
		}
	}
	*s = l.Slip
	return l.At, nil
}
