package notebook

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// Options are what the racer and the log say of a notebook.
type Options struct {
	Columns   map[string]Role // by heading or letter
	DateOrder string          // mdy or dmy, "" to be told by the file
	Year      int             // of dates without one, 0 for that in the titles
	Vehicle   string          // of rows that say none
	Track     string
	PerfectS  units.Number // what a perfect light prints
	Sheet     string       // this one alone
	Bare      units.System // of figures whose unit nothing tells
	Now       time.Time
	Vehicles  []crew.Vehicle
	Tracks    []crew.Track
	Own       []crew.OwnColumn // that the log has
	Zone      func(track string) *time.Location

	ElevationFt units.Number // of the track that the air is of, told when it is known
}

// column is what the racer said of a column.
func (o *Options) column(c *Mapped) (Role, bool) {
	for key, r := range o.Columns {
		if strings.EqualFold(strings.Join(strings.Fields(key), " "), strings.Join(strings.Fields(c.Head), " ")) {
			return r, true
		}
	}
	r, ok := o.Columns[c.Letter]
	return r, ok
}

// Notebook is what was read of a file.
type Notebook struct {
	Own         bool // it is our own export
	Columns     []Mapped
	Questions   []Question
	Remarks     []Remark
	Rows        []Draft
	DateOrder   string // "" where none was needed
	NoClock     int    // rows without a time of day
	Afternoons  int    // rows whose hour was taken for one after noon
	NewestFirst bool
	Metric      bool // speeds are in km/h
	PerfectS    units.Number
	Years       map[string]int  // that the titles of a sheet say, of dates without one
	UsedColumns map[string]bool // keys of Options.Columns that named a column
}

// Draft is a row on its way into the log.
type Draft struct {
	Sheet  string
	Row    string // its number, or the letter of its column
	Hash   string // by which the row is known again
	Slip   crew.Slip
	Air    crew.Reading // without a figure where it says none
	Weight units.Number
	Power  units.Number
	// Vehicle and Track are as written; the slip has their names in the log, where they are
	// known, else what they come to as names.
	Vehicle, Track string
	Faults         []Fault
	Own            *Own // of a row of our own export

	cells     []cellRead
	day       typed.Day
	clock     string
	clockAt   time.Time
	dayText   string
	sheetDate time.Time
	notes     []string
}

// Fault is a cell that cannot be read.
type Fault struct {
	Letter, Head string
	Text         string
	Want         error // what would do
	Role         Role
}

// cellRead is a cell with what its column is, for the rows that are left out.
type cellRead struct {
	column *Mapped
	text   string
}

// blockedGrid is a grid with its blocks.
type blockedGrid struct {
	grid   *Grid
	blocks []*block
}

// Interpret makes drafts of slips out of the sheets of a file.
func Interpret(grids []*Grid, o Options) *Notebook {
	n := &Notebook{UsedColumns: map[string]bool{}, Years: map[string]int{}}
	for _, g := range grids {
		if at := g.ownColumns(); at != nil && (o.Sheet == "" || strings.EqualFold(o.Sheet, g.Name)) {
			n.readOwn(g, at)
			return n
		}
	}
	known := &names{o.Vehicles, o.Tracks}
	var sheets []blockedGrid
	for _, g := range grids {
		if len(g.Rows) == 0 || o.Sheet != "" && !strings.EqualFold(o.Sheet, g.Name) {
			continue
		}
		n.yearOver(g, o.Now)
		for _, side := range g.sideBySide(known) {
			for _, part := range side.bands() {
				blocks, remarks := layout(part, known)
				for _, m := range remarks {
					if !slices.Contains(n.Remarks, m) {
						n.Remarks = append(n.Remarks, m)
					}
				}
				for _, b := range blocks {
					if b.flip {
						part = b.grid
					}
				}
				sheets = append(sheets, blockedGrid{part, blocks})
			}
		}
	}
	for _, s := range sheets {
		s.read(n, &o, known)
	}
	n.days(&o)
	n.settleMoments(&o)
	n.lights(&o)
	if len(n.Rows) == 0 && len(n.Questions) == 0 {
		n.Questions = append(n.Questions, Question{Kind: NoTimes})
	}
	return n
}

// read reads the blocks of a sheet: those with the same headings have one mapping.
func (s blockedGrid) read(n *Notebook, o *Options, known *names) {
	done := map[string]*mapper{}
	for _, b := range s.blocks {
		key := strings.Join(b.heads, "\x1f")
		m := done[key]
		if m == nil {
			m = newMapper(s.grid, b, s.blocks, o)
			o.ElevationFt = elevationOf(m, s.blocks, o, known)
			m.settle()
			done[key] = m
			if !m.timesAtAll() {
				continue
			}
			n.Columns = append(n.Columns, m.cols...)
			n.Questions = append(n.Questions, m.questions...)
			n.Metric = n.Metric || m.metric
			for i := range m.cols {
				n.noteUsed(o, &m.cols[i])
			}
		}
		if m.timesAtAll() {
			reader := rowReader{m: m, o: o, names: known, block: b}
			n.Rows = append(n.Rows, reader.rows()...)
		}
	}
}

