package predict

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"

	"slipcase/weather/units"
)

// WasOn is what a run that was not driven to its end was on.
type WasOn struct {
	Mark   Mark
	ET     Band    // that it would have run at full power, s
	Effort Effort  // what the racer noted, "" where the figures alone tell
	AtFt   float64 // where it was let go: as noted, else the last mark to which it is sound; 0 where that is not known
	About  bool    // AtFt is as noted
}

// WasOn says what a run would have run at a mark: the forecast's joint law, given those of
// its splits that were made before it was let go. countsFt is how far the fit judges it
// sound, where that is not to its end. ok is false where it was driven to that mark, or no
// split of it tells.
func (f *Forecast) WasOn(run Pass, countsFt units.Number, m Mark) (w WasOn, ok bool) {
	sound := run.soundSplits()
	if countsFt.Known() {
		sound = sound.upTo(countsFt.Value())
	}
	last, some := sound.Finish()
	if !some || last >= m {
		return w, false
	}
	w = WasOn{Mark: m, AtFt: last.Ft()}
	if !FullEffort(run.Effort) {
		w.Effort = run.Effort
	}
	if run.FullFt.Known() {
		w.AtFt, w.About = run.FullFt.Value(), true
	}
	y, has := sound.logs()
	l := f.law.given(y, has)
	w.ET = l.bandOf(timeAt[m], l.tails())
	return w, true
}

// given is the law of a run of which some logs are known; of a mixture each part then
// counts by how well it foresaw them.
func (l runLaw) given(y vec, has [channels]bool) runLaw {
	if len(l.parts) == 0 {
		l, _ = l.conditioned(y, has)
		return l
	}
	parts := make([]lawPart, len(l.parts))
	logs := make([]float64, len(l.parts))
	for i, p := range l.parts {
		law, density := p.conditioned(y, has)
		parts[i], logs[i] = lawPart{runLaw: law}, math.Log(p.chance)+density
	}
	all := logSum(logs)
	for i := range parts {
		parts[i].chance = math.Exp(logs[i] - all)
	}
	return mixture(parts)
}

// conditioned is a single law given some of its logs, and the log density of these; the
// known logs have no law any more.
func (l runLaw) conditioned(y vec, has [channels]bool) (runLaw, float64) {
	var known, open []int
	var seen []float64
	scale := mat.NewSymDense(channels, nil)
	for i := range channels {
		if has[i] {
			known, seen = append(known, i), append(seen, y[i])
		} else {
			open = append(open, i)
		}
		for j := range i + 1 {
			scale.SetSym(i, j, l.cov[i][j]*(l.df-2)/l.df)
		}
	}
	t, sound := distmv.NewStudentsT(l.mean[:], scale, l.df, nil)
	if !sound || len(known) == 0 || len(open) == 0 {
		return l, 0
	}
	of, sound := t.MarginalStudentsT(known, nil)
	given, sound2 := t.ConditionStudentsT(known, seen, nil)
	if !sound || !sound2 {
		return l, 0
	}
	var cov mat.SymDense
	given.CovarianceMatrix(&cov)
	mean := given.Mean(nil)
	out := runLaw{mean: y, df: given.Nu()}
	for i, a := range open {
		out.mean[a] = mean[i]
		for j, b := range open {
			out.cov[a][b] = cov.At(i, j)
		}
	}
	for _, a := range known {
		out.cov[a][a] = 1e-12
	}
	return out, of.LogProb(seen)
}
