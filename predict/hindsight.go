package predict

import (
	"slices"

	"slipcase/weather/units"
)

// Hindsight is what all runs of one vehicle, the later ones too, show of each.
type Hindsight struct{ fit *fit } // nil without runs

// NewHindsight learns from all the runs of one vehicle.
func NewHindsight(history []Pass) (*Hindsight, error) {
	if len(history) == 0 {
		return &Hindsight{}, nil
	}
	last := lastOf(history)
	f, err := gather(history, Pass{Machine: last.Machine, Air: last.Air, AirKnown: last.AirKnown}, mostRuns)
	if err != nil {
		return nil, err
	}
	t, err := newFit(f)
	if err != nil {
		return nil, err
	}
	accounts, err := weighAccounts(t)
	if err != nil {
		return nil, err
	}
	return &Hindsight{accounts[0].fit}, nil
}

// LeftOut lists the runs that the next forecast leaves out, or counts to a mark only.
func (h *Hindsight) LeftOut() []LeftOut {
	if h.fit == nil {
		return nil
	}
	return h.fit.allLeftOut()
}

// Figures are what one run tells of how alike the runs are, absent where the next
// forecast leaves that part of it out.
type Figures struct {
	ET60        units.Number // s, as run
	ETStandard  units.Number // s at the mark asked for, in weather.Standard
	AirNotKnown bool         // so that the time at the mark, which counts, is not in standard air
}

// Figures picks what counts of a run, by its ID among all runs.
func (h *Hindsight) Figures(run Pass, m Mark, c *Corrector) (out Figures) {
	counts := h.counted(run)
	out.ET60 = counts.ETs[At60]
	if !counts.ETs[m].Known() {
		return out
	}
	if std, ok := c.Correct(run); ok && run.AirKnown && std.ETs[m].Centre > 0 {
		out.ETStandard = units.Some(std.ETs[m].Centre)
	} else {
		out.AirNotKnown = true
	}
	return out
}

// counted are the splits of a run that are more likely sound than not.
func (h *Hindsight) counted(run Pass) Splits {
	if h.fit == nil {
		return Splits{}
	}
	i := slices.IndexFunc(h.fit.samples, func(s sample) bool { return s.pass.ID == run.ID })
	if i < 0 {
		return Splits{}
	}
	ft, some := h.fit.samples[i].soundFt()
	if !some {
		return Splits{}
	}
	return run.Splits.upTo(ft)
}
