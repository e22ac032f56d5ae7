package crew

import (
	"slices"
	"time"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// What looks mistyped on a slip, judged from it alone.

// pastBelief doubts the figures one by one. The bounds are far outside what wheels have
// done (common practice, no source).
func pastBelief(s Slip, now time.Time) (ds []Doubt) {
	if s.Time.After(now) {
		ds = append(ds, Doubt{Kind: InFuture, When: s.Time.Time, Now: now.In(s.Time.Location())})
	}
	doubt := func(m Mark, speed bool, v, low, high float64) {
		if v < low || v > high {
			ds = append(ds, Doubt{Kind: FarOff, At: m, Speed: speed, Value: v, Low: low, High: high})
		}
	}
	for i, p := range s.Splits() {
		if p.ETS.Known() {
			quickest := logbook.QuickestS[p.Ft]
			doubt(Mark(i), false, p.ETS.Value(), quickest, logbook.SlowestS(quickest))
		}
		if p.MPH.Known() {
			doubt(Mark(i), true, p.MPH.Value(), logbook.SlowestMPH, logbook.FastestMPH)
		}
	}
	return ds
}

// unlikelyFields doubts what a slip notes beside its own times, but for figures that are
// doubted by what is nearer.
func unlikelyFields(s Slip, others []Doubt) (ds []Doubt) {
	for _, o := range logbook.HardToBelieve(&s) {
		nearer := slices.ContainsFunc(others, func(d Doubt) bool {
			return d.Kind == DialOff && o.Column == "dial_s" ||
				d.Kind == UnderDial && (o.Column == "opponent_et_s" || o.Column == "opponent_dial_s")
		})
		if !nearer {
			ds = append(ds, Doubt{Kind: Unbelievable, Outlier: o})
		}
	}
	return ds
}

// timesTooLong doubts times that no speed at the end of a run allows. The contrary, a
// speed too low for its times, may be a lift, which only a forecast tells from a
// mistyped figure.
func timesTooLong(s Slip) []Doubt {
	return speedDoubts(s, TimesLong, func(mph, mean float64, late bool) bool { return late && mean < 0.8*mph })
}

// speedsLow doubts speeds below what the times make.
func speedsLow(s Slip) []Doubt {
	return speedDoubts(s, SpeedLow, func(mph, mean float64, _ bool) bool { return mph < 0.98*mean })
}

// speedDoubts holds each speed against the mean speed since the split before, late
// when that is at least half way. Nothing is told by the last speed of a run that the
// racer noted to have ended in something else than full power.
func speedDoubts(s Slip, kind DoubtKind, wrong func(mph, mean float64, late bool) bool) (ds []Doubt) {
	if s.FullPower == "lifted" || s.FullPower == "braked" || s.FullPower == "broke" {
		return nil
	}
	var before logbook.Split
	for i, p := range s.Splits() {
		if !p.ETS.Known() {
			continue
		}
		mean := (p.Ft - before.Ft) / (p.ETS.Value() - before.ETS.Value()) / units.FtPerSPerMPH
		if p.MPH.Known() && wrong(p.MPH.Value(), mean, before.Ft >= p.Ft/2) {
			ds = append(ds, Doubt{Kind: kind, At: Mark(i), Speed: true, Value: p.MPH.Value(), Likely: mean, FromFt: before.Ft})
		}
		before = p
	}
	return ds
}