func (n *Notebook) noteUsed(o *Options, c *Mapped) {
	for key := range o.Columns {
		if strings.EqualFold(key, c.Letter) ||
			strings.EqualFold(strings.Join(strings.Fields(key), " "), strings.Join(strings.Fields(c.Head), " ")) {
			n.UsedColumns[key] = true
		}
	}
}

// timesAtAll reports a block with runs: a time at a mark, or a question which it is.
func (m *mapper) timesAtAll() bool {
	for _, c := range m.timed() {
		if c != nil {
			return true
		}
	}
	return m.has("reaction_s") || slices.ContainsFunc(m.questions, func(q Question) bool {
		return q.Kind == WhichDistance || slices.Contains(etMarks, q.Role)
	})
}

// elevationOf is that of the tracks that a block names, where all are known to lie alike.
func elevationOf(m *mapper, blocks []*block, o *Options, known *names) (ft units.Number) {
	var tracks []string
	for i := range m.cols {
		if m.cols[i].label.role == Track {
			for _, b := range blocks {
				for _, p := range b.rows {
					tracks = append(tracks, b.grid.Rows[p.at][m.cols[i].col].Text)
				}
			}
		}
	}
	for _, b := range blocks {
		for _, p := range b.rows {
			tracks = append(tracks, p.above.track)
		}
	}
	if o.Track != "" {
		tracks = append(tracks, o.Track)
	}
	slices.Sort(tracks)
	for _, text := range slices.Compact(tracks) {
		if text == "" {
			continue
		}
		id, ok := known.track(text)
		i := slices.IndexFunc(known.tracks, func(t crew.Track) bool { return ok && t.ID == id })
		if i < 0 || !known.tracks[i].ElevationFt.Known() {
			return units.Number{}
		}
		at := known.tracks[i].ElevationFt
		if ft.Known() && (at.Value()-ft.Value() > 300 || ft.Value()-at.Value() > 300) {
			return units.Number{}
		}
		ft = at
	}
	return ft
}

const samplesShown = 3

// newMapper gathers the columns of all blocks with one heading.
func newMapper(g *Grid, b *block, all []*block, o *Options) *mapper {
	m := &mapper{grid: g, opts: o}
	for c, head := range b.heads {
		col := Mapped{Sheet: g.Name, Letter: columnName(c), Head: strings.Join(strings.Fields(head), " "), col: c}
		if b.flip {
			col.Letter = "row " + itoa(c+1)
		}
		for _, other := range all {
			if !slices.Equal(other.heads, b.heads) {
				continue
			}
			for _, p := range other.rows {
				col.count(g, g.Rows[p.at][c])
				col.rowDone()
			}
		}
		m.cols = append(m.cols, col)
	}
	return m
}

// count takes a cell into what is known of its column.
func (c *Mapped) count(g *Grid, f Field) {
	if f.Blank() || f.Fault != "" || ditto(f.Text) || absent(f.Text) {
		return
	}
	c.FilledN++
	if len(c.Samples) < samplesShown && (len(c.Samples) == 0 || c.Samples[len(c.Samples)-1] != f.Text) {
		c.Samples = append(c.Samples, cmp.Or(f.Text, "?"))
	}
	if !f.When.IsZero() {
		if f.ClockAlone() {
			c.clocks++
		} else {
			c.dates++
		}
		return
	}
	c.pointed = c.pointed || pointClock.MatchString(f.Text) && f.Text[0] != '0'
	if m := laneLight.FindStringSubmatch(f.Text); m != nil {
		c.lanes = c.lanes || strings.ContainsAny(m[2][:1], "lL")
	}
	if et, mph, ok := g.splitOf(f); ok {
		c.splits++
		c.values = append(c.values, et.Number.Value())
		c.speedsIn = append(c.speedsIn, mph.Number.Value())
		return
	}
	if a, ok := g.amountOf(f); ok {
		c.countUnit(a.unit)
		v := a.v
		if a.other.Known() && v > 1000 && c.label.role == "" { // a comma that could be either: settled by the field
			l := readLabel(c.Head)
			if fd := fieldOf(l.role); fd.figure() && !fd.within(v) && fd.within(a.other.Value()) {
				v = a.other.Value()
			}
		}
		if v != 0 || strings.Contains(strings.ToLower(c.Head), "r") {
			c.values = append(c.values, v)
		}
		if len(f.Text) >= 3 && strings.Contains(f.Text, ".") {
			if _, _, ok := typed.ReadDay(f.Text); ok {
				c.dates++
			}
		}
		return
	}
	if v, ok := g.reactionOf(f); ok {
		c.values = append(c.values, v)
		return
	}
	if _, _, ok := typed.ReadDay(f.Text); ok {
		c.dates++
		return
	}
	if _, _, _, _, ok := typed.ReadClock(f.Text); ok {
		c.clocks++
		return
	}
	c.texts++
}

// absent reports what people write where there is nothing.
func absent(text string) bool {
	return slices.Contains(
		[]string{"", "-", "--", "---", "—", "–", ".", "?", "n/a", "na", "N/A", "NA", "x", "X", "none", "nil", "null"},
		text,
	)
}

// Note moves a figure into the notes of the slip; it is absent then.
func (d *Draft) Note(word string, n *units.Number, unit string) {
	if n.Known() {
		d.Slip.Notes = strings.Join(append(nonEmpty(d.Slip.Notes), word+" "+n.String()+" "+unit), "; ")
		*n = units.Number{}
	}
}
