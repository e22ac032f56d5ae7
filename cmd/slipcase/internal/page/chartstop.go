package page

import "slipcase/cmd/slipcase/internal/crew"

func stopsDiffer(runs []crew.Told) bool {
	return crew.StopsOf(runs, func(t crew.Told) crew.Slip { return t.Run.Slip }).Differ()
}

// stopNote says of a picture that its runs had unlike throttle stops.
func stopNote(runs []crew.Told) []string {
	if !stopsDiffer(runs) {
		return nil
	}
	return []string{"Throttle stops differ from run to run: what a stop costs is not taken out."}
}
