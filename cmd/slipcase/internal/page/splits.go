package page

import (
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// splitsJSON are times and speeds as other programs read them, always in s and mph.
type splitsJSON struct {
	ET60    units.Number `json:"et_60_s,omitzero"`
	ET330   units.Number `json:"et_330_s,omitzero"`
	ET660   units.Number `json:"et_660_s,omitzero"`
	MPH660  units.Number `json:"mph_660,omitzero"`
	ET1000  units.Number `json:"et_1000_s,omitzero"`
	MPH1000 units.Number `json:"mph_1000,omitzero"`
	ET1320  units.Number `json:"et_1320_s,omitzero"`
	MPH1320 units.Number `json:"mph_1320,omitzero"`
}

func newSplitsJSON(s crew.Splits) *splitsJSON {
	et := func(m crew.Mark) units.Number { return roundedNumber(s.ETs[m], ToS) }
	mph := func(m crew.Mark) units.Number { return roundedNumber(s.MPHs[m], ToMPH) }
	return &splitsJSON{
		et(crew.At60), et(crew.At330), et(crew.At660), mph(crew.At660),
		et(crew.At1000), mph(crew.At1000), et(crew.At1320), mph(crew.At1320),
	}
}
