package crew

import (
	"math"
	"time"

	"slipcase/weather"
	"slipcase/weather/units"
)

// DialCard is the dials of the next hours, to be carried where the log is not: by the time,
// in the air as it is expected, and by the air, whatever the time.
type DialCard struct {
	MadeAt time.Time
	ByTime []CardRow
	ByAir  []CardRow
}

// CardRow is a moment or an air with the dial of each lane, left and right.
type CardRow struct {
	At    time.Time
	Air   Estimate
	Lanes [2]DialChoice
}

// A card reaches over some hours in steps of half of one, and over density altitudes on both
// sides of that of now.
const (
	cardStep  = 30 * time.Minute
	cardSteps = 8
	cardAirs  = 5
)

// cardAirStep are steps of density altitude, ft, that are round as they are shown: 250 ft, or
// 100 m, which move a 13 s car by some .02.
func cardAirStep(shown units.System) float64 {
	if shown == units.Metric {
		return 100 / units.Length.In(shown, 1)
	}
	return 250
}

// Card makes the card of a vehicle at a track, raced as said, as DialAhead takes it, in steps
// that are round as they are shown.
func (s *Session) Card(v Vehicle, t Track, said Slip, shown units.System) (DialCard, error) {
	now := s.Now().In(t.Location(s.Now().Location()))
	card := DialCard{MadeAt: now}
	first := now.Truncate(cardStep).Add(cardStep)
	for i := range cardSteps + 1 {
		at := first.Add(time.Duration(i-1) * cardStep)
		if i == 0 {
			at = now
		}
		row, err := s.cardRow(v, t, said, at, nil)
		if err != nil {
			return card, err
		}
		card.ByTime = append(card.ByTime, row)
	}
	step := cardAirStep(shown)
	da := math.Round(card.ByTime[0].Air.Air.DensityAltitudeFt()/step) * step
	for i := -cardAirs; i <= cardAirs; i++ {
		air, err := weather.ReadNow(
			weather.Reading{DensityAltitudeFt: units.Some(da + float64(i)*step)},
			t.ElevationFt,
		)
		if err != nil {
			continue // no air that is read anywhere
		}
		row, err := s.cardRow(v, t, said, now, &air)
		if err != nil {
			return card, err
		}
		card.ByAir = append(card.ByAir, row)
	}
	return card, nil
}

func (s *Session) cardRow(v Vehicle, t Track, said Slip, at time.Time, air *Estimate) (row CardRow, err error) {
	row.At = at
	for i, lane := range []string{laneLeft, laneRight} {
		ask := NextAsk{Vehicle: v.ID, Track: t.ID, Lane: lane, At: at, Air: air}
		if row.Lanes[i], err = s.DialAhead(ask, said); err != nil {
			return row, err
		}
		row.Air = row.Lanes[i].Run.Air
	}
	return row, nil
}
