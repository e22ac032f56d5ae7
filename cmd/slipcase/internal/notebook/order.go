package notebook

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

var errDate = errors.New("want a date, as 2026-05-02")

// days settles the dates of all rows.
func (n *Notebook) days(o *Options) {
	var written []typed.Day
	for i := range n.Rows {
		d := &n.Rows[i]
		switch {
		case !d.sheetDate.IsZero() && !(Field{When: d.sheetDate}).ClockAlone():
			t := d.sheetDate
			d.day = typed.Day{Year: t.Year(), Month: int(t.Month()), Day: t.Day()}
			if !t.Equal(t.Truncate(24 * time.Hour)) {
				d.day.Clock = t.Format("15:04:05")
			}
		case d.dayText != "":
			read, _, ok := typed.ReadDay(d.dayText)
			if !ok {
				d.Faults = append(d.Faults, Fault{Head: "date", Text: d.dayText, Want: errDate, Role: Date})
				continue
			}
			d.day = read
			written = append(written, read)
		}
	}
	order := o.DateOrder
	twoWays := slices.ContainsFunc(written, func(d typed.Day) bool { return d.First != 0 && d.First != d.Second })
	if order == "" && twoWays {
		if order = typed.DayOrder(written, o.Now); order == "" {
			i := slices.IndexFunc(
				n.Rows,
				func(d Draft) bool { return d.day.First != 0 && d.day.First != d.day.Second },
			)
			n.Questions = append(n.Questions, Question{Kind: WhichOrder, Name: n.Rows[i].dayText})
		}
	}
	if twoWays {
		n.DateOrder = order
	}
	year := func(d *Draft) int { return cmp.Or(o.Year, n.Years[d.Sheet]) }
	yearless := func(d Draft) bool { return d.day != (typed.Day{}) && d.day.Year == 0 && year(&d) == 0 }
	if i := slices.IndexFunc(n.Rows, yearless); i >= 0 {
		n.Questions = append(n.Questions, Question{Kind: WhichYear, Name: n.Rows[i].dayText})
	}
	none := 0
	for i := range n.Rows {
		d := &n.Rows[i]
		if d.day == (typed.Day{}) {
			if d.dayText == "" {
				none++
				d.Faults = append(d.Faults, Fault{Head: "date", Want: errDate, Role: Date})
			}
			continue
		}
		d.day = d.day.In(cmp.Or(order, "mdy"))
		if d.day.Year == 0 {
			d.day.Year = year(d)
		}
		d.checkDay(o.Now)
	}
	if none > 0 && none == len(n.Rows) {
		n.Questions = append(n.Questions, Question{Kind: NoDate})
	}
}

// checkDay refuses days on which nobody raced.
func (d *Draft) checkDay(now time.Time) {
	bad := func(want error) {
		d.Faults = append(
			d.Faults,
			Fault{Head: "date", Text: cmp.Or(d.dayText, d.sheetDate.Format(time.DateOnly)), Want: want, Role: Date},
		)
	}
	switch t := time.Date(d.day.Year, time.Month(d.day.Month), d.day.Day, 0, 0, 0, 0, time.UTC); {
	case d.day.Month == 0:
		bad(errors.New("no month has such a day: want one, as 2026-05-02"))
	case d.day.Year == 0: // asked
	case d.day.Year < firstYear:
		bad(fmt.Errorf("before %d: want the day it was run", firstYear))
	case t.After(now.AddDate(0, 0, 1)):
		bad(errors.New("in the future: want the day it was run"))
	}
}

// afterNoon are the hours that without a word for it are after noon: nobody races then in
// the night (common practice, no source).
const afterNoonUpTo = 6

// settleMoments gives every row its moment. Rows without a time of day keep their order: ten
// minutes apart from ten in the morning.
func (n *Notebook) settleMoments(o *Options) {
	up, down := 0, 0
	for i := 1; i < len(n.Rows); i++ {
		switch a, b := n.Rows[i-1].day.Number(), n.Rows[i].day.Number(); {
		case a == 0 || b == 0 || n.Rows[i-1].Sheet != n.Rows[i].Sheet:
		case b > a:
			up++
		case b < a:
			down++
		}
	}
	n.NewestFirst = down > up
	plain, inOrder := true, n.rowsInOrder() // no hour says of itself that it is after noon
	for i := range n.Rows {
		if h, _, _, twelve, ok := n.Rows[i].hour(); ok && (!twelve || h == 0) {
			plain = false
		}
	}
	order := make([]int, len(n.Rows))
	for i := range order {
		order[i] = i
	}
	if n.NewestFirst {
		slices.Reverse(order)
	}
	clockless := map[string]int{}
	last := map[string]time.Time{}
	for _, i := range order {
		d := &n.Rows[i]
		if d.day.Month == 0 || d.day.Year == 0 {
			continue
		}
		zone := o.Zone(d.Slip.Track)
		key := strconv.Itoa(d.day.Number())
		h, m, s, twelve, ok := d.hour()
		switch {
		case !d.day.When.IsZero():
			d.Slip.Time.Time = d.day.When
		case ok:
			t := time.Date(d.day.Year, time.Month(d.day.Month), d.day.Day, h, m, s, 0, zone)
			before := last[key+d.Slip.Vehicle]
			late := h <= afterNoonUpTo || inOrder && h < 12 && t.Before(before) && before.Sub(t) > time.Hour
			if plain && twelve && late {
				t = t.Add(12 * time.Hour)
				n.Afternoons++
			}
			d.Slip.Time.Time, last[key+d.Slip.Vehicle] = t, t
		case d.clock != "" && !absent(d.clock):
			d.Faults = append(
				d.Faults,
				Fault{Head: "time", Text: d.clock, Want: errors.New("want a time of day, as 14:25"), Role: Clock},
			)
		default:
			n.NoClock++
			at := 10*60 + 10*clockless[key]
			if clockless[key]++; at > 23*60 {
				at = 23*60 + clockless[key]%60
			}
			d.Slip.Time.Time = time.Date(d.day.Year, time.Month(d.day.Month), d.day.Day, 0, at, 0, 0, zone)
			if before := last[key]; !d.Slip.Time.After(before) {
				d.Slip.Time.Time = before.Add(time.Minute)
			}
		}
		last[key] = d.Slip.Time.Time
	}
}

