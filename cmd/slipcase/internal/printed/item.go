package printed

import (
	"strings"
	"unicode"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/cmd/slipcase/internal/typed"
)

// item is a label, a figure, a lane's name or another word, in the order of the text.
type item struct {
	of    itemKind
	text  string
	line  int
	f     field  // of a label
	like  bool   // it is much like the label
	n     number // of a figure
	glued bool   // to the figure before it
	weak  bool   // signs that may be part of a figure
}

type itemKind int

const (
	word itemKind = iota
	label
	numeral
	sideName // text is left or right
	gap      // what is printed where there is no figure, as -.---
)

// written is a text taken apart.
type written struct {
	items []item
	day   typed.Day
	dated bool
	clock string
	mph   bool // the text says so
	kmh   bool
	both  number // the index of both lanes, printed once
	once  bool   // there is one
	us    string // won or lost, where the text says so to the racer
}

var (
	border       = pattern.Of(`(?m)(^|[ \t])\|($|[ \t])`)
	rule         = pattern.Of(`(?m)^[ \t|+=_*-]*([+=]|[-_*]{10})[ \t|+=_*-]*$`)
	inUnit       = pattern.Of(`(?i)\(([^\s()]+[ \t]*(?:mph|km/?h|kph|sec|s))\)`)
	noFigureText = pattern.Of(`(?i)^(?:[-.,]*-[-.,]*-[-.,]*-[-.,]*|\*{3,8}|n/a|[b8]ye)$`)
	toUs         = pattern.Of(`(?i)\byou[ \t]+(win|won|lose|lost)\b`)
	leader       = pattern.Of(`[.·_]{3,}|…+`)
	dayNamed     = pattern.Of(`(?i)^\d{1,2}[-/][a-z]{3,}[-/]\d{2,4}$`)
	monthAny     = pattern.Of(`(?i)^(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[.,]?$`)
	dayText      = pattern.Of(
		`^(\d{1,4}[-/]\d{1,2}[-/]\d{1,4}|\d{4}[.]\d{1,2}[.]\d{1,2}|\d{1,2}[.]\d{1,2}[.]\d{4})$`,
	)
	hourText = pattern.Of(`^\d{1,2}:\d\d(:\d\d)?([ap]m?)?$`)
	halfDay  = pattern.Of(`(?i)^[ap]\.?m\.?$`)
	inMPH    = pattern.Of(`(?i)m\.?p\.?h`)
	inKmh    = pattern.Of(`(?i)km ?/ ?h|kmh|kph`)
)

// takeApart reads the items of a text, its date and its time of day.
func takeApart(text string) (w written) {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u00a0", " ").Replace(plainSigns.Replace(text))
	w.mph, w.kmh = inMPH.MatchString(text), inKmh.MatchString(text)
	text = inUnit.ReplaceAllString(rule.ReplaceAllString(text, ""), " $1 ")
	if len(border.FindAllString(text, mostBars+1)) > mostBars {
		text = border.ReplaceAllString(text, " ")
	}
	if m := toUs.FindStringSubmatchIndex(text); m != nil {
		w.us = map[byte]string{'w': "won", 'l': "lost"}[text[m[2]]|' ']
		text = text[:m[0]] + " " + text[m[1]:]
	}
	for no, line := range strings.Split(text, "\n") {
		line = leader.ReplaceAllString(line, " ")
		words := wordsOf(line)
		words = w.takeDay(words)
		words = w.takeClock(words)
		for at := 0; at < len(words); {
			it, n := itemOf(words[at:])
			it.glued = strings.HasPrefix(words[at], glue)
			it.line, it.n.id = no, len(w.items)
			if at += n; it.text != "" || it.of == label {
				w.items = append(w.items, it)
			}
		}
	}
	w.items = underLabels(oneLabel(withBlanks(w.items)))
	return w
}

// mostBars are more bars than a phone makes of specks and ones: beyond it they are a table's.
const mostBars = 6

// glue stands before a word that hangs on the one before it.
const glue = "\x00"

