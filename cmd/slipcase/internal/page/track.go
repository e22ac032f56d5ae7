package page

import (
	"fmt"
	"io"
	"math"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Tracks lists the tracks.
func (p *Page) Tracks(ts ...crew.Track) error { return p.Answer(ts, p.trackTable(ts...), nil) }

// Track shows one.
func (p *Page) Track(t crew.Track) error { return p.Answer(t, p.trackTable(t), nil) }

// TrackAdded tells that a track is recorded, and what to type next.
func (p *Page) TrackAdded(t crew.Track) error {
	return p.Answer(t, p.trackTable(t), func(w io.Writer) {
		if !t.ElevationFt.Known() {
			fmt.Fprintf(w, "recorded  track %s\n", t.ID)
			fmt.Fprintf(w, "  without its elevation no altimeter setting and no METAR can be read   "+
				"slipcase track amend %s --elevation %s\n", t.ID, p.typed(units.Length, 812))
			return
		}
		fmt.Fprintf(w, "recorded  track %s, elevation %s%s\n", t.ID, p.Show(units.Length, t.ElevationFt), zoneOf(t))
		fmt.Fprintf(w, "  at the track, the air   slipcase air add --track %s --temp %s --rh 42 --station %s\n",
			t.ID, p.typed(units.Temperature, 88), p.typed(units.Pressure, 28.94))
	})
}

// zoneOf says by which clock a track's slips are typed, where it is not this machine's.
func zoneOf(t crew.Track) string {
	if t.TimeZone == "" {
		return ""
	}
	return ", times in " + t.TimeZone
}

// TrackAmended tells what an amendment changed.
func (p *Page) TrackAmended(t crew.Track, changed []crew.CellChange) error {
	return p.amended(t, p.trackTable(t), fmt.Sprintf("recorded  track %s, revision %d", t.ID, t.Rev), changed)
}

// TrackStatus tells of a track taken out or put back.
func (p *Page) TrackStatus(t crew.Track) error {
	return p.status(t, p.trackTable(t), "track", t.ID, "track", t.Entry)
}

func (p *Page) trackTable(ts ...crew.Track) table.Table {
	ft := p.Suffix(units.Length)
	elevation, lengths := "elevation_"+ft, "lengths_"+ft
	t := table.Table{Columns: []table.Column{
		{Head: "track", Key: "id"},
		{Head: "title", Key: "title", Drop: 3},
		{Head: "elevation", Key: elevation, Right: true},
		{Head: "lengths " + units.Length.Symbol(p.Units), Key: lengths, Drop: 1},
		{Head: "heading", Key: "heading_deg", Right: true, Drop: 2},
		{Head: "time zone", Key: "time_zone", Drop: 2},
		{Head: "perfect light", Key: "perfect_reaction_s", Right: true, Drop: 3},
		{Head: "both red", Key: "both_red", Drop: 4},
		{Head: "notes", Key: "notes", Drop: 5},
	}}
	for _, r := range ts {
		t.AddCells(table.Cells{
			"id": r.ID, "title": r.Title, elevation: p.Cell(units.Length, r.ElevationFt), lengths: p.lengths(r.LengthsFt),
			"heading_deg": r.HeadingDeg.String(), "time_zone": r.TimeZone,
			"perfect_reaction_s": r.PerfectReactionS.String(), "both_red": r.BothRed, "notes": r.Notes,
		})
	}
	return t
}

// lengths are the distances timed at a track, apart by blanks, as far as a tape tells: in
// whole metres where these say all, as 201 does for the eighth mile.
func (p *Page) lengths(ft []float64) string {
	words := make([]string, len(ft))
	for i, l := range ft {
		metres := units.Length.In(units.Metric, l)
		whole := fmt.Sprintf("%.0f", metres)
		switch meant, err := units.ParseDistance(units.Metric, whole); {
		case p.Units == units.US || p.Format == table.CSV:
			words[i] = p.bare(units.Length, l)
		case err == nil && math.Abs(meant-l) < 1e-6:
			words[i] = whole
		default:
			words[i] = fmt.Sprintf("%.1f", metres)
		}
	}
	return strings.Join(words, " ")
}
