package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

// What can be spared of a verdict, by the height of the window: the formulas before
// the remarks, the remarks before what the slip itself shows. The answer, the table,
// where the run was won or lost, the next dial and a caution always stay.
const (
	spareSlip   = 1 + iota // read off the slip anyway
	spareAir               // at the slip
	spareForced            // why it was questioned
	spareRemark
	spareBasis
	sparePower
	spareAlone
)

// verdict gathers what a run was worth: the answer first, then the reason, all on
// one screen of the pits.
func (a *app) verdict(s *page.Screen, j judged) {
	if mark, timed := j.pass.Splits.Finish(); timed {
		a.say(s.Spare(0), a.runText(j.pass.Splits, mark), a.answerText(j))
		if j.inAir {
			a.say(s.Spare(0), "in standard air", a.runText(inStandardAir(j.corrected), mark))
		}
	}
	a.say(s.Spare(spareAir), "air", page.Air(j.run.Air, a.units))
	if r := j.run.Slip.ReactionS; r.Known() {
		if j.run.Track.Red(r.Value()) {
			a.say(s.Spare(0), "reaction", fmt.Sprintf("%.3f, %s", r.Value(), j.redText()))
		} else {
			a.say(s.Spare(spareSlip), "reaction", fmt.Sprintf("%.3f", r.Value()))
		}
	}
	a.splitTable(s.Spare(0), j)
	if j.unjudged == "" {
		// Before the first run of its own nothing says where a car loses its time.
		if j.judgement.Forecast.RunsUsed > 0 {
			for _, p := range j.judgement.Pieces {
				a.say(s.Spare(0), page.PieceName(p), page.Piece(p))
			}
		}
		a.nextText(s.Spare(0), j)
		a.say(s.Spare(spareBasis), "forecast from", page.Basis(j.judgement.Forecast.Basis))
	}
	if says, ok := a.power(j); ok {
		a.say(s.Spare(sparePower), "power at clutch", says)
	}
	if j.run.Slip.Forced != "" {
		a.say(s.Spare(spareForced), "note", recordedAlthough+j.run.Slip.Forced)
	}
	for _, r := range a.remarks(j) {
		a.say(s.Spare(spareRemark), "note", r)
	}
	if len(j.cautions) > 0 {
		p := s.Spare(0)
		a.say(p, "caution", strings.Join(page.Cautions(j.cautions, a.units), "; "))
		var short strings.Builder
		a.say(&short, "caution", page.ShortCautions(j.cautions))
		p.Short = short.String()
	}
}

const recordedAlthough = "recorded although "

// tellingRuns are so many that what was assumed about the setup no longer matters
// in the pits; the forecast command goes on saying it.
const tellingRuns = 5

// nextText says what the next run here should be, and the dial for the usual risk.
func (a *app) nextText(w io.Writer, j judged) {
	if j.next == nil {
		return
	}
	far := farthest(j.run.Track, *j.next)
	b := j.next.ETs[far]
	a.say(w, "next here, now", fmt.Sprintf("%.2f (%.2f to %.2f, 8 runs in 10)", b.Centre, b.Low80, b.High80))
	if dial, err := j.next.DialFor(far, predict.UsualRisk); err == nil {
		a.say(w, fmt.Sprintf("dial %.2f", dial), fmt.Sprintf("breaks out %.0f times in 100; other dials: slipcase dial", 100*j.next.BreakoutChance(far, dial)))
	}
}

// answerText says how the run compares with its forecast.
func (a *app) answerText(j judged) string {
	if j.unjudged != "" {
		return j.unjudged
	}
	text := page.Judgement(j.judgement)
	switch full, why := j.fullPull(); {
	case j.run.Slip.FullPower != "" && j.run.Slip.FullPower != string(predict.FullPower):
		text += "; noted as " + j.run.Slip.FullPower
	case !full:
		text += "; " + page.ShortPull(why, a.units)
	}
	return text
}

// fullPull reports whether an unmarked run seems to have been at full power.
func (j judged) fullPull() (full bool, why predict.ShortPull) {
	return predict.FullPull(j.pass.Splits, j.usualPulls)
}

