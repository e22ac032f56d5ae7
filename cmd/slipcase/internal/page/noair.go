package page

import (
	"slices"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// NoAir says that a forecast goes by air that is a guess, the first line of a dial or a
// forecast; "" where it was read.
func NoAir(e crew.Estimate, f *crew.Forecast, sys units.System) string {
	switch {
	case e.Assumed:
		return guessing + guessed(e, sys)
	case e.Known:
		return ""
	case f.RunsUsed > 0:
		return guessing + "the usual air of its runs"
	}
	return guessing + "a standard day"
}

const guessing = "NO AIR: guessing "

// guessed is an assumed air: "DA 1,790 ± 1,500".
func guessed(e crew.Estimate, sys units.System) string {
	return "DA " + tens(sys, e.Air.DensityAltitudeFt()) + giveOrTake(e, sys)
}

// toldByNoAir are the notes that say again what NoAir says.
var toldByNoAir = []crew.NoteKind{crew.AirAssumed, crew.AirOfRuns, crew.AirUncertain}

// nextNotes are what is to be known beside the forecast of a run to come, that its air is
// a guess first.
func (p *Page) nextNotes(next *crew.Run, f *crew.Forecast) (all []string) {
	notes, ofAir := f.Notes, next.Air.Notes
	if no := NoAir(next.Air, f, p.Units); no != "" {
		all = append(all, no)
		notes = slices.DeleteFunc(slices.Clone(notes), func(n crew.Note) bool { return slices.Contains(toldByNoAir, n.Kind) })
		ofAir = slices.DeleteFunc(slices.Clone(ofAir), func(n crew.AirNote) bool { return n.Kind == crew.RaceDay })
	}
	all = slices.Concat(all, Notes(notes, p.Units), AirNotes(ofAir, p.Units))
	if !next.SetupKnown() {
		all = append(all, "no setup in force: slipcase setup add")
	}
	return all
}

// airOfNext says what the air of a run to come is, or how to tell it.
func (p *Page) airOfNext(e crew.Estimate) string {
	if e.Known && !e.Assumed {
		return Air(e, p.Units)
	}
	if e.How.Kind == crew.NoTrack {
		return AirHow(e.How)
	}
	return AirHow(e.How) + "; slipcase air add tells it"
}
