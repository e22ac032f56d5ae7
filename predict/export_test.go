package predict

// ByHandTimes opens the hand methods to the campaign.
func ByHandTimes(runs []Pass, next Pass, at Mark) ([4]float64, bool) {
	h, ok := handForecast(runs, next, at)
	return [4]float64{h.LastRun, h.MeanOf3, h.LineOnDensityAltitude, h.LastRunAirCorrected}, ok
}

// ExpectByMost is Expect by as many runs as any fit takes.
func ExpectByMost(history []Pass, next Pass) (Forecast, error) {
	return expectBy(history, next, mostRuns)
}
