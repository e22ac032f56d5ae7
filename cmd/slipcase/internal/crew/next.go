package crew

import (
	"slices"
	"time"

	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// Next is the run to come of a vehicle, and what a forecast of it goes by.
type Next struct {
	Run     Run            // with the setup in force and the air then
	History []predict.Pass // the runs made so far

	car *car // whose run it is
}

// NextAsk says which run is meant.
type NextAsk struct {
	Vehicle, Track string // ids; the track may be ""
	Lane           string // left, right or ""
	At             time.Time
	Air            *Estimate // as given; nil for what the log lets be known of it now
}

// Next is the run that a vehicle makes at a track and time.
func (s *Session) Next(ask NextAsk) (Next, error) {
	c, err := s.car(ask.Vehicle)
	if err != nil {
		return Next{}, err
	}
	next := Slip{Vehicle: ask.Vehicle, Track: ask.Track, Lane: ask.Lane, Time: logbook.Time{Time: ask.At}}
	for i := c.since(ask.At) - 1; i >= 0; i-- { // the throttle stop is as it was last set
		last := &c.runs[i].Slip
		if _, timed := c.passes[i].Splits.Finish(); timed || last.StopOnS.Known() || last.StopOffS.Known() {
			next.StopOnS, next.StopOffS = last.StopOnS, last.StopOffS
			break
		}
	}
	run := c.joiner.Run(next)
	n := Next{Run: run, History: slices.Clone(c.passes), car: c}
	n.Run.Missing, n.Run.Air = nil, Estimate{How: weather.How{Kind: weather.NoTrack}}
	switch {
	case ask.Air != nil:
		n.Run.Air = *ask.Air
	case ask.Track != "":
		n.Run.Air = c.joiner.AirAhead(ask.Track, s.Now(), ask.At)
	}
	return n, nil
}

// Pass is the run as the predictor takes it: behind those made in the same second, which it
// is asked about as soon as they are recorded.
func (n *Next) Pass() predict.Pass {
	p := PassOf(n.Run)
	if slices.ContainsFunc(n.History, func(h predict.Pass) bool { return h.Time.Equal(p.Time) }) {
		p.Time = p.Time.Add(time.Nanosecond)
	}
	return p
}

// Expect forecasts it.
func (n *Next) Expect() (Forecast, error) {
	f, err := n.car.expect(n.History, n.Pass())
	return *f, err
}

// Forecasted is a run to come with its forecast.
type Forecasted struct {
	Next
	Forecast Forecast
	Far      Mark       // the longest distance that it may be timed at
	Cost     ThousandFt // what the air costs it
	Cautions []Caution  // of the times and speeds that may be run
	Why      *Why       // what it is made of, where that is asked
}

// Forecast forecasts it, and says what its quick end calls for.
func (n *Next) Forecast() (Forecasted, error) {
	f, err := n.Expect()
	if err != nil {
		return Forecasted{}, err
	}
	cost, err := f.ThousandFt()
	if err != nil {
		return Forecasted{}, err
	}
	far := Farthest(n.Run.Track, &f)
	cautions := predict.Cautions(MachineOf(n.Run.Vehicle, n.Run.Setup), UpTo(f.Quick(), far))
	return Forecasted{Next: *n, Forecast: f, Far: far, Cost: cost, Cautions: cautions}, nil
}

// AskWhy takes the forecast apart.
func (x *Forecasted) AskWhy() error {
	why, err := x.Forecast.Why()
	x.Why = &why
	return err
}

// Farthest is the longest distance timed at a track, else the one usually raced.
func Farthest(track Track, f *Forecast) Mark {
	far := f.Finish
	if len(track.LengthsFt) == 0 {
		return far
	}
	longest := slices.Max(track.LengthsFt)
	for m := range Marks {
		if m.Ft() <= longest {
			far = m
		}
	}
	return far
}

// UpTo leaves out the marks beyond one.
func UpTo(s Splits, far Mark) Splits {
	for m := far + 1; m < Marks; m++ {
		s.ETs[m], s.MPHs[m] = units.Number{}, units.Number{}
	}
	return s
}