// wordsOf parts labels from figures, and figures from figures, that stand close.
func wordsOf(line string) (words []string) {
	for _, f := range strings.Fields(line) {
		f = strings.TrimRight(strings.ReplaceAll(f, glue, ""), ";")
		if whole := strings.TrimRight(f, ","); strings.Contains(whole, ".") {
			f = whole // a comma that ends a clause
		}
		switch before, after, parted := strings.Cut(f, ":"); {
		case parted && !hourText.MatchString(undone(f)) && after != "":
			words = append(words, before, after)
		case f == "-" || f == "-.":
			words = append(words, f) // it may be a sign
		case noFigureText.MatchString(f) && len(f) < 9:
			words = append(words, f)
		case strings.Trim(f, "*@=-.,~_'\\]/") == "":
		default:
			words = append(words, partsOf(f)...)
		}
	}
	return words
}

var (
	behindLabel = pattern.Of(`^(.*?[A-Za-z'"/][^.,]*?)([-+]?[0-9OlISB|]*[.,]+[0-9A-Za-z|!?&$]{2,})$`)
	beforeLabel = pattern.Of(`^([-+]?[0-9OQlISB|]*[.,]+[0-9OQlISB|]{2,4}?)([A-Za-z'"/]{2,}.*)$`)
	behindMark  = pattern.Of(`^(60|330|660|1000|1320)([-+]?\d+[.]\d{3,})$`)
	twoFigures  = pattern.Of(`^(.*?[.,]+)([^.,]{2,})([.,]+.*)$`)
)

// partsOf are the label and the figure that a word is, or the pieces of two figures.
func partsOf(word string) []string {
	if m := behindMark.FindStringSubmatch(word); m != nil && len(strings.Split(m[2], ".")[0]) < 3 {
		return m[1:]
	}
	if dayText.MatchString(undone(word)) {
		return []string{word}
	}
	if twoFigures.MatchString(word) && digitsOnly(strings.NewReplacer(".", "", ",", "").Replace(word)) {
		return apartFigures(word)
	}
	if _, ok := numberOf(word); !ok {
		if m := beforeLabel.FindStringSubmatch(word); m != nil {
			if _, _, n := labelAt(m[2:]); n > 0 {
				return m[1:]
			}
		}
		if m := behindLabel.FindStringSubmatch(word); m != nil {
			for at := len(m[1]); at > 1; at-- {
				_, _, n := labelAt([]string{word[:at]})
				if _, ok := numberOf(word[at:]); n > 0 && ok {
					return []string{word[:at], word[at:]}
				}
			}
		}
		return twoWords(word)
	}
	return []string{word}
}

// apartFigures are the pieces of two figures that stand close: the first has two, three or four decimals.
func apartFigures(word string) (out []string) {
	m := twoFigures.FindStringSubmatch(word)
	last := 0
	for _, d := range []int{2, 3, 4} {
		if at := len(m[1]) + d; d <= len(m[2]) && at < len(word) {
			out = append(out, strings.Repeat(glue, min(last, 1))+word[last:at])
			last = at
		}
	}
	return append(out, glue+word[last:])
}

// twoWords are the labels or names of lanes that stand close.
func twoWords(word string) []string {
	const least = 3 // letters
	known := func(s string) bool {
		_, like, n := labelAt([]string{s})
		return n > 0 && !like || sideOf(s) != ""
	}
	sign := func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) }
	if strings.ContainsFunc(word, sign) || known(word) {
		return []string{word}
	}
	for at := least; at <= len(word)-least; at++ {
		if known(word[:at]) && known(word[at:]) {
			return []string{word[:at], word[at:]}
		}
	}
	return []string{word}
}

// digitsOnly reports a text of digits and what is taken for them.
func digitsOnly(s string) bool {
	for _, c := range s {
		if _, ok := alike[c]; !ok && (c < '0' || c > '9') {
			return false
		}
	}
	return s != ""
}

// undone is a date or a time with the digits that letters stand for.
func undone(s string) string {
	half := ""
	for _, end := range []string{"am", "pm", "AM", "PM", "a", "p", "A", "P"} {
		if cut, ok := strings.CutSuffix(s, end); ok {
			s, half = cut, strings.ToLower(end)
			break
		}
	}
	return strings.Map(func(c rune) rune {
		if d, ok := alike[c]; ok {
			return d
		}
		return c
	}, s) + half
}

