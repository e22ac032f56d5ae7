package page

import "slipcase/cmd/slipcase/internal/crew"

// stopsDiffer reports runs with throttle stops that were on for unlike times: their times tell
// the stop before they tell the car.
func stopsDiffer(runs []crew.Told) bool {
	const alikeS = 0.005
	on := func(r crew.Told) float64 { return r.Run.Slip.StopOffS.Or(0) - r.Run.Slip.StopOnS.Or(0) }
	for _, r := range runs {
		if d := on(r) - on(runs[0]); d > alikeS || d < -alikeS {
			return true
		}
	}
	return false
}

// stopNote says so of a picture of such runs.
func stopNote(runs []crew.Told) []string {
	if !stopsDiffer(runs) {
		return nil
	}
	return []string{"Throttle stops differ from run to run: what a stop costs is not taken out."}
}
