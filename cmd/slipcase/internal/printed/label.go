package printed

import "strings"

// kind says what a figure is of.
type kind int

const (
	none kind = iota
	reaction
	et // at a mark
	speed
	dial
	index
	ignored // worked out from others: what it says is not kept
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
	mark int // of times and speeds; finish where it is not told
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
	add(field{reaction, noMark}, "r/t", "rt", "r t", "reaction", "reaction time", "react", "light", "reac")
	for m, words := range [][]string{
		{"60", "60ft", "60 ft", "60 foot", "60 feet", "sixty"},
		{"330", "330ft", "330 ft", "330 foot", "330 feet"},
		{"660", "660ft", "660 ft", "660 foot", "1/8", "1/8 mile", "1/8 mi", "1/8mi", "eighth", "eighth mile", "1/8th"},
		{"1000", "1000ft", "1000 ft", "1000 foot", "1000 feet"},
		{"1320", "1320ft", "1320 ft", "1320 foot", "1/4", "1/4 mile", "1/4 mi", "1/4mi", "quarter", "quarter mile"},
	} {
		add(field{et, m}, words...)
	}
	add(field{et, finish}, "et", "e t", "e/t", "elapsed", "elapsed time")
	add(field{speed, noMark}, "mph", "speed", "m p h", "km/h", "kmh", "kph")
	add(field{dial, noMark}, "dial", "dial-in", "dialin", "dial in", "d/i", "dialed")
	add(field{index, noMark}, "index", "indx")
	add(field{ignored, noMark}, "margin", "margin of victory", "mov", "by", "over", "under", "over/under", "o/u",
		"+/-", "package", "pkg", "diff", "difference", "breakout", "total", "first", "temp", "humidity", "baro", "wind", "da")
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

// labelAt is the label that words begin with, and how many of them it takes.
func labelAt(words []string) (f field, n int) {
	for n = min(mostWords, len(words)); n > 0; n-- {
		folded := fold(strings.Join(words[:n], " "))
		if f, ok := spoken[folded]; ok {
			return f, n
		}
		// 1,000' and 1.320: a point among thousands.
		if n == 1 && strings.ContainsAny(words[0], "'") {
			if f, ok := spoken[strings.TrimSuffix(folded, "ft")]; ok {
				return f, n
			}
		}
	}
	return field{}, 0
}