// takeDay takes the date out of the words of a line.
func (w *written) takeDay(words []string) (rest []string) {
	for i := range words {
		from, to, text := i, i+1, undone(strings.TrimRight(words[i], ",."))
		switch {
		case w.dated:
			return words
		case dayText.MatchString(text):
		case dayNamed.MatchString(words[i]):
			text = strings.NewReplacer("-", " ", "/", " ").Replace(words[i])
		case monthAny.MatchString(words[i]):
			whole := func(k int) bool { return k >= 0 && k < len(words) && digitsOnly(strings.Trim(words[k], ",.")) }
			if whole(i-1) && (whole(i+1) || !whole(i+1) && i == len(words)-1) &&
				len(strings.Trim(words[i-1], ",.")) <= 2 {
				from = i - 1
			}
			for to < len(words) && to-from < 3 && whole(to) {
				to++
			}
			parts := make([]string, 0, 3)
			for k := from; k < to; k++ {
				if k == i {
					parts = append(parts, strings.Trim(words[k], ",."))
				} else {
					parts = append(parts, undone(strings.Trim(words[k], ",.")))
				}
			}
			text = strings.Join(parts, " ")
		default:
			continue
		}
		if d, _, ok := typed.ReadDay(text); ok {
			w.day, w.dated = d, true
			if from > 0 && strings.HasSuffix(words[from-1], ",") || from > 0 && typed.IsWeekday(words[from-1]) {
				from--
			}
			return append(words[:from:from], words[to:]...)
		}
	}
	return words
}

// takeClock takes the time of day out of the words of a line.
func (w *written) takeClock(words []string) (rest []string) {
	for i := range words {
		text := undone(words[i])
		if w.clock != "" || !hourText.MatchString(text) {
			continue
		}
		n := 1
		if i+1 < len(words) && halfDay.MatchString(words[i+1]) {
			text += strings.ToLower(strings.ReplaceAll(words[i+1], ".", ""))
			n = 2
		}
		w.clock = text
		return append(words[:i:i], words[i+n:]...)
	}
	return words
}

// itemOf is the item that words begin with, and how many of them it takes.
func itemOf(words []string) (item, int) {
	text := strings.TrimPrefix(words[0], glue)
	if noFigureText.MatchString(text) {
		return item{of: gap, text: text}, 1
	}
	n, isNumber := numberOf(text)
	if isNumber && !n.whole() {
		return item{of: numeral, text: text, n: n}, 1
	}
	if name := sideOf(text); name != "" {
		took := 1
		if len(words) > 1 && fold(words[1]) == fold("lane") {
			took = 2
		}
		if text == "l" {
			n.digits = "1"
		}
		return item{of: sideName, text: name, n: n}, took
	}
	if strings.EqualFold(text, "s") {
		return item{of: label, f: field{unit, noMark}}, 1
	}
	if f, like, took := labelAt(words); took > 0 {
		return item{of: label, text: strings.Join(words[:took], " "), f: f, like: like, n: n}, took
	}
	if isNumber {
		return item{of: numeral, text: text, n: n}, 1
	}
	const mostWeak = 3
	if text == "-" || text == "-." || len(text) <= mostWeak && digitsOnly(strings.Trim(text, ".,")) {
		return item{of: numeral, text: text, weak: true}, 1
	}
	return item{of: word, text: strings.Trim(text, ",:*")}, 1
}

// sideOf is the lane that a word names, "" where it names none.
func sideOf(text string) string {
	switch text = strings.ReplaceAll(strings.Trim(text, ":.*()"), "9", "g"); {
	case strings.EqualFold(text, "l"), strings.EqualFold(text, "lft"), deep(text) == deep("left"):
		return "left"
	case strings.EqualFold(text, "r"), strings.EqualFold(text, "rgt"), deep(text) == deep("right"):
		return "right"
	}
	return ""
}
