package logbook

import (
	"slices"
	"strings"
	"time"
)

// times reads the times of a file that another program has rewritten in its own form,
// without a zone and perhaps without seconds. What the journal says at the same minute
// is what the cell says; else the cell is an edit, in the zone of its track.
type times struct {
	lb       *Logbook
	recorded map[key][]texts // rows of the journal; nil until they are asked for
	zones    map[string]*time.Location
	order    dayOrder
	settled  bool // order is known, as far as it can be
}

// dayOrder is whether a program writes the day of the month before the month.
type dayOrder int

const (
	eitherOrder dayOrder = iota
	monthFirst
	dayFirst
)

// timeColumn is a column of times in a file.
type timeColumn struct {
	name string
	at   int
}

// plainTimes gives a row's times the form in which we would have written them.
func (c *content) plainTimes(row []string) {
	for _, col := range c.timeColumns {
		if cell := row[col.at]; cell != "" && !isStamp(cell) && c.times != nil {
			if text, ok := c.times.read(c, row, col.name, cell); ok {
				row[col.at] = text
			}
		}
	}
}

// isStamp reports whether a cell has the look of RFC 3339, as nearly all have.
func isStamp(cell string) bool {
	n := len(cell)
	return n >= 20 && cell[4] == '-' && cell[10] == 'T' &&
		(cell[n-1] == 'Z' || cell[n-3] == ':' && (cell[n-6] == '+' || cell[n-6] == '-'))
}

// restamp gives rows whose recorded_at another program has rewritten their moment.
func (c *content) restamp() {
	at, there := c.at["recorded_at"]
	if !there || !slices.ContainsFunc(c.rows, func(r rowRef) bool { return r.at == unstamped }) {
		return
	}
	for i, cells := range c.each(c.rows) {
		if c.rows[i].at == unstamped && cells[at] != "" {
			c.plainTimes(cells)
			c.rows[i].at = stampOf(cells[at])
		}
	}
}

// read tells what a rewritten cell says, in our form.
func (t *times) read(c *content, row []string, column, cell string) (text string, ok bool) {
	walls := wallClocks(cell)
	if len(walls) == 0 {
		return "", false
	}
	recorded := t.recordedAs(c, row, column)
	for _, was := range recorded {
		if slices.ContainsFunc(walls, func(w wall) bool { return w.shows(was.Time) }) {
			text, _ := was.MarshalCSV()
			return text, true
		}
	}
	if len(walls) == 2 {
		if walls = t.settle(c, walls, recorded); len(walls) != 1 {
			return "", false
		}
	}
	y, m, d := walls[0].Date()
	h, min, s := walls[0].Clock()
	at := time.Date(y, m, d, h, min, s, 0, t.zone(c, row))
	// Where the clocks were put forward over it, no clock showed it and none is meant.
	return at.Format(stampLayout), !walls[0].dateOnly && at.Hour() == h && at.Minute() == min
}

// settle tells which of two days is meant: the one that was recorded, else the one in
// the order in which the program has written the others.
func (t *times) settle(c *content, walls []wall, recorded []Time) []wall {
	for _, was := range recorded {
		if i := slices.IndexFunc(walls, func(w wall) bool { return sameDay(w.Time, was.Time) }); i >= 0 {
			return walls[i : i+1]
		}
	}
	if !t.settled {
		t.settled = true
		t.order = t.orderOf(c)
	}
	return slices.DeleteFunc(slices.Clone(walls), func(w wall) bool { return w.order != t.order })
}

// orderOf tells in which order a file has its days and months, by the cells that only
// one order makes a date of, or the recorded one.
func (t *times) orderOf(c *content) dayOrder {
	var seen [3]bool
	for _, row := range c.each(c.rows) {
		for _, col := range c.timeColumns {
			walls := wallClocks(row[col.at])
			if len(walls) == 2 {
				recorded := t.recordedAs(c, row, col.name)
				walls = slices.DeleteFunc(walls, func(w wall) bool {
					return !slices.ContainsFunc(recorded, func(was Time) bool { return w.shows(was.Time) })
				})
			}
			if len(walls) == 1 {
				seen[walls[0].order] = true
			}
		}
	}
	switch {
	case seen[monthFirst] && !seen[dayFirst]:
		return monthFirst
	case seen[dayFirst] && !seen[monthFirst]:
		return dayFirst
	}
	return eitherOrder
}

// recordedAs is what the journal has of a cell.
func (t *times) recordedAs(c *content, row []string, column string) (list []Time) {
	if t.recorded == nil {
		t.recorded = map[key][]texts{}
		entries, _, err := t.lb.readJournal()
		if err != nil {
			return nil // who reads the journal for its own sake says so
		}
		for _, e := range entries {
			if e.file == c.name {
				k := key{e.id, e.rev}
				t.recorded[k] = append(t.recorded[k], e.texts())
			}
		}
	}
	k := texts{"id": row[c.at["id"]], "rev": strings.TrimSpace(row[c.at["rev"]])}.key()
	for _, was := range t.recorded[k] {
		var at Time
		if at.UnmarshalCSV(was[column]) == nil && !at.IsZero() {
			list = append(list, at)
		}
	}
	return list
}

// zone is that of the track of a row, else the machine's.
func (t *times) zone(c *content, row []string) *time.Location {
	machine := t.lb.now().Location()
	at, there := c.at["track"]
	if !there || row[at] == "" {
		return machine
	}
	if t.zones == nil {
		t.zones = map[string]*time.Location{}
		if c, err := t.lb.read(tracks, nil); err == nil {
			all, _, _ := present[Track](c, c.newest())
			for _, track := range all {
				t.zones[track.ID] = track.Location(machine)
			}
		}
	}
	if zone := t.zones[row[at]]; zone != nil {
		return zone
	}
	return machine
}
