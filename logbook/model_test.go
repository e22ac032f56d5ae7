package logbook

import (
	"flag"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/weather/units"
)

// The logbook against a map, through random operations with the logbook opened
// anew between them. rapid takes some 30 steps a check.
func TestAgainstAModel(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	before := checks.Value.String()
	times := campaign(20, 700)
	if testing.Short() {
		times *= 5 // rapid makes a fifth of it
	}
	must(t, checks.Value.Set(strconv.Itoa(times)))
	defer checks.Value.Set(before)
	steps := 0
	rapid.Check(t, func(r *rapid.T) {
		w := &modelled{facts: map[string]Slip{}, history: map[string]int{}}
		w.lb, w.m = startInMemory(t)
		w.ids(w.lb)
		r.Repeat(w.actions(&steps))
	})
	t.Logf("%d steps", steps)
}

// modelled is a logbook and what it ought to hold.
type modelled struct {
	lb      *Logbook
	m       *memory
	facts   map[string]Slip // newest revision, standing or void
	history map[string]int  // revisions of each
	made    int
}

// ids makes them differ through all reopenings.
func (w *modelled) ids(lb *Logbook) {
	lb.newID = func(kind byte) string { w.made++; return fmt.Sprintf("%c%09d", kind, w.made) }
}

func (w *modelled) actions(steps *int) map[string]func(*rapid.T) {
	texts := rapid.OneOf(
		rapid.SampledFrom([]string{"", `"`, "a,b", "x\ny", `\n`, `\\`, " ", "=1+1", "ü;'"}),
		rapid.StringN(0, 40, 200),
	)
	some := func(r *rapid.T) string { return rapid.SampledFrom(slices.Sorted(maps.Keys(w.facts))).Draw(r, "id") }
	slip := func(r *rapid.T) *Slip {
		s := &Slip{
			Vehicle: rapid.SampledFrom([]string{"heron", "kestrel"}).Draw(r, "vehicle"),
			Time: Time{
				time.Unix(rapid.Int64Range(0, 2e9).Draw(r, "time"), 0).
					In(time.FixedZone("", 3600*rapid.IntRange(-11, 13).Draw(r, "zone"))),
			},
			ET1320S: units.Some(rapid.Float64Range(1, 1e4).Draw(r, "et")),
			Notes:   texts.Draw(r, "notes"),
		}
		if rapid.Bool().Draw(r, "red") {
			s.ReactionS = units.Some(rapid.Float64Range(-1, 5).Draw(r, "reaction"))
		}
		return s
	}
	oneBreak := strings.NewReplacer("\r\n", "\n", "\r", "\n") // what a note keeps of them
	keep := func(s Slip) { s.Notes = oneBreak.Replace(s.Notes); w.facts[s.ID], w.history[s.ID] = s, s.Rev }
	return map[string]func(*rapid.T){
		"add": func(r *rapid.T) {
			batch := []*Slip{slip(r)}
			for range rapid.IntRange(0, 3).Draw(r, "more") {
				batch = append(batch, slip(r))
			}
			err := w.lb.AddSlips(batch...)
			if slices.ContainsFunc(batch, func(s *Slip) bool { return s.Check() != nil }) {
				if err == nil {
					r.Fatal("a slip that cannot be was recorded")
				}
				return
			}
			must(r, err)
			for _, s := range batch {
				keep(*s)
			}
		},
		"amend": func(r *rapid.T) {
			if len(w.facts) == 0 {
				r.Skip()
			}
			to := slip(r)
			id := some(r)
			would := w.facts[id]
			would.Notes, would.ET1320S = to.Notes, to.ET1320S
			s, err := w.lb.AmendSlip(id, func(s *Slip) error { s.Notes, s.ET1320S = to.Notes, to.ET1320S; return nil })
			if would.Check() != nil {
				if err == nil {
					r.Fatal("a slip was amended to one that cannot be")
				}
				return
			}
			must(r, err)
			keep(s)
		},
		"void or not": func(r *rapid.T) {
			if len(w.facts) == 0 {
				r.Skip()
			}
			status := rapid.SampledFrom([]Status{Fact, Void}).Draw(r, "status")
			s, err := w.lb.AmendSlip(some(r), func(s *Slip) error { s.Status = status; return nil })
			must(r, err)
			keep(s)
		},
		"reopen": func(r *rapid.T) {
			again := newLogbook(w.lb.dir, Options{Now: w.lb.now})
			again.fs, again.pause = w.m, 0
			w.ids(again)
			must(r, again.readVersion())
			w.lb = again
		},
		"crash": func(r *rapid.T) {
			path := w.lb.path(slips.file)
			data := w.m.names[path].data
			w.m.put(path, append(slices.Clone(data), `storn,1,fact,2026-05-02T15:00:00Z,,2026-`...))
			must(r, w.lb.Repair(func([]Mend) error { return nil }))
		},
		"": func(r *rapid.T) {
			*steps++
			w.compare(r)
		},
	}
}

func (w *modelled) compare(r *rapid.T) {
	got := map[string]Slip{}
	all, err := w.lb.Slips("")
	must(r, err)
	for _, s := range all {
		got[s.ID] = s
	}
	want := maps.Clone(w.facts)
	maps.DeleteFunc(want, func(_ string, s Slip) bool { return s.Status == Void })
	sameTime := cmp.Comparer(func(a, b Time) bool { return a.Equal(b.Time) })
	if diff := cmp.Diff(want, got, sameTime); diff != "" {
		r.Fatalf("facts differ (-model +logbook):\n%s", diff)
	}
	for id, revs := range w.history {
		if h, err := w.lb.SlipHistory(id); err != nil || len(h) != revs {
			r.Fatalf("%s has %d revisions, want %d: %v", id, len(h), revs, err)
		}
		break // of one entry, whichever it is
	}
}
