package crew

import (
	"context"

	"slipcase/predict"
)

// Backtest makes, for each run of a vehicle, the forecast that could be made from the
// runs before it, in the air as it could be known then, or as measured granting it the
// run's own. step is told how many of how many are made.
func (s *Session) Backtest(
	ctx context.Context,
	vehicle string,
	asMeasured bool,
	step func(done, of int),
) (Backtest, error) {
	c, err := s.car(vehicle)
	if err != nil {
		return Backtest{}, err
	}
	if asMeasured {
		return predict.RunBacktest(ctx, c.passes, c.passes, step)
	}
	known := make([]predict.Pass, len(c.runs))
	for i, r := range c.runs {
		if at := r.Slip.Time.Time; r.Slip.Track != "" && r.Slip.Air == "" {
			r.Air = c.joiner.AirAhead(r.Slip.Track, at, at)
		}
		known[i] = PassOf(r)
	}
	return predict.RunBacktest(ctx, c.passes, known, step)
}
