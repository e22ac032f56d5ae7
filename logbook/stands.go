package logbook

import (
	"cmp"
	"hash/maphash"
	"math"
	"slices"
	"time"
)

// version is one content of an entry: a row of a file, or one that a merge brings.
type version struct {
	rev  int
	at   int64        // when recorded, µs since 1970; unstamped when the row does not say
	says func() texts // looked at only where rev and at are the same
}

// unstamped is the moment of a row without a readable recorded_at.
const unstamped = math.MinInt64

// ahead is how far a stamp may be past the clock before it is one of the future: two
// machines disagree by minutes, and by hours where a zone is set wrong.
const ahead = 24 * time.Hour

// stands tells which of the versions of one entry counts, whatever their order: the
// one latest by when it was recorded, by its revision, and by what it says. A stamp
// of the future comes before all others, and a row without one right after the
// revisions below its own. Reading, merging, checking and showing all ask here.
func (s columnSet) stands(of []version, now time.Time) int {
	at := moments(of, now)
	tied := []int{0}
	for i := 1; i < len(of); i++ {
		best := tied[0]
		switch c := cmp.Or(cmp.Compare(at[i], at[best]), cmp.Compare(of[i].rev, of[best].rev)); {
		case c > 0:
			tied = append(tied[:0], i)
		case c == 0:
			tied = append(tied, i)
		}
	}
	if len(tied) == 1 {
		return tied[0]
	}
	// By what they say and not by how or where they are written, so that two merged
	// copies agree. The fuller first: the other has lost cells, or got them back.
	var most texts
	var canonical string
	best := -1
	for _, i := range tied {
		t := of[i].says()
		says := s.canonical(t)
		if best < 0 || cmp.Or(cmp.Compare(len(t), len(most)), cmp.Compare(says, canonical)) > 0 {
			best, most, canonical = i, t, says
		}
	}
	return best
}

// moments place versions in time.
func moments(of []version, now time.Time) []int64 {
	at := make([]int64, len(of))
	var vague []int
	latest := map[int]int64{} // of each revision
	for i, v := range of {
		at[i] = unstamped
		if v.at == unstamped {
			vague = append(vague, i)
			continue
		}
		at[i] = believed(v.at, now)
		if was, seen := latest[v.rev]; !seen || at[i] > was {
			latest[v.rev] = at[i]
		}
	}
	for _, i := range vague {
		for rev, stamp := range latest {
			if rev < of[i].rev {
				at[i] = max(at[i], stamp)
			}
		}
	}
	return at
}

// believed is a stamp, moved before all others where it is of the future.
func believed(at int64, now time.Time) int64 {
	if ofFuture(at, now) {
		return at - 1<<62
	}
	return at
}

func ofFuture(at int64, now time.Time) bool {
	return at != unstamped && at > now.Add(ahead).UnixMicro()
}

// stampOf reads a recorded_at.
func stampOf(cell string) int64 {
	var t Time
	if cell == "" || t.UnmarshalCSV(cell) != nil {
		return unstamped
	}
	return t.UnixMicro()
}

// newest gives of each entry the row that stands, in the order of the file.
func (c *content) newest() []rowRef {
	first := firsts(c.rows)
	several := map[string][]rowRef{}
	for i, r := range c.rows {
		if j := first[i]; j != i {
			if several[r.id] == nil {
				several[r.id] = []rowRef{c.rows[j]}
			}
			several[r.id] = append(several[r.id], r)
		}
	}
	rows := make([]rowRef, 0, len(c.rows))
	for i, r := range c.rows {
		if first[i] != i || c.damaged[r.id] {
			continue
		}
		if of := several[r.id]; of != nil {
			r = c.standing(of)
		}
		rows = append(rows, r)
	}
	if len(several) > 0 {
		slices.SortFunc(rows, func(a, b rowRef) int { return a.start - b.start })
	}
	return rows
}

// firsts gives for each row the place of the first one of its entry. Nearly all are that
// themselves: a table of places, open to the next one where its own is taken, tells so in a
// tenth of the time that a map takes to keep the ids.
func firsts(rows []rowRef) []int {
	size := 1
	for size < 2*len(rows) {
		size *= 2
	}
	table, seed := make([]int32, size), maphash.MakeSeed() // places from 1 on
	first := make([]int, len(rows))
	for i, r := range rows {
		at := int(maphash.String(seed, r.id)) & (size - 1)
		for table[at] != 0 && rows[table[at]-1].id != r.id {
			at = (at + 1) & (size - 1)
		}
		if table[at] == 0 {
			table[at] = int32(i) + 1
		}
		first[i] = int(table[at]) - 1
	}
	return first
}

// standing tells which of the rows of one entry counts.
func (c *content) standing(rows []rowRef) rowRef {
	return rows[c.schema.stands(c.versions(rows), c.now)]
}

func (c *content) versions(rows []rowRef) []version {
	of := make([]version, len(rows))
	for i, r := range rows {
		of[i] = version{r.rev, r.at, func() texts { return c.texts(r) }}
	}
	return of
}

// of are the rows of one entry.
func (c *content) of(id string) (rows []rowRef) {
	for _, r := range c.rows {
		if r.id == id {
			rows = append(rows, r)
		}
	}
	return rows
}

// firstRecorded orders entries by when their first revision was recorded, whatever
// the order of lines and later amendments. Entries recorded at one moment, and such as
// do not say when, are in the order of their first lines.
func (c *content) firstRecorded(entries []rowRef) {
	type beginning struct {
		rev  int
		at   int64
		line int
	}
	began := make(map[string]beginning, len(entries))
	for _, r := range c.rows {
		b := beginning{r.rev, r.at, r.line}
		if b.at != unstamped {
			b.at = believed(b.at, c.now)
		}
		if was, seen := began[r.id]; !seen {
			began[r.id] = b
		} else if cmp.Or(cmp.Compare(b.rev, was.rev), cmp.Compare(b.at, was.at)) < 0 {
			b.line = was.line
			began[r.id] = b
		}
	}
	slices.SortStableFunc(entries, func(a, b rowRef) int {
		x, y := began[a.id], began[b.id]
		return cmp.Or(cmp.Compare(x.at, y.at), cmp.Compare(x.line, y.line))
	})
}

// highest is the highest revision among rows.
func highest(rows []rowRef) (rev int) {
	for _, r := range rows {
		rev = max(rev, r.rev)
	}
	return rev
}

// newestStamp is the latest of the stamps of rows up to a moment.
func newestStamp(rows []rowRef, until time.Time) int64 {
	at := int64(unstamped)
	for _, r := range rows {
		if r.at <= until.UnixMicro() {
			at = max(at, r.at)
		}
	}
	return at
}
