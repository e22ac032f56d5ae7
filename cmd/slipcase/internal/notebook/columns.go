package notebook

import (
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// Mapped is a column with what it was taken for.
type Mapped struct {
	Sheet    string
	Letter   string // as the spreadsheet calls it
	Head     string
	Role     Role
	Unit     string // that its bare numbers are in, "" for the log's own
	Samples  []string
	ByValues bool   // not by its heading
	Forced   bool   // by the racer
	Offered  string // the name that it could have as a column of the racer's own, "" for none
	FilledN  int

	col               int
	label             label
	values            []float64 // as they stand, where they are numbers
	speedsIn          []float64 // of cells with a time and its speed
	byRow, speedByRow []float64 // values and speedsIn by their rows, NaN where a row has none
	had, hadSpeeds    int       // so many values and speeds the rows so far have
	overs             map[int]float64
	serial            bool // dates as a spreadsheet's numbers of days
	splits            int
	dates             int
	clocks            int
	pointed           bool // some are times of day with a point, as 14.35
	lanes             bool // some say the left lane beside a reaction
	texts             int
	cellUnit          string // that the cells say, where all that say one say the same
	unitsAre          int    // so many units the cells say
}

func (m *Mapped) median() float64 {
	if len(m.values) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(m.values))
	return s[len(s)/2]
}

// ratios are what the time at a mark is of that at a later one, on any car (common
// practice, no source).
var ratios = map[[2]int][2]float64{
	{0, 1}: {0.29, 0.42}, {0, 2}: {0.18, 0.29}, {0, 3}: {0.13, 0.22}, {0, 4}: {0.11, 0.19},
	{1, 2}: {0.59, 0.70}, {1, 3}: {0.45, 0.54}, {1, 4}: {0.37, 0.46},
	{2, 3}: {0.73, 0.81}, {2, 4}: {0.60, 0.68}, {3, 4}: {0.80, 0.87},
}

// markFt are the marks, ft.
var markFt = []float64{60, 330, 660, 1000, 1320}

// speedRatio is a speed at a mark over the mean one from the start, in mph; in km/h it is
// larger by more than its own spread.
func speedRatio(mark int, et, speed float64) float64 {
	return speed * et * units.FtPerSPerMPH / markFt[mark]
}

func isMPH(ratio float64) bool { return ratio > 1.3 && ratio < 1.95 }
func isKmh(ratio float64) bool { return isMPH(ratio / 1.609344) }

// mapper settles the columns of a heading.
type mapper struct {
	grid      *Grid
	cols      []Mapped
	questions []Question
	opts      *Options
	metric    bool // speeds are in km/h
	loose     bool // times may be farther apart than they mostly are
}

func (m *mapper) ask(kind QuestionKind, role Role, cols ...*Mapped) {
	q := Question{Kind: kind, Role: role}
	for _, c := range cols {
		q.Columns = append(q.Columns, *c)
		if c.Role = Note; kind == WhichUnit {
			c.Role = Note
		}
	}
	m.questions = append(m.questions, q)
}

// settle finds the roles of all columns.
func (m *mapper) settle() {
	for i := range m.cols {
		m.begin(&m.cols[i])
	}
	m.plainKinds()
	m.doubles()
	m.chain()
	m.speeds()
	m.unitsOf()
	m.rest()
	m.offer()
}

// begin takes a column's heading, or what the racer says.
func (m *mapper) begin(c *Mapped) {
	c.label = readLabel(c.Head)
	c.Role, c.Unit = c.label.role, c.label.unit
	if c.Role == "lane" && c.notLanes() && strings.Contains(strings.ToLower(c.Head), "ban") {
		c.Role = Track // one word for both
		c.label.role = Track
	}
	if said, ok := m.opts.column(c); ok {
		c.Role, c.Forced = said, true
		m.knownOwn(c)
		return
	}
	timed := c.Role == anyET || c.Role == anyTime || c.Role == anyMPH || slices.Contains(etMarks, c.Role) ||
		strings.HasPrefix(string(c.Role), "mph_")
	if c.label.corrected && timed {
		c.Role = Skip
	}
	if c.Role == ownCells && !c.hasOwnCells() {
		c.Role = Note // another's word
	}
	m.knownOwn(c)
	// A time and its speed in one cell go by the time's mark.
	if c.splits*2 > c.FilledN {
		for et, mph := range speedMarks {
			if c.Role == mph {
				c.Role = et
			}
		}
		if c.Role == "" || c.Role == anyMPH || c.Role == anyTime {
			c.Role = anyET
		}
	}
}

