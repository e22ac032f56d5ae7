package typed

import (
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/pattern"
)

// Day is a date as written: of two small numbers it is not told which is the month.
type Day struct {
	Year, Month, Day int // year 0 where it is not written
	First, Second    int // where the order is not told, in its place of month and day
	Clock            string
	When             time.Time
}

var (
	weekday  = pattern.Of(`(?i)\b(mon|tues?|wed(nes)?|thur?s?|fri|sat(ur)?|sun)(day)?\b\.?,?\s*`)
	isoDay   = pattern.Of(`\b((?:19|20)\d\d)[-/.](\d{1,2})[-/.](\d{1,2})`)
	numbers3 = pattern.Of(`\b(\d{1,2})\s?[-/.]\s?(\d{1,2})\s?[-/.]\s?((?:19|20)\d\d|\d\d)\b`)
	numbers2 = pattern.Of(`^(\d{1,2})[-/](\d{1,2})$`)
	dotted2  = pattern.Of(`^(\d{1,2})\.\s?(\d{1,2})\.$`) // the day first, wherever it is written so
	dayMonth = pattern.Of(
		`(?i)\b(\d{1,2})(?:st|nd|rd|th)?[-\s.]*` + monthNames + `[-\s,.']*((?:19|20)\d\d|\d\d\b)?`,
	)
	monthDay = pattern.Of(
		`(?i)\b` + monthNames + `[-\s.]*(\d{1,2})(?:st|nd|rd|th)?\b(?:[-\s,.']+((?:19|20)\d\d|\d\d\b))?`,
	)
	clockEnd = pattern.Of(`(?i)(\d{1,2})(?:[:h]|\s+h\s+)(\d\d)(?::(\d\d)(?:\.\d+)?)?\s*([ap])?\.?(?:m\b)?\.?`)
)

const monthNames = `(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*`

// IsWeekday reports a word that names a day of the week, whole or short, and nothing else.
func IsWeekday(word string) bool { return word != "" && weekday.FindString(word) == word }

// ReadDay reads a date anywhere in a text; rest is what else it says.
func ReadDay(text string) (d Day, rest string, ok bool) {
	plain := weekday.ReplaceAllString(inEnglish(text), " ")
	cut := func(m []int) { rest = strings.TrimSpace(plain[:m[0]] + " " + plain[m[1]:]) }
	num := func(m []int, group int) int {
		if m[2*group] < 0 {
			return 0
		}
		n, _ := strconv.Atoi(plain[m[2*group]:m[2*group+1]])
		return n
	}
	year := func(m []int, group int) int {
		n := num(m, group)
		if m[2*group] >= 0 && m[2*group+1]-m[2*group] == 2 {
			n = century(n)
		}
		return n
	}
	month := func(m []int, group int) int {
		return strings.Index(
			"janfebmaraprmayjunjulaugsepoctnovdec",
			strings.ToLower(plain[m[2*group]:m[2*group+1]])[:3],
		)/3 + 1
	}
	if m := isoDay.FindStringSubmatchIndex(plain); m != nil {
		d = Day{Year: num(m, 1), Month: num(m, 2), Day: num(m, 3)}
		cut(m)
	} else if m := numbers3.FindStringSubmatchIndex(plain); m != nil {
		d = Day{Year: year(m, 3), First: num(m, 1), Second: num(m, 2)}
		cut(m)
	} else if m := dayMonth.FindStringSubmatchIndex(plain); m != nil {
		d = Day{Year: year(m, 3), Month: month(m, 2), Day: num(m, 1)}
		cut(m)
	} else if m := monthDay.FindStringSubmatchIndex(plain); m != nil {
		d = Day{Year: year(m, 3), Month: month(m, 1), Day: num(m, 2)}
		cut(m)
	} else if m := numbers2.FindStringSubmatchIndex(strings.TrimSpace(plain)); m != nil {
		plain = strings.TrimSpace(plain)
		d = Day{First: num(m, 1), Second: num(m, 2)}
		rest = ""
	} else if m := dotted2.FindStringSubmatchIndex(strings.TrimSpace(plain)); m != nil {
		plain = strings.TrimSpace(plain)
		d = Day{Month: num(m, 2), Day: num(m, 1)}
		rest = ""
	} else {
		return d, text, false
	}
	if m := clockEnd.FindStringIndex(rest); m != nil {
		d.Clock = rest[m[0]:m[1]]
		if t, err := time.Parse(time.RFC3339, strings.TrimSpace(text)); err == nil {
			d.When = t
		}
		rest = strings.TrimSpace(strings.TrimLeft(rest[:m[0]], "T") + rest[m[1]:])
	}
	rest = strings.Trim(rest, " ,;-–—:()|@T")
	return d, rest, d.possible()
}

