package logbook

import (
	"hash/maphash"
	"maps"
	"slices"
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
	sums := map[key][]uint64{} // of the rows as the journal would say them
	newest := map[string]int{}
	readable = map[key]rowRef{}
	seed := maphash.MakeSeed()
	for i, cells := range c.each(c.rows) {
		r := c.rows[i]
		rows[r.key()] = append(rows[r.key()], r)
		sums[r.key()] = append(sums[r.key()], maphash.Bytes(seed, c.textsOf(cells).json()))
		newest[r.id] = max(newest[r.id], r.rev)
		if stands, twice := readable[r.key()]; !unreadable[r.start] && (!twice || c.beats(r, stands)) {
			readable[r.key()] = r
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
	for _, k := range order {
		same := func(e journalEntry) bool { return slices.Contains(sums[k], maphash.Bytes(seed, e.row)) }
		if !slices.ContainsFunc(recorded[k], func(e journalEntry) bool { return !same(e) }) {
			continue
		}
		x.compareRevision(t, c, k, recorded[k], rows[k], readable)
	}
	x.keep(t, c, readable, recorded)
	for k, same := range rows {
		if len(same) > 1 {
			x.conflict(t, c, k, same, unreadable, k.rev == newest[k.id])
		}
	}
	return readable
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
		x.find(Unkept, false, t.file, 0, "", "%d %s not in the journal, which could not bring back what was lost of them: a repair puts them in", n, map[bool]string{true: "row is", false: "rows are"}[n == 1])
	}
}

// compareRevision judges one revision of an entry: as it was recorded, which a
// crash or a stale copy can have made happen more than once, and as it is there.
func (x *examination) compareRevision(t table, c *content, k key, recorded []journalEntry, rows []rowRef, readable map[key]rowRef) {
	there := make([]string, len(rows))
	for i, r := range rows {
		there[i] = t.schema.canonical(c.texts(r))
	}
	var gone []texts // recorded so, and not there so
	said := map[string]bool{}
	for _, e := range recorded {
		was := e.texts()
		says := t.schema.canonical(was)
		if !said[says] && !slices.Contains(there, says) {
			gone = append(gone, was)
		}
		said[says] = true
	}
	r, ok := readable[k]
	switch {
	case len(gone) == 0:
	case !ok, len(said) > len(rows):
		for _, was := range gone {
			x.lost[t.file] = append(x.lost[t.file], was)
			x.find(Lost, true, t.file, 0, k.id, "revision %d, recorded %s, is in the journal and not in the file", k.rev, was["recorded_at"])
		}
	default:
		x.compareCells(t, c, r, gone[len(gone)-1])
	}
}

// compareCells judges a row that does not say what was recorded. A value that is there
// no more is lost, as when a program cut a column out; only the racer's own columns
// are his to take away. The row that brings such values back keeps his other edits.
func (x *examination) compareCells(t table, c *content, r rowRef, was texts) {
	is := c.texts(r)
	whole := maps.Clone(is)
	for _, name := range t.schema.diff(was, is) {
		_, ours := t.schema.byName[name]
		_, column := c.at[name]
		switch {
		case !ours && was[name] == "": // a column that the racer has put in since
			continue
		case is[name] != "" || !ours:
			x.find(Changed, false, t.file, r.line, r.id, "%s was recorded as %q and is %q", name, clip(was[name]), clip(is[name]))
			continue
		case column:
			x.find(Lost, true, t.file, r.line, r.id, "%s was recorded as %q and is empty", name, clip(was[name]))
		default:
			x.find(Lost, true, t.file, r.line, r.id, "%s was recorded as %q, and the file has no such column", name, clip(was[name]))
		}
		whole[name] = was[name]
	}
	if len(whole) > len(is) {
		x.lost[t.file] = append(x.lost[t.file], whole)
	}
}

// conflict judges rows of one revision: alike they are only there twice, and one that
// says all that the other does makes that good.
func (x *examination) conflict(t table, c *content, k key, rows []rowRef, unreadable map[int]bool, counts bool) {
	first, stands := rows[0], rows[0]
	for _, r := range rows[1:] {
		if !unreadable[r.start] && (unreadable[stands.start] || c.beats(r, stands)) {
			stands = r
		}
	}
	for _, r := range rows[1:] {
		a, b := c.texts(first), c.texts(r)
		names := t.schema.diff(a, b)
		switch {
		case unreadable[first.start] || unreadable[r.start]:
		case len(names) == 0:
			x.find(Conflict, false, t.file, r.line, k.id, "revision %d is on line %d too, in the same words", k.rev, first.line)
		case lacksAll(a, names) || lacksAll(b, names):
		default:
			x.find(Conflict, counts, t.file, r.line, k.id, "revision %d is on line %d too and differs in %s: line %d stands, amending it settles it", k.rev, first.line, names[0], stands.line)
		}
	}
}

// lacksAll reports whether a row has nothing in the columns named.
func lacksAll(t texts, names []string) bool {
	return !slices.ContainsFunc(names, func(name string) bool { return t[name] != "" })
}
