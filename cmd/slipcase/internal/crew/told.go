package crew

import (
	"context"

	"slipcase/logbook"
	"slipcase/predict"
)

// Told is a run with all that the log and the predictor know of it.
type Told struct {
	Judged
	Read  *Reading       // what was read of its air, nearest in time; nil where nothing was
	Sheet *logbook.Sheet // that the power of its setup is from; nil where it is from none
}

// ToldAsk says of which runs, and how much.
type ToldAsk struct {
	Learned   bool // also standard air and what counts: a fit for every vehicle
	Forecasts bool // also what each was expected to be: one for every run
	Step      func(done, of int)
}

// Tell tells runs, vehicle by vehicle and each vehicle's by their time, until the context
// ends. keep says which are told; those it leaves out are still what the others are
// forecast and corrected by. What is told is good until the next.
func (s *Session) Tell(
	ctx context.Context,
	runs []Run,
	ask ToldAsk,
	keep func(Run) bool,
	tell func(*Told) error,
) error {
	readings, err := s.Readings("")
	if err != nil {
		return err
	}
	byID := make(map[string]*Reading, len(readings))
	for i := range readings {
		byID[readings[i].ID] = &readings[i]
	}
	sheets, err := s.Sheets("")
	if err != nil {
		return err
	}
	sheet := make(map[string]*logbook.Sheet, len(sheets))
	for i := range sheets {
		sheet[sheets[i].ID] = &sheets[i]
	}
	done := 0
	told := new(Told)
	for _, mine := range byVehicle(runs) {
		m := &telling{}
		if ask.Learned || ask.Forecasts {
			m = newTelling(mine, ask.Forecasts)
		}
		for i, r := range mine {
			if err := ctx.Err(); err != nil {
				return err
			}
			done++
			if ask.Step != nil {
				ask.Step(done, len(runs))
			}
			if !keep(*r) {
				continue
			}
			told.Read, told.Sheet = byID[r.Air.How.ReadingID], sheet[r.Setup.Power]
			m.tell(&told.Judged, i, r)
			if err := tell(told); err != nil {
				return err
			}
		}
	}
	return nil
}

// telling is a vehicle whose runs are told, with what they all show; nothing of them where
// that is not asked.
type telling struct {
	passes  []predict.Pass
	learned *predict.Corrector
	leftOut map[string]LeftOut

	forecasts bool
}

func newTelling(runs []*Run, forecasts bool) *telling {
	t := &telling{leftOut: map[string]LeftOut{}, forecasts: forecasts}
	for _, r := range runs {
		t.passes = append(t.passes, PassOf(*r))
	}
	t.learned = learn(t.passes)
	for _, l := range t.learned.LeftOut() {
		t.leftOut[l.ID] = l
	}
	return t
}

// tell tells one of the runs, by its place, in the room of the one before it, which was told
// by the same: a run judged is large, and there may be very many.
func (t *telling) tell(j *Judged, i int, r *Run) {
	if t.learned == nil {
		j.Run, j.Unjudged = *r, errNotAsked
		j.Result, j.ResultWhy = TellResult(r.Slip, r.Track)
		return
	}
	m := &among{car: &car{}, run: *r, pass: t.passes[i], before: t.passes[:i]}
	if *j = m.told(t.learned); t.forecasts {
		m.judge(j)
	}
	j.LeftOut = t.leftOut[r.Slip.ID]
	j.letGo()
}

// byVehicle parts runs by their vehicles, in the order in which these come.
func byVehicle(runs []Run) (parts [][]*Run) {
	at := map[string]int{}
	for i := range runs {
		r := &runs[i]
		k, known := at[r.Slip.Vehicle]
		if !known {
			k = len(parts)
			at[r.Slip.Vehicle], parts = k, append(parts, nil)
		}
		parts[k] = append(parts[k], r)
	}
	return parts
}
