package predict

import "slipcase/weather/units"

// LeftOut is an earlier run that does not count, or only in part, and why.
type LeftOut struct {
	ID       string
	Why      Reason
	Effort   Effort       // what the racer noted against full power, empty where nothing
	FullFt   units.Number // how far it ran at full power, where that is noted and ends it early
	CountsFt units.Number // the mark up to which it counts all the same, absent where it does not
}

// Reason says why a run is left out; empty, it counts.
type Reason string

// The reasons.
const (
	NoTime    Reason = "no-time"     // none on the slip
	Noted     Reason = "noted"       // by the racer: Effort and FullFt
	OutOfLine Reason = "out-of-line" // with the vehicle's other runs, though nothing is noted
)

// noted are the splits within the racer's own note of full power, and what of the
// note speaks against the run.
func (p *Pass) noted() (Splits, LeftOut) {
	out := LeftOut{ID: p.ID}
	if !FullEffort(p.Effort) {
		out.Effort = p.Effort
	}
	switch {
	case p.FullFt.Known():
		full := p.Splits.upTo(p.FullFt.Value())
		if full == p.Splits {
			return full, LeftOut{ID: p.ID}
		}
		out.Why, out.FullFt = Noted, p.FullFt
		return full, out
	case out.Effort != "":
		out.Why = Noted
		return Splits{}, out
	}
	return p.Splits, out
}

// whyOut says why a run does not count, or not to its end.
func (s *sample) whyOut() (out LeftOut, left bool) {
	ft, some := s.soundFt()
	finish, _ := s.pass.Splits.Finish()
	if some && ft >= finish.Ft() {
		return out, false
	}
	if _, out = s.pass.noted(); out.Why == "" {
		out.Why = OutOfLine
	}
	if some {
		out.CountsFt = units.Some(ft)
	}
	return out, true
}

// allLeftOut lists the runs that do not count, or only in part.
func (t *fit) allLeftOut() (list []LeftOut) {
	for i := range t.samples {
		if out, left := t.samples[i].whyOut(); left {
			list = append(list, out)
		}
	}
	for _, p := range t.untimed {
		list = append(list, LeftOut{ID: p.ID, Why: NoTime})
	}
	return list
}