// rowsInOrder reports that the days of each vehicle's rows only rise or only fall down a sheet: where
// they do not, a clock behind a later one of its day tells nothing.
func (n *Notebook) rowsInOrder() bool {
	type of struct{ sheet, vehicle string }
	last, rise, fall := map[of]int{}, map[of]bool{}, map[of]bool{}
	for i := range n.Rows {
		d := &n.Rows[i]
		at, day := (of{d.Sheet, d.Slip.Vehicle}), d.day.Number()
		if day == 0 {
			continue
		}
		if was, seen := last[at]; seen {
			rise[at], fall[at] = rise[at] || day > was, fall[at] || day < was
		}
		if last[at] = day; rise[at] && fall[at] {
			return false
		}
	}
	return true
}

// pointClock is a time of day with a point, as 14.35.
var pointClock = pattern.Of(`^\d{1,2}\.\d\d$`)

// hour is the time of day that a row says.
func (d *Draft) hour() (h, m, s int, twelve, ok bool) {
	if !d.clockAt.IsZero() {
		return d.clockAt.Hour(), d.clockAt.Minute(), d.clockAt.Second(), d.clockAt.Hour() >= 1 &&
			d.clockAt.Hour() <= 12, true
	}
	if d.clock == "" {
		if d.day.Clock == "" {
			return 0, 0, 0, false, false
		}
		return typed.ReadClock(d.day.Clock)
	}
	if h, m, s, ok = clockOfDay(d.clock); ok {
		return h, m, s, false, true
	}
	if pointClock.MatchString(d.clock) {
		return typed.ReadClock(strings.Replace(d.clock, ".", ":", 1))
	}
	return typed.ReadClock(d.clock)
}

// clockOfDay reads a time of day as a spreadsheet counts it, a share of the day: 0.445139.
func clockOfDay(text string) (h, m, s int, ok bool) {
	of, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || !(of > 0 && of < 1) {
		return 0, 0, 0, false
	}
	at := int(math.Round(of * 24 * 60 * 60))
	return at / 3600 % 24, at / 60 % 60, at % 60, true
}

// How few and how many reactions of half a second tell that a perfect light prints .500.
const (
	fewLights = 4
	halfTree  = 0.5
)

// lights tells by all reactions what a perfect light prints.
func (n *Notebook) lights(o *Options) {
	var own []float64
	for i := range n.Rows {
		if r := n.Rows[i].Slip.ReactionS; r.Known() {
			own = append(own, r.Value())
		}
	}
	if n.PerfectS = o.PerfectS; len(own) == 0 {
		return
	}
	slices.Sort(own)
	middle, early := own[len(own)/2], own[len(own)/10]
	switch {
	case o.PerfectS.Known() || middle < 0.38:
	case len(own) >= fewLights && middle >= halfTree && middle < 0.62 && early > 0.44:
		n.PerfectS = units.Some(halfTree)
	case n.allAt(o, own):
	default:
		n.Questions = append(n.Questions, Question{Kind: WhichTree, Name: strconv.FormatFloat(middle, 'f', 3, 64)})
	}
	if n.PerfectS.Known() && n.PerfectS.Value() > 0 {
		for i := range n.Rows {
			if s := &n.Rows[i].Slip; s.ReactionS.Known() || s.OpponentReactionS.Known() {
				s.Tree = n.PerfectS
			}
		}
	}
}

// allAt reports that the tracks of all rows say what a perfect light prints there.
func (n *Notebook) allAt(o *Options, _ []float64) bool {
	for i := range n.Rows {
		at := slices.IndexFunc(o.Tracks, func(t crew.Track) bool { return t.ID == n.Rows[i].Slip.Track })
		if at < 0 || !o.Tracks[at].PerfectReactionS.Known() {
			return false
		}
	}
	return true
}
