package logbook

import (
	"fmt"
	"hash/maphash"
	"maps"
	"slices"
	"strings"
)

// key names a revision of an entry.
type key struct {
	id  string
	rev int
}

func (r rowRef) key() key { return key{r.id, r.rev} }

// compare holds the rows of a file against the journal and against each other. It
// gives of each revision the readable row that stands.
func (x *examination) compare(t table, c *content, unreadable map[int]bool) (readable map[key]rowRef) {
	rows := map[key][]rowRef{}
	sums := map[key]map[uint64]bool{} // of the rows as the journal would say them
	readable = map[key]rowRef{}
	seed := maphash.MakeSeed()
	for i, cells := range c.each(c.rows) {
		k := c.rows[i].key()
		rows[k] = append(rows[k], c.rows[i])
		if sums[k] == nil {
			sums[k] = make(map[uint64]bool, 1)
		}
		sums[k][maphash.Bytes(seed, c.textsOf(cells).json())] = true
	}
	sound := func(r rowRef) bool { return !unreadable[r.start] }
	for k, same := range rows {
		if same = only(same, sound); len(same) > 0 {
			readable[k] = c.standing(same)
		}
	}
	recorded := map[key][]journalEntry{}
	var order []key
	for _, e := range x.journal[t.file] {
		k := key{e.id, e.rev}
		if recorded[k] == nil {
			order = append(order, k)
		}
		recorded[k] = append(recorded[k], e)
	}
	d := &disagreement{known: len(order)}
	for _, k := range order {
		same := func(e journalEntry) bool { return sums[k][maphash.Bytes(seed, e.row)] }
		if slices.ContainsFunc(recorded[k], func(e journalEntry) bool { return !same(e) }) {
			x.compareRevision(t, c, k, recorded[k], only(rows[k], sound), len(rows[k]), d)
		}
	}
	x.judge(t, c, d)
	x.keep(t, c, readable, recorded)
	x.conflicts(t, c, rows, unreadable)
	return readable
}

func only[T any](of []T, keep func(T) bool) []T {
	return slices.DeleteFunc(slices.Clone(of), func(v T) bool { return !keep(v) })
}

// rowsOf are some rows of a file as it was read.
type rowsOf struct {
	c    *content
	rows []rowRef
}

// keep notes the rows that the journal has not: put in by hand, or since the journal
// was lost.
func (x *examination) keep(t table, c *content, readable map[key]rowRef, recorded map[key][]journalEntry) {
	var unkept []rowRef
	for _, r := range c.rows {
		if stands, ok := readable[r.key()]; ok && stands == r && recorded[r.key()] == nil {
			unkept = append(unkept, r)
		}
	}
	if n := len(unkept); n > 0 {
		x.unkept[t.file] = rowsOf{c, unkept}
		x.find(
			Unkept,
			false,
			t.file,
			0,
			"",
			"%d %s not in the journal, which could not bring back what was lost of them: a repair puts them in",
			n,
			map[bool]string{true: "row is", false: "rows are"}[n == 1],
		)
	}
}

// compareRevision judges one revision of an entry: as it was recorded, which a
// crash or a stale copy can have made happen more than once, and as it is there, in
// rows that read out of so many.
func (x *examination) compareRevision(
	t table,
	c *content,
	k key,
	recorded []journalEntry,
	rows []rowRef,
	of int,
	d *disagreement,
) {
	there := map[string]bool{}
	said := map[string]bool{}
	for _, r := range rows {
		there[t.schema.canonical(c.texts(r))] = true
	}
	var gone []texts // recorded so, and not there so
	for _, e := range recorded {
		was := e.texts()
		says := t.schema.canonical(was)
		if !said[says] && !there[says] {
			gone = append(gone, was)
		}
		said[says] = true
	}
	other := only(rows, func(r rowRef) bool { return !said[t.schema.canonical(c.texts(r))] })
	switch {
	case len(gone) == 0:
	case len(other) == 0, len(said) > of:
		for _, was := range gone {
			x.lost[t.file] = append(x.lost[t.file], was)
			x.find(
				Lost,
				true,
				t.file,
				0,
				k.id,
				"revision %d, recorded %s, is in the journal and not in the file",
				k.rev,
				was["recorded_at"],
			)
		}
	default:
		x.compareCells(t, c, c.standing(other), gone[len(gone)-1], d)
	}
}

