package printed

import (
	"strings"

	"slipcase/cmd/slipcase/internal/typed"
)

// kind says what a figure is of.
type kind int

const (
	none kind = iota
	reaction
	et // at a mark
	speed
	dial
	index
	worked // out from others, or of the day: what it says is not kept
	class
	car
	runNo
	round
	clock
	date
	winner
	result
	foul
	laneWord
	unit // behind a mark, or a figure
)

// field is what a label says: its kind, and the mark where it has one.
type field struct {
	kind kind
	mark int // of times and speeds; finish where it is not told; of what is worked out which sum
}

// The marks, and one that stands for the end of the run, wherever that is.
const (
	noMark = -1
	finish = 5
)

// spoken are the labels: words of the trade, as fold leaves them (common practice, no source).
var spoken = func() map[string]field {
	all := map[string]field{}
	add := func(f field, words ...string) {
		for _, w := range words {
			all[fold(w)] = f
		}
	}
	add(field{reaction, noMark}, "r/t", "rt", "r t", "rx", "reaction", "reaction time", "react", "light", "reac")
	for m, words := range [][]string{
		{"60", "60ft", "60 ft", "60 foot", "60 feet", "sixty"},
		{"330", "330ft", "330 ft", "330 foot", "330 feet"},
		{"660", "660ft", "660 ft", "660 foot", "half", "half track", "1/8", "1/8 mile", "1/8 mi", "1/8mi", "eighth", "eighth mile", "1/8th"},
		{"1000", "1000ft", "1000 ft", "1000 foot", "1000 feet", "thousand", "thou"},
		{"1320", "1320ft", "1320 ft", "1320 foot", "1/4", "1/4 mile", "1/4 mi", "1/4mi", "quarter", "quarter mile"},
	} {
		add(field{et, m}, words...)
	}
	add(field{et, finish}, "et", "e t", "e/t", "elapsed", "elapsed time", "full", "full track")
	add(field{speed, noMark}, "mph", "speed", "v", "m p h", "km/h", "kmh", "kph")
	add(field{dial, noMark}, "dial", "dial-in", "dialin", "dial in", "d/i", "dialed")
	add(field{index, noMark}, "index", "indx", "idx")
	for of, words := range map[sum][]string{
		over:    {"over", "under", "over/under", "over/undr", "ovr/und", "o/u", "+/-", "breakout", "diff", "difference"},
		pkg:     {"package", "pkg"},
		total:   {"total"},
		margin:  {"margin", "margin of victory", "mov", "by"},
		perfect: {"perfect", "perfect light", "perfect tree", "tree"},
		noSum:   {"first", "temp", "humidity", "baro", "wind", "da"},
	} {
		add(field{worked, int(of)}, words...)
	}
	add(field{class, noMark}, "class", "category", "cat")
	add(field{car, noMark}, "car", "car no", "car number", "vehicle", "entry", "comp", "number")
	add(field{runNo, noMark}, "run", "run no", "run number", "pass", "ticket", "slip")
	add(field{round, noMark}, "round", "rnd")
	add(field{clock, noMark}, "time")
	add(field{date, noMark}, "date")
	add(field{winner, noMark}, "winner", "win", "winning lane")
	add(field{result, noMark}, "result", "won", "lost", "loser", "loss")
	add(field{foul, noMark}, "foul", "red", "red light", "redlight")
	add(field{laneWord, noMark}, "lane")
	add(field{unit, noMark}, "ft", "foot", "feet", "mile", "mi", "sec", "seconds")
	return all
}()

const mostWords = 3 // of a label

// fold writes what looks alike alike, without points and small signs.
func fold(s string) string {
	var out strings.Builder
	for _, c := range strings.ToLower(s) {
		switch c {
		case 'o', 'q', '0':
			c = '0'
		case 'l', 'i', '|', '!', '1':
			c = '1'
		case 's', '$', '5':
			c = '5'
		case 'b', '8':
			c = '8'
		case 'z', '2':
			c = '2'
		case 'g', '6':
			c = '6'
		case '.', ':', '\'', '"', '*', '#', ',', ';', '(', ')', '=', '_', '@', '-':
			continue
		}
		out.WriteRune(c)
	}
	return strings.TrimSpace(out.String())
}

// deep folds on: what a phone takes for another letter.
func deep(s string) string {
	return strings.Map(func(c rune) rune {
		switch c {
		case 'e', 'p', 'c':
			return 'f'
		case 'h', 'm':
			return 'n'
		case 'r', '4':
			return 'a'
		case 't', '?':
			return '7'
		case 'd':
			return '0'
		case '/', '\\':
			return '1'
		case '&':
			return '8'
		}
		return c
	}, fold(s))
}

// alikeLabels are the labels as deep folds them, without those that are then the same.
var alikeLabels = func() map[string]field {
	all, twice := map[string]field{}, map[string]bool{}
	for word, f := range spoken {
		d := deep(word)
		if was, there := all[d]; there && was != f {
			twice[d] = true
		}
		all[d] = f
	}
	for d := range twice {
		delete(all, d)
	}
	return all
}()

// labelAt is the label that words begin with, whether it is only much like it, and how many
// words it takes.
func labelAt(words []string) (f field, like bool, n int) {
	for n = min(mostWords, len(words)); n > 0; n-- {
		text := strings.Join(words[:n], " ")
		folded := fold(text)
		if n > 1 && fold(words[n-1]) == "" {
			continue // a sign, or a stray mark
		}
		if f, ok := spoken[folded]; ok {
			return f, false, n
		}
		// 1,000' and 1.320: a point among thousands.
		if n == 1 && strings.ContainsAny(words[0], "'") {
			if f, ok := spoken[strings.TrimSuffix(folded, "ft")]; ok {
				return f, false, n
			}
		}
		if f, ok := alikeLabels[deep(text)]; ok && !allDigits(text) {
			return f, true, n
		}
		if f, ok := shortLabels[short(text)]; ok {
			return f, true, n
		}
	}
	return field{}, false, 0
}

// short is a word without its vowels, "" where too little is left of it.
func short(s string) string {
	s = strings.ToLower(strings.Trim(s, ".:*"))
	out := strings.Map(func(c rune) rune {
		if strings.ContainsRune("aeiou", c) {
			return -1
		}
		return c
	}, s)
	const fewest = 3
	if len(out) < fewest || strings.ContainsAny(s[:1]+out, "aeiou0123456789 ") {
		return ""
	}
	return out
}

// shortLabels are labels that are often printed without their vowels.
var shortLabels = func() map[string]field {
	all := map[string]field{}
	for _, word := range []string{
		"sixty", "half", "thousand", "quarter", "speed", "reaction", "react", "package", "class", "margin", "winner",
	} {
		all[short(word)] = spoken[fold(word)]
	}
	return all
}()

func allDigits(s string) bool { return strings.Trim(s, "0123456789 ") == "" }

// holds reports that a field can have a value.
func (f field) holds(v float64) bool {
	switch f.kind {
	case reaction:
		return v > -2 && v < 5
	case dial, index:
		return typed.HoldsDial(v)
	case speed:
		return typed.HoldsSpeed(v)
	case et:
		return typed.Holds(markFt[f.mark], v)
	}
	return false
}
