package main

import (
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// A slip is looked at before it is recorded: alone (logbook), against the forecast
// and its own figures against each other (predict), and its round against itself.

// doubt is one thing that looks wrong on a slip.
type doubt struct {
	text     string
	readings []meant // what may have been meant, the likeliest first; may be empty
	lift     bool    // a lift would explain it too
}

// meant is a way the slip may have been meant.
type meant struct {
	says string // "1320 ft 13.212 was meant"
	take func(*slip)
}

// textsOf joins what looks wrong.
func textsOf(ds []doubt) []string {
	var texts []string
	for _, d := range ds {
		texts = append(texts, d.text)
	}
	return texts
}

// plain are doubts that tell no other reading.
func plain(texts ...string) (ds []doubt) {
	for _, t := range texts {
		if t != "" {
			ds = append(ds, doubt{text: t})
		}
	}
	return ds
}

// look says what looks wrong; beside are slips that are to be recorded together with
// it. A slip that cannot be comes back as an error, with what was likely meant where
// that can be told.
func (a *app) look(lb *crew.Session, s *slip, beside ...*slip) ([]doubt, error) {
	impossible := resolveSlip(lb, s)
	if impossible != nil && statusOf(impossible) != exitUsage {
		return nil, impossible
	}
	p, err := held(lb, *s)
	if err != nil {
		return nil, err
	}
	if impossible != nil {
		ds := weigh(*s, p.history, p.run, a.now(), a.units)
		if len(ds) > 0 && len(ds[0].readings) > 0 {
			impossible = usagef("%w; likely %s", impossible, ds[0].readings[0].says)
		}
		return ds, impossible
	}
	perfect := trackOf(lb, *s).PerfectReactionS.Or(0)
	return append(p.doubts(*s, perfect, a.now(), beside, a.units), plain(roundDoubt(lb, *s))...), nil
}

// doubts are those that the vehicle's other slips and its forecast tell of.
func (h heldRun) doubts(s slip, perfectS float64, now time.Time, beside []*slip, sys units.System) []doubt {
	return slices.Concat(weigh(s, h.history, h.run, now, sys), reactionDoubts(perfectS, s, h.slips),
		dialDoubt(h.history, h.run, s.DialS), otherLaneDoubt(s), plain(twiceDoubt(s, h.slips, beside)))
}

// weigh doubts the times of a slip. Where there is nothing to hold them against, the
// slip alone must do.
func weigh(s slip, history []predict.Pass, run predict.Pass, now time.Time, sys units.System) []doubt {
	q, ask, err := predict.Proofread(history, run)
	switch {
	case err != nil:
		return plain(s.Doubts(now)...)
	case ask:
		d := doubt{text: page.Question(q, sys), lift: q.Lift}
		for _, r := range q.Readings {
			d.readings = append(d.readings, meant{page.Meant(r, sys), func(s *slip) { setSplits(s, r.Splits) }})
		}
		return append([]doubt{d}, plain(s.FarOff(now)...)...)
	}
	return plain(append(s.FarOff(now), s.TimesTooLong()...)...)
}

// heldRun is a slip as the predictor takes it, with what the vehicle did before.
type heldRun struct {
	slips   []slip // all others of the vehicle
	history []predict.Pass
	run     predict.Pass
}

func held(lb *crew.Session, s slip) (h heldRun, err error) {
	joiner, err := lb.Joiner(s.Vehicle)
	if err != nil {
		return h, err
	}
	slips, err := lb.Slips(s.Vehicle)
	if err != nil {
		return h, err
	}
	for _, other := range slips {
		if other.ID == s.ID {
			continue
		}
		h.slips = append(h.slips, other)
		if other.Time.Before(s.Time.Time) {
			h.history = append(h.history, crew.PassOf(joiner.Run(other)))
		}
	}
	h.run = crew.PassOf(joiner.Run(s))
	return h, nil
}

// decides reports that both lanes are told so far that who won follows from them: all
// figures, or that one of two lights was red. This lane may have broken before the end;
// the other's time left out may be only not written down.
func decides(t logbook.Track, lanes [2]predict.LaneRun) bool {
	whole, reds := lanes[1].ETS.Known(), 0
	for _, l := range lanes {
		if !l.ReactionS.Known() {
			return false
		}
		if t.Red(l.ReactionS.Value()) {
			reds++
		}
		whole = whole && l.DialS.Known()
	}
	return whole || reds == 1
}

// roundDoubt finds a result that the reactions, times and dials of both lanes speak
// against: a red light typed without its sign, a dial of another round.
func roundDoubt(lb *crew.Session, s slip) string {
	t := trackOf(lb, s)
	lanes := lanesOf(s, t)
	if _, timed := s.Finish(); s.Result == "" || !timed || !decides(t, lanes) {
		return ""
	}
	rules := predict.RoundRules{PerfectS: t.PerfectReactionS.Or(0), WorstRed: t.BothRed == "worst"}
	res := predict.Adjudicate(rules, lanes, false)
	if word := resultWord(res.Winner); word != "" && word != s.Result {
		return fmt.Sprintf("%s, but by its figures %s: %s", s.Result, word, page.Decision(res.Why))
	}
	return ""
}

// dialDoubt finds a dial that the car cannot mean.
func dialDoubt(history []predict.Pass, run predict.Pass, dial units.Number) []doubt {
	if !dial.Known() || len(history) < 3 {
		return nil
	}
	f, err := predict.Expect(history, run)
	if err != nil {
		return nil
	}
	q, ask := predict.ProofreadDial(f, run, dial)
	if !ask {
		return nil
	}
	d := doubt{text: fmt.Sprintf("dial %s is %.2f s from the forecast %.2f", hundredths(dial), math.Abs(dial.Value()-q.Forecast.Centre), q.Forecast.Centre)}
	for _, v := range q.Readings {
		d.readings = append(d.readings, meant{fmt.Sprintf("dial %.2f was meant", v), func(s *slip) { s.DialS = units.Some(v) }})
	}
	return []doubt{d}
}

// otherLaneDoubt finds a time of the other lane that its dial speaks against.
func otherLaneDoubt(s slip) []doubt {
	q, ask := predict.ProofreadOtherLane(s.OpponentETS, s.OpponentDialS)
	if !ask {
		return nil
	}
	d := doubt{text: fmt.Sprintf("the other lane's %s is %.2f s under its dial %s", seconds(s.OpponentETS), q.UnderS, hundredths(s.OpponentDialS))}
	for _, v := range q.ETs {
		d.readings = append(d.readings, meant{fmt.Sprintf("the other lane's ET %.3f was meant", v), func(s *slip) { s.OpponentETS = units.Some(v) }})
	}
	for _, v := range q.Dials {
		d.readings = append(d.readings, meant{fmt.Sprintf("the other lane's dial %.2f was meant", v), func(s *slip) { s.OpponentDialS = units.Some(v) }})
	}
	return []doubt{d}
}

// checkSlip refuses an impossible slip, one that names what is not there, and a
// doubtful one unless forced.
func (a *app) checkSlip(c *cobra.Command, lb *crew.Session, s *slip, beside ...*slip) error {
	ds, err := a.look(lb, s, beside...)
	if err != nil {
		return err
	}
	for i, d := range ds {
		if len(d.readings) > 0 {
			ds[i].text += "; likely " + d.readings[0].says
		}
	}
	return forced(c, &s.Entry, textsOf(ds))
}
