package predict

// ByHand opens the hand methods to the campaign.
func ByHand(runs []Pass, next Pass, at Mark) ([4]float64, bool) {
	h, ok := byHand(runs, next, at)
	return [4]float64{h.LastRun, h.MeanOf3, h.LineOnDensityAltitude, h.LastRunAirCorrected}, ok
}

func (f Forecast) Debug() (pw, grip float64) {
	m := f.fit.eras[f.fit.nextEra].car.model
	return m.PowerHP / m.WeightLb, m.GripG
}