// century is the year that two digits of it mean: 70 to 99 are of the last century.
func century(yy int) int {
	if yy >= 70 {
		return 1900 + yy
	}
	return 2000 + yy
}

func (d Day) possible() bool {
	if d.Month > 0 {
		return d.Month <= 12 && d.Day >= 1 && d.Day <= daysIn(d.Year, d.Month)
	}
	a, b := d.In("mdy"), d.In("dmy")
	return a.Month > 0 || b.Month > 0
}

func daysIn(year, month int) int {
	if year == 0 {
		year = 2024 // a leap year
	}
	return time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC).Day()
}

// In is the date with its order told; its month is 0 where it cannot be so.
func (d Day) In(order string) Day {
	if d.Month > 0 || d.First == 0 {
		return d
	}
	d.Month, d.Day = d.First, d.Second
	if order == "dmy" {
		d.Month, d.Day = d.Second, d.First
	}
	if d.Month < 1 || d.Month > 12 || d.Day < 1 || d.Day > daysIn(d.Year, d.Month) {
		d.Month, d.Day = 0, 0
	}
	return d
}

// DayOrder settles by all dates of a file, in their order, whether the month or the day
// stands first; "" where they do not tell.
func DayOrder(days []Day, now time.Time) string {
	orders := [2]string{"mdy", "dmy"}
	var wrong [2]int
	for _, d := range days {
		var cannot [2]bool
		for i, order := range orders {
			r := d.In(order)
			cannot[i] = r.Month == 0 ||
				r.Year > 0 && time.Date(r.Year, time.Month(r.Month), r.Day, 0, 0, 0, 0, time.UTC).After(now)
		}
		for i := range cannot {
			if cannot[i] && !cannot[1-i] { // one that cannot be either way tells of neither
				wrong[i]++
			}
		}
	}
	var could []string
	for i, order := range orders {
		if wrong[i] == 0 {
			could = append(could, order)
		}
	}
	if len(could) == 1 {
		return could[0]
	}
	if len(could) == 2 {
		m, d := turns(days, "mdy"), turns(days, "dmy")
		switch {
		case m == 0 && d > 1:
			return "mdy"
		case d == 0 && m > 1:
			return "dmy"
		}
	}
	return ""
}

// turns counts where dates read so go against the file's direction.
func turns(days []Day, order string) int {
	up, down := 0, 0
	for i := 1; i < len(days); i++ {
		a, b := days[i-1].In(order), days[i].In(order)
		was, is := (a.Year*100+a.Month)*100+a.Day, (b.Year*100+b.Month)*100+b.Day
		if is > was {
			up++
		} else if is < was {
			down++
		}
	}
	return min(up, down)
}

// ReadClock reads a time of day; twelve says that it may be of the afternoon, unsaid.
func ReadClock(text string) (hour, minute, second int, twelve, ok bool) {
	text = strings.TrimSpace(text)
	m := clockEnd.FindStringSubmatch(text)
	if m == nil || m[0] != text {
		if len(text) < 3 || len(text) > 4 || strings.Trim(text, "0123456789") != "" {
			return 0, 0, 0, false, false
		}
		n, _ := strconv.Atoi(text)
		return n / 100, n % 100, 0, n/100 <= 12, n/100 < 24 && n%100 < 60
	}
	hour, _ = strconv.Atoi(m[1])
	minute, _ = strconv.Atoi(m[2])
	second, _ = strconv.Atoi(m[3])
	switch strings.ToLower(m[4]) {
	case "p":
		if hour < 12 {
			hour += 12
		}
	case "a":
		hour %= 12
	default:
		twelve = hour >= 1 && hour <= 12
	}
	return hour, minute, second, twelve, hour < 24 && minute < 60 && second < 60
}

// Number orders days.
func (d Day) Number() int { return (d.Year*100+d.Month)*100 + d.Day }