// hasOwnCells reports cells as an export has the racer's own columns: jets=68; plug=ngk.
func (c *Mapped) hasOwnCells() bool {
	return slices.ContainsFunc(c.Samples, func(s string) bool { return strings.Contains(s, "=") })
}

// clockLike reports times of day with a point, 14.35, where numbers have a comma.
func (m *mapper) clockLike(c *Mapped) bool {
	return m.grid.CommaDecimal && len(c.values) == c.FilledN && !slices.ContainsFunc(c.Samples, func(s string) bool {
		_, _, _, _, ok := typed.ReadClock(strings.Replace(s, ".", ":", 1))
		return !ok || len(s) < len("9.30") || s[len(s)-3] != '.'
	})
}

// notLanes reports words that call no lane.
func (c *Mapped) notLanes() bool {
	return c.texts > 0 && !slices.ContainsFunc(c.Samples, func(s string) bool {
		word, _, _ := strings.Cut(plainLetters(s), " ")
		return slices.Contains(lefts, word) || slices.Contains(rights, word)
	})
}

// plainKinds tells dates, times of day and texts from figures.
func (m *mapper) plainKinds() {
	for i := range m.cols {
		c := &m.cols[i]
		if c.FilledN == 0 || c.Forced {
			continue
		}
		dates, clocks := c.dates*5 > c.FilledN*3, c.clocks*5 > c.FilledN*3
		figures := len(c.values)*2 > c.FilledN
		switch {
		case c.Role == anyTime && dates, c.Role == "" && dates && !m.has(Date), c.Role == Clock && dates:
			c.ByValues = c.Role == ""
			c.Role = Date
		case c.Role == anyTime && clocks, c.Role == "" && clocks && !m.has(Clock):
			c.ByValues = c.Role == ""
			c.Role = Clock
		case c.Role == anyTime && m.clockLike(c):
			c.Role = Clock
		case c.Role == anyTime && figures:
			c.Role = anyET
		case c.Role == anyTime:
			c.Role = Note
		case c.Role == Date && !dates && c.dates == 0:
			c.Role = Note // the day's name, say
		}
		f := fieldOf(c.Role)
		if (f.figure() || strings.HasSuffix(string(c.Role), "?")) && !figures && c.splits == 0 {
			if c.Role = Note; c.label.opponent && len(c.values) == 0 {
				c.Role = "opponent"
			}
		}
		if c.Role == "opponent" && figures {
			c.Role = Note
		}
		if c.Role == "lane" && figures {
			c.Role = Note // 1 and 2 are left and right at some tracks only
		}
	}
	m.serials()
}

func (m *mapper) has(r Role) bool {
	return slices.ContainsFunc(m.cols, func(c Mapped) bool { return c.Role == r })
}

// doubles asks where two headings say one thing.
func (m *mapper) doubles() {
	for _, f := range fields {
		if f.role == Note || f.role == Skip {
			continue
		}
		var same []*Mapped
		for i := range m.cols {
			if c := &m.cols[i]; c.Role == f.role && c.FilledN > 0 {
				same = append(same, c)
			}
		}
		if len(same) < 2 {
			continue
		}
		if forced := slices.IndexFunc(same, func(c *Mapped) bool { return c.Forced }); forced >= 0 {
			for i, c := range same {
				if i != forced && !c.Forced {
					c.Role = Note
				}
			}
			continue
		}
		if f.word != nil || f.role == Date || f.role == Clock {
			for _, c := range same[1:] { // words are kept, behind their headings
				if f.role != "notes" {
					c.Role = Note
				}
			}
			continue
		}
		m.ask(TwoAlike, f.role, same...)
	}
}

// timed are the columns that are times at marks, by mark.
func (m *mapper) timed() (at [5]*Mapped) {
	for i := range m.cols {
		if k := slices.Index(etMarks, m.cols[i].Role); k >= 0 && m.cols[i].FilledN > 0 {
			at[k] = &m.cols[i]
		}
	}
	return at
}

func (m *mapper) inOrder(at [5]*Mapped, mark int, c *Mapped) bool {
	for k, o := range at {
		if o != nil && o.label.role == "" && (k < mark) != (o.col < c.col) {
			return false
		}
	}
	return true
}
