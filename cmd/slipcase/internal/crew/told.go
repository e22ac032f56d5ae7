package crew

import "context"

// Told is a run with all that the log and the predictor know of it.
type Told struct {
	Judged
	Read *Reading // what was read of its air, nearest in time; nil where nothing was
}

// ToldAsk says of which runs, and how much.
type ToldAsk struct {
	Forecasts bool // also what each was expected to be: a fit for every run
	Step      func(done, of int)
}

// Tell tells runs, vehicle by vehicle and each vehicle's by their time, until the context
// ends. keep says which are told; those it leaves out are still what the others are
// forecast and corrected by.
func (s *Session) Tell(ctx context.Context, runs []Run, ask ToldAsk, keep func(Run) bool, tell func(Told) error) error {
	readings, err := s.Readings("")
	if err != nil {
		return err
	}
	byID := make(map[string]*Reading, len(readings))
	for i := range readings {
		byID[readings[i].ID] = &readings[i]
	}
	done := 0
	for _, mine := range byVehicle(runs) {
		passes := PassesOf(mine)
		learned := learn(passes)
		leftOut := map[string]LeftOut{}
		for _, l := range learned.LeftOut() {
			leftOut[l.ID] = l
		}
		for i, r := range mine {
			if err := ctx.Err(); err != nil {
				return err
			}
			done++
			if ask.Step != nil {
				ask.Step(done, len(runs))
			}
			if !keep(r) {
				continue
			}
			m := &among{car: &car{}, run: r, pass: passes[i], before: passes[:i]}
			told := Told{Read: byID[r.Air.How.ReadingID]}
			if told.Judged = m.told(learned); ask.Forecasts {
				m.judge(&told.Judged)
			}
			told.LeftOut = leftOut[r.Slip.ID]
			told.letGo()
			if err := tell(told); err != nil {
				return err
			}
		}
	}
	return nil
}

// byVehicle parts runs by their vehicles, in the order in which these come.
func byVehicle(runs []Run) (parts [][]Run) {
	at := map[string]int{}
	for _, r := range runs {
		i, known := at[r.Slip.Vehicle]
		if !known {
			i = len(parts)
			at[r.Slip.Vehicle], parts = i, append(parts, nil)
		}
		parts[i] = append(parts[i], r)
	}
	return parts
}
