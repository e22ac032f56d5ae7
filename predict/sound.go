package predict

import (
	"slices"

	"slipcase/weather/units"
)

// Figures are what one run tells of how alike the runs are, absent where the next
// forecast leaves that part of it out.
type Figures struct {
	ET60        units.Number // s, as run
	ETStandard  units.Number // s at the mark asked for, in weather.Standard
	AirNotKnown bool         // so that the time at the mark, which counts, is not in standard air
}

// Figures picks what counts of a run, by its ID among those that the corrector has
// learned from.
func (c *Corrector) Figures(run Pass, m Mark) (out Figures) {
	counts := c.counted(run)
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
func (c *Corrector) counted(run Pass) Splits {
	if c.fit == nil {
		return Splits{}
	}
	i := slices.IndexFunc(c.fit.samples, func(s sample) bool { return s.pass.ID == run.ID })
	if i < 0 {
		return Splits{}
	}
	ft, some := c.fit.samples[i].soundFt()
	if !some {
		return Splits{}
	}
	return run.Splits.upTo(ft)
}
