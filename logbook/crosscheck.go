package logbook

import (
	"slices"
	"strings"
	"time"
)

// crossCheck looks at what the entries say of each other.
func (x *examination) crossCheck(machine *time.Location) {
	x.crossCheckOwners(x.sheets, x.plan, x.wears)
	crossCheckNames(x, vehicles, x.vehicles, func(v Vehicle) string { return v.ID })
	crossCheckNames(x, tracks, x.tracks, func(t Track) string { return t.ID })
	ss, rs := x.setups, x.readings
	slices.SortStableFunc(ss, func(a, b lined[Setup]) int { return a.rec.From.Compare(b.rec.From.Time) })
	slices.SortStableFunc(rs, func(a, b lined[Reading]) int { return a.rec.Time.Compare(b.rec.Time.Time) })
	j := newJoiner(bare(x.vehicles), bare(x.tracks), bare(ss), bare(rs), machine)
	unknown := func(t table, line int, id, what string, in table, name string) {
		if name != "" && !x.has(in, name) {
			x.find(Unknown, true, t.file, line, id, "%s %q is not in the logbook", what, clip(name))
		}
	}
	owner := map[string]string{}
	for _, s := range ss {
		owner[s.rec.ID] = s.rec.Vehicle
		unknown(setups, s.line, s.rec.ID, "vehicle", vehicles, s.rec.Vehicle)
	}
	for _, r := range rs {
		unknown(readings, r.line, r.rec.ID, "track", tracks, r.rec.Track)
	}
	type run struct {
		vehicle string
		at      int64
	}
	ran := map[run]int{}
	for _, s := range x.slips {
		slip := s.rec
		unknown(slips, s.line, slip.ID, "vehicle", vehicles, slip.Vehicle)
		unknown(slips, s.line, slip.ID, "track", tracks, slip.Track)
		unknown(slips, s.line, slip.ID, "setup", setups, slip.Setup)
		unknown(slips, s.line, slip.ID, "air", readings, slip.Air)
		if of, ok := owner[slip.Setup]; ok && of != slip.Vehicle {
			x.find(Unknown, true, slips.file, s.line, slip.ID, "setup %s is of the vehicle %s", slip.Setup, of)
		}
		if err := slip.possible(); err != nil {
			x.find(Impossible, true, slips.file, s.line, slip.ID, "%v", err)
		}
		k := run{slip.Vehicle, slip.Time.Unix()}
		if first, twice := ran[k]; twice {
			// Midnight is what a slip of which only the day is known has.
			x.find(
				Twice,
				!midnight(slip.Time.Time),
				slips.file,
				s.line,
				slip.ID,
				"%s ran at %s on line %d already: void one of them, or amend its time",
				slip.Vehicle,
				slip.Time.Format("2006-01-02 15:04:05"),
				first,
			)
		} else {
			ran[k] = s.line
		}
		r := j.Run(slip)
		if !r.SetupKnown() && slip.Setup == "" {
			x.find(
				NoSetup,
				false,
				slips.file,
				s.line,
				slip.ID,
				"no setup of %s was in force at %s",
				slip.Vehicle,
				slip.Time.Format("2006-01-02 15:04"),
			)
		}
		if !r.Air.Known {
			x.find(NoAir, false, slips.file, s.line, slip.ID, "the air is not known")
			x.findings[len(x.findings)-1].Air = r.Air.How
		}
	}
}

func bare[T any](of []lined[T]) []T {
	recs := make([]T, len(of))
	for i, l := range of {
		recs[i] = l.rec
	}
	return recs
}

// has reports whether an entry is in a table, standing or not; of a table that
// cannot be read there is no telling.
func (x *examination) has(t table, id string) bool {
	ids, readable := x.ids[t.file]
	return !readable || ids[id]
}

func midnight(t time.Time) bool { return t.Hour() == 0 && t.Minute() == 0 && t.Second() == 0 }

// crossCheckOwners looks at whose the dyno sheets, the planned changes and the parts are.
func (x *examination) crossCheckOwners(ps []lined[Sheet], ns []lined[Planned], ws []lined[Wear]) {
	owned := func(t table, line int, id, vehicle string) {
		if vehicle != "" && !x.has(vehicles, vehicle) {
			x.find(Unknown, true, t.file, line, id, "vehicle %q is not in the logbook", clip(vehicle))
		}
	}
	for _, p := range ps {
		owned(sheets, p.line, p.rec.ID, p.rec.Vehicle)
	}
	for _, n := range ns {
		owned(planRows, n.line, n.rec.ID, n.rec.Vehicle)
	}
	for _, w := range ws {
		owned(wears, w.line, w.rec.ID, w.rec.Vehicle)
	}
}

// crossCheckNames looks at names that older programs took, or a merge has brought together.
func crossCheckNames[T any](x *examination, t table, of []lined[T], name func(T) string) {
	seen := map[string]string{}
	for _, l := range of {
		id := name(l.rec)
		if readsAsNumber(id) {
			x.find(
				BadName,
				false,
				t.file,
				l.line,
				id,
				"the name reads as a number: a spreadsheet may rewrite it, and on a line it is taken for a time",
			)
		}
		if other, there := seen[strings.ToLower(id)]; there {
			x.find(BadName, false, t.file, l.line, id, "only capitals tell it from %s", other)
		}
		seen[strings.ToLower(id)] = id
	}
}
