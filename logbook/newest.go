package logbook

import "slices"

// newest gives of each entry the row that counts, in the order of the file: the
// highest revision; of two with the same one, as a merge can leave, the later
// recorded, then the one that says more, then the greater in contents.
func (c *content) newest() []rowRef {
	best := make(map[string]int, len(c.rows))
	for i, r := range c.rows {
		j, seen := best[r.id]
		if !seen || c.beats(r, c.rows[j]) {
			best[r.id] = i
		}
	}
	picked := make([]int, 0, len(best))
	for id, i := range best {
		if !c.damaged[id] {
			picked = append(picked, i)
		}
	}
	slices.Sort(picked)
	rows := make([]rowRef, len(picked))
	for i, at := range picked {
		rows[i] = c.rows[at]
	}
	return rows
}

func (c *content) beats(a, b rowRef) bool {
	if a.rev != b.rev {
		return a.rev > b.rev
	}
	return c.schema.stands(c.texts(a), c.texts(b))
}

// stands decides between two contents of one revision, by what they say and not
// by how or where they are written, so that two merged copies of a logbook agree.
func (s schema) stands(a, b texts) bool {
	var ta, tb Time
	if ta.UnmarshalCSV(a["recorded_at"]) == nil && tb.UnmarshalCSV(b["recorded_at"]) == nil && !ta.Equal(tb.Time) {
		return ta.After(tb.Time)
	}
	if len(a) != len(b) { // one has lost cells of the other, or has got them back
		return len(a) > len(b)
	}
	return s.canonical(a) > s.canonical(b)
}
