package crew

import (
	"context"

	"slipcase/predict"
)

// Backtest makes, for each run of a vehicle, the forecast that could be made from the
// runs before it, in the air as it could be known then, or as measured granting it the
// run's own.
func (s *Session) Backtest(ctx context.Context, vehicle string, asMeasured bool) (Backtest, error) {
	runs, err := s.Runs(vehicle)
	if err != nil {
		return Backtest{}, err
	}
	measured := PassesOf(runs)
	if asMeasured {
		return predict.RunBacktest(ctx, measured, measured)
	}
	j, err := s.Joiner(vehicle)
	if err != nil {
		return Backtest{}, err
	}
	known := make([]predict.Pass, len(runs))
	for i, r := range runs {
		if at := r.Slip.Time.Time; r.Slip.Track != "" && r.Slip.Air == "" {
			r.Air = j.AirAhead(r.Slip.Track, at, at)
		}
		known[i] = PassOf(r)
	}
	return predict.RunBacktest(ctx, measured, known)
}
