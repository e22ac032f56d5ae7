package notebook

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"slipcase/weather/units"
)

func itoa(n int) string { return strconv.Itoa(n) }

// rowReader reads the rows of a block by its mapping.
type rowReader struct {
	m     *mapper
	o     *Options
	names *names
	block *block

	last struct {
		day, vehicle, track string
		when                time.Time
		above               heading
	}
	sparse map[Role]bool // given once, for the rows below too
}

func (r *rowReader) rows() (out []Draft) {
	r.sparse = map[Role]bool{}
	for i := range r.m.cols {
		c := &r.m.cols[i]
		if c.Role == Date || c.Role == Vehicle || c.Role == Track || c.Role == "meet" {
			r.sparse[c.Role] = c.Role == Date || c.FilledN*10 < len(r.block.rows)*7
		}
	}
	for _, p := range r.block.rows {
		if p.above != r.last.above {
			r.last.day, r.last.vehicle, r.last.track, r.last.when = "", "", "", time.Time{}
			r.last.above = p.above
		}
		d := r.row(p)
		out = append(out, d)
	}
	return out
}

// row reads one row.
func (r *rowReader) row(p place) Draft {
	row := r.block.grid.Rows[p.at]
	d := Draft{Sheet: r.block.grid.Name, Row: itoa(p.at + 1)}
	if r.block.flip {
		d.Row = columnName(p.at)
	}
	d.Slip.Meet = p.above.meet
	for i := range r.m.cols {
		c := &r.m.cols[i]
		f := row[c.col]
		d.cells = append(d.cells, cellRead{c, f.Text})
		r.cell(&d, c, f)
	}
	r.context(&d, p)
	d.Slip.Notes = strings.Join(append(nonEmpty(d.Slip.Notes), d.notes...), "; ")
	if d.Hash == "" {
		d.Hash = hashOf(&d)
	}
	return d
}

