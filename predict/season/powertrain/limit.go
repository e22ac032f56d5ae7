package powertrain

// launch is the share of the time over the first 60 ft in which each limit holds the
// vehicle back.
func (v *Vehicle) launch() (share [4]float64) {
	whole := 0.
	v.timed(Standard, Luck{}, 1, func(_ *run, from state, m moment, to state) {
		if from.x < markM[0] {
			share[m.limit] += to.t - from.t
			whole += to.t - from.t
		}
	})
	for i := range share {
		share[i] /= whole
	}
	return share
}
