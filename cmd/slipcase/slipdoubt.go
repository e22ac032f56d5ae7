package main

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// A slip is looked at before it is recorded: alone (logbook), against the forecast
// and its own figures against each other (predict), and its round against itself.

// doubts is what looks wrong on a slip.
type doubts struct {
	texts    []string
	question predict.Question // of the times, when asked
	asked    bool
}

// look says what looks wrong. A slip that cannot be comes back as an error, with
// what was likely meant where that can be told.
func (a *app) look(lb *logbook.Logbook, s *slip) (doubts, error) {
	impossible := resolveSlip(lb, s)
	if impossible != nil && statusOf(impossible) != exitUsage {
		return doubts{}, impossible
	}
	history, run, err := held(lb, *s)
	if err != nil {
		return doubts{}, err
	}
	d := weigh(*s, history, run, a.now())
	if impossible != nil {
		if d.asked && len(d.question.Readings) > 0 {
			impossible = usagef("%w; likely %s", impossible, d.question.Readings[0].Says)
		}
		return d, impossible
	}
	for _, t := range []string{roundDoubt(lb, *s), dialDoubt(history, run, s.DialS)} {
		if t != "" {
			d.texts = append(d.texts, t)
		}
	}
	return d, nil
}

// weigh doubts the times of a slip. Where there is nothing to hold them against, the
// slip alone must do.
func weigh(s slip, history []predict.Pass, run predict.Pass, now time.Time) (d doubts) {
	var err error
	switch d.question, d.asked, err = predict.Proofread(history, run); {
	case err != nil:
		d.asked = false
		d.texts = s.Doubts(now)
	case d.asked:
		d.texts = append([]string{d.question.What}, s.FarOff(now)...)
	default:
		d.texts = append(s.FarOff(now), s.TimesTooLong()...)
	}
	return d
}

// held is a slip as the predictor takes it, with the runs before it.
func held(lb *logbook.Logbook, s slip) (history []predict.Pass, run predict.Pass, err error) {
	joiner, err := lb.Joiner(s.Vehicle)
	if err != nil {
		return nil, run, err
	}
	slips, err := lb.Slips(s.Vehicle)
	if err != nil {
		return nil, run, err
	}
	for _, other := range slips {
		if other.ID != s.ID && other.Time.Before(s.Time.Time) {
			history = append(history, passOf(joiner.Run(other)))
		}
	}
	return history, passOf(joiner.Run(s)), nil
}

// roundDoubt finds a result that the reactions, times and dials of both lanes speak
// against: a red light typed without its sign, a dial of another round.
func roundDoubt(lb *logbook.Logbook, s slip) string {
	if s.Result == "" || !s.OpponentReactionS.Known() || !s.OpponentETS.Known() {
		return ""
	}
	var rules predict.RoundRules
	if t, err := lb.Track(s.Track); err == nil && s.Track != "" {
		rules.PerfectS, rules.WorstRed = t.PerfectReactionS.Or(0), t.BothRed == "worst"
	}
	res := predict.Adjudicate(rules, lanesOf(s, trackOf(lb, s)), false)
	if word := resultWord(res.Winner); word != "" && word != s.Result {
		return fmt.Sprintf("%s, but by its figures %s: %s", s.Result, word, res.Why)
	}
	return ""
}

// dialDoubt finds a dial that the car cannot mean: further from its forecast than
// anyone dials (common practice, no source).
func dialDoubt(history []predict.Pass, run predict.Pass, dial units.Number) string {
	const share = 0.06
	if !dial.Known() || len(history) < 3 {
		return ""
	}
	f, err := predict.Expect(history, run)
	if err != nil {
		return ""
	}
	m := predict.RacedTo(run.Splits, run.Lengths, dial, predict.LaneRun{})
	if _, timed := run.Splits.Finish(); !timed {
		m = min(m, f.Finish)
	}
	band := f.ETs[m]
	if far := math.Abs(math.Log(dial.Value() / band.Centre)); far > share && (dial.Value() < band.Low95 || dial.Value() > band.High95) {
		return fmt.Sprintf("dial %s is %.2f s from the forecast %.2f", hundredths(dial), math.Abs(dial.Value()-band.Centre), band.Centre)
	}
	return ""
}

// checkSlip refuses an impossible slip, one that names what is not there, and a
// doubtful one unless forced.
func (a *app) checkSlip(c *cobra.Command, lb *logbook.Logbook, s *slip) error {
	d, err := a.look(lb, s)
	if err != nil {
		return err
	}
	if d.asked && len(d.question.Readings) > 0 {
		d.texts[0] += "; likely " + d.question.Readings[0].Says
	}
	return forced(c, &s.Entry, d.texts)
}

// errEdit sends the racer back to the review.
var errEdit = errors.New("change what is wrong")

// isRetry reports an error that the racer can mend at the review.
func isRetry(err error) bool {
	return errors.Is(err, errEdit) || statusOf(err) == exitUsage && !errors.Is(err, errInputEnded)
}

// settle checks the whole slip and asks where it looks wrong, until it does not.
func (f *form) settle() error {
	for {
		d, err := f.a.look(f.lb, &f.slip)
		if err != nil {
			return err
		}
		f.slip.Forced = ""
		if len(d.texts) == 0 {
			return nil
		}
		force, _ := f.c.Flags().GetBool("force")
		if force {
			f.slip.Forced = strings.Join(d.texts, "; ")
			return nil
		}
		done, err := f.askDoubt(d)
		if done || err != nil {
			return err
		}
	}
}

// askDoubt shows what looks wrong and takes one key; done says that the slip is to
// be recorded as it now stands.
func (f *form) askDoubt(d doubts) (done bool, err error) {
	t := f.a.terminal
	for _, line := range wrapped("not recorded: "+strings.Join(d.texts, "; "), f.a.room()) {
		fmt.Fprintln(t, table.Clean(line))
	}
	keys, prompt := "ke", []string{"[k] keep as typed", "[e] edit"}
	if d.asked && d.question.Lift {
		keys, prompt = keys+"l", append([]string{"[l] lifted"}, prompt...)
	}
	if d.asked && len(d.question.Readings) > 0 {
		keys, prompt = keys+"\n", append([]string{"[Enter] " + d.question.Readings[0].Says}, prompt...)
	}
	for _, choice := range prompt[:len(prompt)-1] {
		fmt.Fprintf(t, "  %s\n", choice)
	}
	key, err := f.a.key("  "+prompt[len(prompt)-1], keys)
	if err != nil {
		return false, err
	}
	switch key {
	case '\n':
		f.setSplits(d.question.Readings[0].Splits)
		f.retell()
	case 'l':
		f.slip.FullPower = string(predict.Lifted)
		f.slip.Forced = strings.Join(d.texts[1:], "; ") // the lift answers the first
		return true, nil
	case 'e':
		return false, errEdit
	case 'k':
		f.slip.Forced = strings.Join(d.texts, "; ")
		return true, nil
	}
	f.saveDraft()
	return false, nil
}

// setSplits puts the reading that was taken into the slip.
func (f *form) setSplits(s predict.Splits) {
	cells, first := timeCells(&f.slip)
	for i, at := range first[1:] {
		m := predict.Mark(i)
		*cells[at] = s.ETs[m]
		if m >= predict.At660 {
			*cells[at+1] = s.MPHs[m]
		}
	}
}