func nonEmpty(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

// hashOf knows a row again, wherever it stands in a longer file.
func hashOf(d *Draft) string {
	h := sha256.New()
	for _, c := range d.cells {
		if c.text != "" && c.column.Role != Date {
			h.Write([]byte(c.column.Head + "\x1e" + c.text + "\x1f"))
		}
	}
	h.Write([]byte(d.dayText + "\x1f" + d.sheetDate.Format(time.DateOnly) + "\x1f" + nameOf(d.Vehicle)))
	return hex.EncodeToString(h.Sum(nil))[:16]
}

func (d *Draft) fault(c *Mapped, text string, want error) {
	d.Faults = append(d.Faults, Fault{c.Letter, c.Head, text, want, c.Role})
}

// cell reads a cell as what its column is.
func (r *rowReader) cell(d *Draft, c *Mapped, f Field) {
	if f.Blank() || c.Role == Skip || ditto(f.Text) && slices.Contains([]Role{Date, Vehicle, Track, "meet"}, c.Role) {
		return
	}
	fd := fieldOf(c.Role)
	own, isOwn := c.Role.OwnName()
	switch {
	case f.Fault != "" && c.Role != Note && c.Role != "notes" && !isOwn:
		d.fault(c, f.Text, errors.New(f.Fault))
	case f.Fault != "":
	case isOwn:
		r.ownCell(d, c, own, f)
	case c.Role == RowMark:
		d.Hash = f.Text
	case c.Role == Date && c.serial:
		d.dayText, d.sheetDate = f.Text, r.block.grid.dayNumber(f)
	case c.Role == Date:
		d.dayText, d.sheetDate = f.Text, f.When
	case c.Role == Clock:
		d.clock, d.clockAt = f.Text, f.When
		if c.pointed && pointClock.MatchString(d.clock) {
			d.clock = strings.Replace(d.clock, ".", ":", 1)
		}
	case c.Role == Vehicle:
		d.Vehicle = f.Text
	case c.Role == Track:
		d.Track = f.Text
	case c.Role == Note:
		d.notes = append(d.notes, strings.TrimSpace(c.Head+" "+f.Text))
	case c.Role == "reaction_s" || c.Role == "opponent_reaction_s":
		r.reaction(d, c, fd, f)
	case slices.Contains(etMarks, c.Role) && c.splits > 0:
		r.split(d, c, fd, f)
	case fd.figure():
		r.figure(d, c, fd, f, c.Unit)
	case fd.word != nil:
		r.word(d, c, fd, f.Text)
	}
}

func (r *rowReader) reaction(d *Draft, c *Mapped, fd roleField, f Field) {
	f, lane, beside := c.besideLane(f)
	if beside && c.Role == "reaction_s" && d.Slip.Lane == "" {
		d.Slip.Lane = lane
	}
	v, ok := r.block.grid.reactionOf(f)
	switch {
	case absent(f.Text):
	case ok && fd.within(v):
		*fd.slip(&d.Slip) = units.Some(v)
	case !ok && !strings.ContainsAny(f.Text, "0123456789"):
		d.notes = append(d.notes, c.Head+" "+f.Text)
	default:
		d.fault(c, f.Text, errors.New("want seconds, as .042; a red light as -.012"))
	}
}

// split reads a time with its speed in one cell.
func (r *rowReader) split(d *Draft, c *Mapped, fd roleField, f Field) {
	et, mph, ok := r.block.grid.splitOf(f)
	if !ok {
		r.figure(d, c, fd, f, "")
		return
	}
	r.figure(d, c, fd, et, "")
	if m, timed := speedMarks[c.Role]; timed {
		r.figure(d, c, fieldOf(m), mph, c.Unit)
	}
}

// zeroIsNone are figures of which a sheet writes 0 for none.
func zeroIsNone(role Role) bool {
	return role != "reaction_s" && role != "wind_mph" && role != "wind_from_deg" && role != "density_altitude_ft" &&
		role != "temp_f" &&
		role != "delay_s"
}

func (r *rowReader) figure(d *Draft, c *Mapped, fd roleField, f Field, unit string) {
	a, ok := r.block.grid.amountOf(f)
	switch {
	case absent(f.Text):
		return
	case !ok && !strings.ContainsAny(f.Text, "0123456789"):
		d.notes = append(d.notes, strings.TrimSpace(c.Head+" "+f.Text)) // broke, no time
		return
	case ok && a.v == 0 && zeroIsNone(fd.role):
		return
	}
	if marked := strings.TrimRight(f.Text, footnotes); marked != f.Text {
		d.notes = append(d.notes, strings.TrimSpace(c.Head+" "+f.Text))
	}
	v, read := fd.read(a, unit)
	if !ok || !read {
		d.fault(c, f.Text, wantOf(fd))
		return
	}
	if !fd.within(v) {
		d.fault(c, f.Text, wantOf(fd))
		return
	}
	n := units.Some(clean(v))
	switch {
	case fd.slip != nil:
		*fd.slip(&d.Slip) = n
	case fd.air != nil:
		*fd.air(&d.Air) = n
	case fd.role == WeightLb:
		d.Weight = n
	case fd.role == PowerHP:
		d.Power = n
	}
}

// clean drops the digits that a conversion makes up.
func clean(v float64) float64 {
	text := strconv.FormatFloat(v, 'f', 4, 64)
	v, _ = strconv.ParseFloat(text, 64)
	return v
}

// wantOf says what a figure may be.
func wantOf(fd roleField) error {
	if fd.kind != nil {
		return units.Errorf("want %v", fd.kind.Between(fd.low, fd.high))
	}
	return fmt.Errorf("want %g to %g", fd.low, fd.high)
}

// word reads a word of a slip; one that says nothing that the log has a word for stays in
// the notes.
func (r *rowReader) word(d *Draft, c *Mapped, fd roleField, text string) {
	text = strings.Join(strings.Fields(text), " ")
	low := strings.Trim(plainLetters(text), ".!* ")
	switch {
	case absent(text):
	case c.Role == "lane" && (slices.Contains(lefts, low) || low == "left lane"):
		d.Slip.Lane = "left"
	case c.Role == "lane" && (slices.Contains(rights, low) || low == "right lane"):
		d.Slip.Lane = "right"
	case c.Role == "result" && slices.Contains([]string{"w", "win", "won"}, low):
		d.Slip.Result = "won"
	case c.Role == "result" && slices.Contains([]string{"l", "loss", "lose", "lost"}, low):
		d.Slip.Result = "lost"
	case c.Role == "result" && (low == "dq" || low == "disqualified"):
		d.Slip.Result = "dq"
	case c.Role == "result" && (low == "bye" || low == "single" || low == "solo"):
		d.Slip.Bye = "yes"
	case c.Role == "lane" || c.Role == "result":
		d.notes = append(d.notes, strings.TrimSpace(c.Head+" "+text))
	default:
		*fd.word(&d.Slip) = Fused(text)
	}
}

// context fills in what stands above the row, or beside none: day, vehicle, track.
func (r *rowReader) context(d *Draft, p place) {
	if d.dayText == "" && d.sheetDate.IsZero() {
		if d.dayText, d.sheetDate = r.last.day, r.last.when; d.dayText == "" && d.sheetDate.IsZero() {
			d.dayText = p.above.date
		}
	}
	r.last.day, r.last.when = d.dayText, d.sheetDate
	if d.Vehicle == "" && r.sparse[Vehicle] {
		d.Vehicle = r.last.vehicle
	}
	if d.Track == "" && r.sparse[Track] {
		d.Track = r.last.track
	}
	r.last.vehicle, r.last.track = d.Vehicle, d.Track
	for _, from := range []struct {
		into *string
		or   []string
	}{{&d.Vehicle, []string{p.above.vehicle, r.o.Vehicle}}, {&d.Track, []string{p.above.track, r.o.Track}}} {
		for _, or := range from.or {
			if *from.into == "" {
				*from.into = or
			}
		}
	}
	if d.Vehicle == "" && len(r.o.Vehicles) == 1 {
		d.Vehicle = r.o.Vehicles[0].ID
	}
	if d.Track == "" && len(r.o.Tracks) == 1 {
		d.Track = r.o.Tracks[0].ID
	}
	d.Slip.Vehicle, d.Slip.Track = NameIn(d.Vehicle, "car", r.names.vehicle), NameIn(d.Track, "track", r.names.track)
}

// NameIn is the name of what is written, known or to be made; a number gets a word before
// it.
func NameIn(text, what string, known func(string) (string, bool)) string {
	if id, ok := known(text); ok || text == "" {
		return id
	}
	name := nameOf(text)
	if strings.Trim(name, "0123456789-") == "" {
		name = what + "-" + name
	}
	return name
}
