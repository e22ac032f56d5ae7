package crew

import "slipcase/predict"

// Trend tells what became of a vehicle over its runs; its setups are by name.
func (s *Session) Trend(vehicle string) (Trend, error) {
	c, err := s.car(vehicle)
	if err != nil {
		return Trend{}, err
	}
	t, err := predict.NewTrend(c.passes)
	if err != nil {
		return Trend{}, err
	}
	names := map[string]string{}
	for _, r := range c.runs {
		names[r.Setup.ID] = setupName(r.Setup)
	}
	for i := range t.Days {
		t.Days[i].Setup = names[t.Days[i].Setup]
	}
	return t, nil
}
