package crew

import (
	"slices"
	"strings"
	"time"

	"slipcase/logbook"
	"slipcase/weather/units"
)

// RunFilter says which runs are meant; what it leaves empty, any run has.
type RunFilter struct {
	Track, Meet, Setup, Round, Lane, Result, Driver, Class string

	FullPower    bool         // nothing was noted against it
	From, Before time.Time    // the latter is not meant any more
	LowFt        units.Number // density altitude, known of the run
	HighFt       units.Number

	own []logbook.OwnCell
}

// Of are the runs that are meant.
func (f RunFilter) Of(runs []Run) (kept []Run) {
	for i := range runs {
		if f.Keeps(&runs[i]) {
			kept = append(kept, runs[i])
		}
	}
	return kept
}

// Keeps reports whether a run is meant.
func (f RunFilter) Keeps(r *Run) bool {
	s := &r.Slip
	for _, w := range [][2]string{
		{f.Track, s.Track}, {f.Meet, s.Meet}, {f.Round, s.Round}, {f.Lane, s.Lane}, {f.Driver, s.Driver},
	} {
		if w[0] != "" && !strings.EqualFold(w[0], w[1]) {
			return false
		}
	}
	if f.Result != "" {
		if result, _ := TellResult(*s, r.Track); !strings.EqualFold(f.Result, result) {
			return false
		}
	}
	if f.Setup != "" && !slices.Contains([]string{r.Setup.ID, r.Setup.Name}, f.Setup) {
		return false
	}
	if f.Class != "" && !strings.EqualFold(f.Class, s.Class) && !strings.EqualFold(f.Class, ClassOf(*s)) {
		return false
	}
	if f.FullPower && s.FullPower != "" && s.FullPower != string(FullPower) {
		return false
	}
	if t := s.Time.Time; t.Before(f.From) || !f.Before.IsZero() && !t.Before(f.Before) {
		return false
	}
	return f.keepsAir(r) && (len(f.own) == 0 || keepsOwn(*s, f.own))
}

func (f RunFilter) keepsAir(r *Run) bool {
	if !f.LowFt.Known() && !f.HighFt.Known() {
		return true
	}
	da := DensityAltitude(*r)
	return da.Known() && (!f.LowFt.Known() || da.Value() >= f.LowFt.Value()) &&
		(!f.HighFt.Known() || da.Value() <= f.HighFt.Value())
}