// cellsApart are the columns of ours in which a row is not as it was recorded.
type cellsApart struct {
	changed []string // says something else, or something where it said nothing
	emptied []string // says nothing where it said something
	absent  []string // the same, and the file has no such column
	own     []string // of the racer's own columns
}

func (c *content) apart(was, is texts) (a cellsApart) {
	for _, name := range c.schema.diff(was, is) {
		_, ours := c.schema.byName[name]
		_, column := c.at[name]
		switch {
		case !ours && was[name] == "": // a column that the racer has put in since
		case !ours:
			a.own = append(a.own, name)
		case is[name] != "":
			a.changed = append(a.changed, name)
		case column:
			a.emptied = append(a.emptied, name)
		default:
			a.absent = append(a.absent, name)
		}
	}
	return a
}

// several reports whether a row differs in more than a hand edit of one cell does and
// than cells that were lost. One that moved is several: where it was it is no more.
func (a cellsApart) several(was, is texts) bool {
	if len(a.changed) == 0 {
		return false
	}
	moved := slices.ContainsFunc(a.absent, func(name string) bool {
		return slices.ContainsFunc(a.changed, func(to string) bool { return is[to] == was[name] })
	})
	return len(a.changed)+len(a.emptied) > 1 || moved
}

// compareCells judges a row that does not say what was recorded. A value that is there
// no more is lost, as when a program cut a column out; only the racer's own columns
// are his to take away. One other value is his edit, which the row that brings lost
// columns back keeps. A row that differs in several cells is never completed.
func (x *examination) compareCells(t table, c *content, r rowRef, was texts, d *disagreement) {
	is := c.texts(r)
	a := c.apart(was, is)
	if a.several(was, is) {
		d.rows = append(d.rows, disagreeing{r, was, is, a})
		return
	}
	x.tellChanged(t, r, was, is, slices.Concat(a.changed, a.own))
	whole := maps.Clone(is)
	for _, name := range a.emptied {
		x.find(Lost, true, t.file, r.line, r.id, "%s was recorded as %q and is empty", name, clip(was[name]))
		whole[name] = was[name]
	}
	for _, name := range a.absent {
		x.find(
			Lost,
			true,
			t.file,
			r.line,
			r.id,
			"%s was recorded as %q, and the file has no such column",
			name,
			clip(was[name]),
		)
		whole[name] = was[name]
	}
	if len(whole) > len(is) {
		x.lost[t.file] = append(x.lost[t.file], whole)
		x.passOver(t, r)
	}
}

func (x *examination) tellChanged(t table, r rowRef, was, is texts, names []string) {
	for _, name := range names {
		x.find(Changed, false, t.file, r.line, r.id, "%s was recorded as %q and is %q", name, clip(was[name]), clip(is[name]))
	}
}

// passOver marks a row that a repair puts another in the place of.
func (x *examination) passOver(t table, r rowRef) {
	if x.passed[t.file] == nil {
		x.passed[t.file] = map[int]bool{}
	}
	x.passed[t.file][r.start] = true
}

// disagreement are the rows of a file that differ from the journal in several cells,
// and how many revisions the journal knows.
type disagreement struct {
	known int
	rows  []disagreeing
}

type disagreeing struct {
	r       rowRef
	was, is texts
	apart   cellsApart
}

// fewest is from how many disagreeing rows on a file can be what is damaged.
const fewest = 3

