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

// ToldAsk says how much is told.
type ToldAsk struct {
	Learned   bool           // also standard air and what counts: a fit for every vehicle
	Forecasts bool           // also what each was expected to be: one for every run
	Step      func(done int) // after each that is told, how many are
}

// Teller tells runs, with what the log was read for once.
type Teller struct {
	ToldAsk
	readings map[string]*Reading
	sheets   map[string]*logbook.Sheet
	told     Told
	done     int
}

// NewTeller takes the readings of the log, and reads what else runs are told with.
func (s *Session) NewTeller(ask ToldAsk, readings []Reading) (*Teller, error) {
	sheets, err := s.Sheets("")
	if err != nil {
		return nil, err
	}
	t := &Teller{ToldAsk: ask, readings: make(map[string]*Reading, len(readings)), sheets: map[string]*logbook.Sheet{}}
	for i := range readings {
		t.readings[readings[i].ID] = &readings[i]
	}
	for i := range sheets {
		t.sheets[sheets[i].ID] = &sheets[i]
	}
	return t, nil
}

// Tell tells the runs of a vehicle by their time, until the context ends. keep says which
// are told; those it leaves out are still what the others are forecast and corrected by.
// What is told is good until the next.
func (t *Teller) Tell(ctx context.Context, runs []Run, keep func(*Run) bool, tell func(*Told) error) error {
	m := &telling{}
	if t.Learned || t.Forecasts {
		m = newTelling(runs, t.Forecasts)
	}
	for i := range runs {
		if err := ctx.Err(); err != nil {
			return err
		}
		r := &runs[i]
		if !keep(r) {
			continue
		}
		t.told.Read, t.told.Sheet = t.readings[r.Air.How.ReadingID], t.sheets[r.Setup.Power]
		m.tell(&t.told.Judged, i, r)
		if err := tell(&t.told); err != nil {
			return err
		}
		if t.done++; t.Step != nil {
			t.Step(t.done)
		}
	}
	return nil
}

// telling is a vehicle whose runs are told, with what they all show; nothing of them where
// that is not asked.
type telling struct {
	passes  []predict.Pass
	learned learned
	leftOut map[string]LeftOut

	forecasts bool
}

func newTelling(runs []Run, forecasts bool) *telling {
	t := &telling{leftOut: map[string]LeftOut{}, forecasts: forecasts, passes: PassesOf(runs)}
	t.learned, _ = learn(t.passes)
	for _, l := range t.learned.LeftOut() {
		t.leftOut[l.ID] = l
	}
	return t
}

// tell tells one of the runs, by its place, in the room of the one before it, which was told
// by the same: a run judged is large, and there may be very many.
func (t *telling) tell(j *Judged, i int, r *Run) {
	if t.passes == nil {
		j.Run, j.Unjudged = *r, errNotAsked
		j.Result, j.ResultWhy = TellResult(r.Slip, r.Track)
		return
	}
	m := &among{car: &car{}, run: *r, pass: t.passes[i], before: t.passes[:i]}
	if *j = m.told(t.learned.Corrector); t.forecasts {
		m.judge(j)
	}
	j.LeftOut = t.leftOut[r.Slip.ID]
	j.letGo()
}
