package season

import (
	"math"

	"slipcase/predict"
	"slipcase/weather/units"
)

// mishap spoils a run: wheelspin, a missed gear, or an engine off song. What must be
// spoiled is, and nobody notes it.
func (y *year) mishap(e *effects, run *Run, must bool) {
	if y.r.Float64() >= spoiled {
		if must {
			e.power -= pick(y.odd, 0.08, 0.3)
			run.Clean, run.CleanFt = false, 0
		}
		return
	}
	run.Clean, run.CleanFt = false, 0
	flag := predict.Broke
	switch y.r.IntN(3) {
	case 0:
		e.spin, e.spinFt, flag = pick(y.r, 0.25, 0.6), pick(y.r, 20, 90), predict.Spun
	case 1:
		e.missS = pick(y.r, 0.25, 0.8)
	default:
		e.power -= pick(y.r, 0.08, 0.3)
	}
	if y.r.Float64() < 0.25 && !must {
		run.Pass.Effort = flag
	}
}

// letUp ends some runs early: from the third round on with a lead in hand, or as the
// regime has it.
func (y *year) letUp(e *effects, run *Run, round int) {
	lifts := round >= 2 && y.r.Float64() < liftShare
	switch g := y.s.Regime; {
	case g.Sandbag > 0 && y.odd.Float64() < g.Sandbag:
		e.liftFt, e.left = y.s.Finish.Ft()*pick(y.odd, 0.85, 0.98), pick(y.odd, 0, 0.5)
		run.Clean, run.CleanFt = false, e.liftFt
	case g.Lifts > 0 && y.odd.Float64() < g.Lifts:
		e.liftFt, e.left = y.s.Finish.Ft()*pick(y.odd, 0.55, 0.97), pick(y.odd, 0, 0.4)
		run.Clean, run.CleanFt = false, e.liftFt
	case g.Lifts == 0 && lifts:
		y.lift(e, run)
	}
}

// lift ends a run early, a lead in hand.
func (y *year) lift(e *effects, run *Run) {
	end := y.s.Finish.Ft()
	e.liftFt, e.left = end*pick(y.r, 0.55, 0.97), pick(y.r, 0, 0.4)
	flag := predict.Lifted
	if y.r.Float64() < 0.3 {
		e.brake, flag = pick(y.r, 1, 4), predict.Braked
	}
	run.Clean, run.CleanFt = false, e.liftFt
	if y.r.Float64() < 0.5 {
		run.Pass.Effort = flag
		if y.r.Float64() < 0.6 {
			run.Pass.FullFt = units.Some(math.Round(e.liftFt/50) * 50)
		}
	}
}