// judge decides about the rows that differ in several cells. Whose cells all are
// the recorded ones in other columns, has been shifted: the journal's row takes its
// place. So it does where most rows of a file disagree at once, as after a program has
// rounded it. What else differs is the racer's to settle.
func (x *examination) judge(t table, c *content, d *disagreement) {
	whole := len(d.rows) >= fewest && 2*len(d.rows) > d.known
	if whole {
		x.find(
			Shifted,
			true,
			t.file,
			0,
			"",
			"%d of %d rows differ from what was recorded in several cells: the file is damaged, not the rows",
			len(d.rows),
			d.known,
		)
	}
	highest := map[string]int{}
	if len(d.rows) > 0 {
		for _, r := range c.rows {
			highest[r.id] = max(highest[r.id], r.rev)
		}
	}
	for _, row := range d.rows {
		var differ []string
		a := row.apart
		for _, name := range t.schema.inOrder(slices.Concat(a.changed, a.emptied, a.absent)) {
			differ = append(
				differ,
				fmt.Sprintf("%s was recorded as %q and is %q", name, clip(row.was[name]), clip(row.is[name])),
			)
		}
		switch says := strings.Join(differ, ", "); {
		case whole || t.schema.within(row.is, row.was):
			x.lost[t.file] = append(x.lost[t.file], row.was)
			x.passOver(t, row.r)
			x.drop(t, row.r.start)
			if !whole {
				x.find(Shifted, true, t.file, row.r.line, row.r.id, "the cells are not in their columns: %s", says)
			}
		case len(a.emptied)+len(a.absent) == 0:
			x.tellChanged(t, row.r, row.was, row.is, slices.Concat(a.changed, a.own))
		default:
			x.find(
				Garbled,
				row.r.rev == highest[row.r.id],
				t.file,
				row.r.line,
				row.r.id,
				"%s: which of it is right is not for a repair to say",
				says,
			)
		}
	}
}

// drop marks a line that a repair leaves out of the file which it makes anew.
func (x *examination) drop(t table, start int) {
	if x.dropped[t.file] == nil {
		x.dropped[t.file] = map[int]bool{}
	}
	x.dropped[t.file][start] = true
}

// conflicts tells of entries with two contents of one revision, and of such as stand in
// an older revision than there is. Amended since, they are settled.
func (x *examination) conflicts(t table, c *content, rows map[key][]rowRef, unreadable map[int]bool) {
	entries := map[string][]rowRef{}
	for _, r := range c.rows {
		if !unreadable[r.start] {
			entries[r.id] = append(entries[r.id], r)
		}
	}
	for id, of := range entries {
		stands := c.standing(of)
		for _, r := range of {
			if ofFuture(r.at, c.now) {
				x.find(Future, len(of) > 1 && r.rev >= stands.rev && r != stands, t.file, r.line, id,
					"recorded_at is of the future: the clock was wrong, and line %d stands", stands.line)
			}
		}
		told := false
		seen := map[int]bool{}
		for _, r := range of {
			if same := rows[r.key()]; len(same) > 1 && !seen[r.rev] {
				seen[r.rev] = true
				told = x.conflict(t, c, id, r.rev, same, unreadable, stands) || told
			}
		}
		if higher := highest(of); higher > stands.rev && !told && !ofFuture(last(of, higher).at, c.now) {
			x.find(
				Conflict,
				true,
				t.file,
				stands.line,
				id,
				"revision %d stands, recorded later than revision %d: amending it settles it",
				stands.rev,
				higher,
			)
		}
	}
}

func last(of []rowRef, rev int) (r rowRef) {
	for _, o := range of {
		if o.rev == rev {
			r = o
		}
	}
	return r
}

// conflict judges rows of one revision: alike they are only there twice, and one that
// says all that the other does makes that good.
func (x *examination) conflict(
	t table,
	c *content,
	id string,
	rev int,
	rows []rowRef,
	unreadable map[int]bool,
	stands rowRef,
) (told bool) {
	first := rows[0]
	a := c.texts(first)
	for _, r := range rows[1:] {
		b := c.texts(r)
		names := t.schema.diff(a, b)
		passed := x.passed[t.file][r.start] || x.passed[t.file][first.start]
		switch {
		case unreadable[first.start] || unreadable[r.start]:
		case len(names) == 0:
			x.find(Conflict, false, t.file, r.line, id, "revision %d is on line %d too, in the same words", rev, first.line)
		case passed || lacksAll(a, names) || lacksAll(b, names):
		default:
			told = true
			settled := rev < stands.rev
			advice := "amending it settles it"
			if settled {
				advice = "it has been amended since"
			}
			x.find(
				Conflict,
				!settled,
				t.file,
				r.line,
				id,
				"revision %d is on line %d too and differs in %s: line %d stands, %s",
				rev,
				first.line,
				names[0],
				stands.line,
				advice,
			)
		}
	}
	return told
}

// lacksAll reports whether a row has nothing in the columns named.
func lacksAll(t texts, names []string) bool {
	return !slices.ContainsFunc(names, func(name string) bool { return t[name] != "" })
}