// splitTable sets the figures of the slip beside their forecasts.
func (a *app) splitTable(w io.Writer, j judged) {
	t := table.Table{Columns: []table.Column{
		{Head: "ft", Right: true},
		{Head: "this run", Right: true},
		{Head: "forecast", Right: true},
		{Head: "diff", Right: true},
		{Head: units.Speed.Symbol(a.units), Right: true},
		{Head: "diff", Right: true},
	}}
	var expected predict.Splits
	if j.unjudged == "" {
		expected = j.judgement.Forecast.Centre()
	}
	for m := range predict.Marks {
		et, x := j.pass.Splits.ETs[m], expected.ETs[m]
		if !et.Known() {
			continue
		}
		mph, mphX := j.pass.Splits.MPHs[m], expected.MPHs[m]
		row := []string{fmt.Sprintf("%g", m.Ft()), seconds(et), seconds(x), "", a.speed(mph), ""}
		if x.Known() {
			row[3] = signed(et.Value() - x.Value())
		}
		if mph.Known() && mphX.Known() {
			row[5] = fmt.Sprintf("%+.2f", units.Speed.In(a.units, mph.Value()-mphX.Value()))
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) > 0 {
		fmt.Fprintln(w)
		t.Render(w, table.Text, 0)
		fmt.Fprintln(w)
	}
}

// power is what a run at full power implies the engine made in its air.
func (a *app) power(j judged) (string, bool) {
	if full, _ := j.fullPull(); !full || !predict.FullEffort(j.pass.Effort) {
		return "", false // power that was not used cannot be read from the run
	}
	for m := predict.At1320; m >= predict.At660; m-- {
		et, mph := j.pass.Splits.ETs[m], j.pass.Splits.MPHs[m]
		if !et.Known() || !mph.Known() || !j.pass.Machine.WeightLb.Known() {
			continue
		}
		implied, err := predict.ImpliedPower(predict.Fox, m, j.pass.Machine.WeightLb.Value(), et.Value(), mph.Value())
		if err != nil {
			return "", false
		}
		return fmt.Sprintf("by ET %s, by speed %s: %s", a.show(units.Power, units.Some(implied.ByET)),
			a.show(units.Power, units.Some(implied.ByMPH)), page.Gap(implied.Gap(j.usualPulls[m]))), true
	}
	return "", false
}

// modelText says what this slip alone tells of the car's power and launch.
func (a *app) modelText(w io.Writer, p predict.Pass) {
	c, ok := p.Calibrate()
	if !ok || !p.Machine.WeightLb.Known() {
		return
	}
	m := c.Model
	a.say(w, "this slip alone", fmt.Sprintf("%s effective at the wheels on the average of the run, give or take %s; a launch of %.2f g, give or take %.2f",
		a.show(units.Power, units.Some(m.PowerHP)), a.show(units.Power, units.Some(m.PowerHP*c.PowerDoubt)), m.GripG, m.GripG*c.GripDoubt))
}

// remarks are what a person should know beside the numbers.
func (a *app) remarks(j judged) []string {
	all := slices.Concat(j.run.Missing, page.AirNotes(j.run.Air.Notes, a.units))
	if j.unjudged != "" {
		return all
	}
	if j.judgement.Forecast.RunsUsed < tellingRuns {
		all = append(all, page.Notes(j.judgement.Forecast.Notes, a.units)...)
	}
	if n := len(j.judgement.Forecast.LeftOut); n > 0 {
		all = append(all, fmt.Sprintf("%d earlier %s in part or not at all: slipcase forecast --vehicle %s says why",
			n, plural(n, "run counts", "runs count"), j.run.Slip.Vehicle))
	}
	return all
}

// warnings are all that a person reads beside the numbers, for other forms.
func (a *app) warnings(j judged) (all []string) {
	if j.run.Slip.Forced != "" {
		all = append(all, recordedAlthough+j.run.Slip.Forced)
	}
	all = slices.Concat(all, a.remarks(j), page.Cautions(j.cautions, a.units))
	if full, why := j.fullPull(); !full {
		all = append(all, page.ShortPull(why, a.units))
	}
	if j.doubted() {
		all = append(all, "doubted, the forecast leaves it out: "+page.LeftOut(j.leftOut, a.units))
	}
	if r := j.run.Slip.ReactionS; r.Known() && j.run.Track.Red(r.Value()) {
		all = append(all, j.redText())
	}
	if !j.run.Air.Known {
		all = append(all, "air: "+page.AirHow(j.run.Air.How))
	}
	if j.unjudged != "" {
		all = append(all, j.unjudged)
	}
	return all
}

func (j judged) redText() string {
	return fmt.Sprintf("red: perfect is %.3f here", j.run.Track.PerfectReactionS.Or(0))
}
