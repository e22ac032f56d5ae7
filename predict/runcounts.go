package predict

// clearlySound is how surely each part of a run must be sound for nothing that it adds to the
// fit itself to turn that round; half would leave it in.
const clearlySound = 0.9

// Counts reports that a run that the forecast was made for counts to its end in the next one
// too, if nothing was run after it: it is clearly sound as the runs before it have it, and among
// them it can only be more so. Where it is not clear, only a fit of all tells (Hindsight.LeftOut).
func (f *Forecast) Counts(run Pass) bool {
	t := f.fit
	if t == nil || f.RunsUsed < manyRuns || 3*len(f.LeftOut) > len(t.samples) {
		return false // of few runs, or of a driver who seldom stays in it, another fit may think otherwise
	}
	s := sample{pass: &run, era: t.nextEra, sound: soundChances(&run)}
	if s.unnoted() {
		for i := range t.samples {
			if o := &t.samples[i]; o.unnoted() {
				s.sound = o.sound // by the driver's habits
			}
		}
	}
	day := t.dayOfNext()
	if t.hold(&s, modelled{}, t.runsOf(day)) != nil {
		return false
	}
	w := newWhitening(&s, t.eras[s.era], &t.noise[s.era], t.airOff).whiten(&s)
	p := t.likeliest()
	d := p.tied(day)
	bias := w.of((*vec)(p.mean[biasAt(s.era):]))
	u := w.residuals(d.launch, d.engine, (*[laws]float64)(p.mean), &bias)
	s.weigh(&w, &u, 1)
	finish, timed := run.Splits.Finish() // and what is sound to there is so all along
	return timed && s.has[timeAt[finish]] && s.weight[timeAt[finish]] >= clearlySound
}
