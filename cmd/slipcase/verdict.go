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
	if mark, timed := j.Pass.Splits.Finish(); timed {
		a.say(s.Spare(0), a.runText(j.Pass.Splits, mark), j.answer())
		if j.InAir {
			a.say(s.Spare(0), "in standard air", a.runText(j.Standard, mark))
		}
	}
	a.say(s.Spare(spareAir), "air", a.airLine(j.Run.Air))
	if r := j.Run.Slip.ReactionS; r.Known() {
		if j.Run.Track.Red(r.Value()) {
			a.say(s.Spare(0), "reaction", fmt.Sprintf("%.3f, %s", r.Value(), j.redText()))
		} else {
			a.say(s.Spare(spareSlip), "reaction", fmt.Sprintf("%.3f", r.Value()))
		}
	}
	a.splitTable(s.Spare(0), j)
	if j.Unjudged == nil {
		// Before the first run of its own nothing says where a car loses its time.
		if j.Judgement.Forecast.RunsUsed > 0 {
			for _, p := range j.Judgement.Pieces {
				a.say(s.Spare(0), p.Name, pieceText(p))
			}
		}
		a.nextText(s.Spare(0), j)
		a.say(s.Spare(spareBasis), "forecast from", j.Judgement.Forecast.Basis)
	}
	if says, ok := a.power(j); ok {
		a.say(s.Spare(sparePower), "power at clutch", says)
	}
	for _, r := range j.remarks() {
		spare := spareRemark
		if strings.HasPrefix(r, recordedAlthough) {
			spare = spareForced
		}
		a.say(s.Spare(spare), "note", r)
	}
	if len(j.Cautions) > 0 {
		p := s.Spare(0)
		a.say(p, "caution", strings.Join(j.Cautions, "; "))
		var short strings.Builder
		a.say(&short, "caution", shortCautions(j.Cautions))
		p.Short = short.String()
	}
}

// shortCautions are the cautions without their thresholds.
func shortCautions(cautions []string) string {
	var items []string
	for _, c := range cautions {
		if item, _, ok := strings.Cut(c, " is usual "); ok {
			items = append(items, item)
		}
	}
	return strings.Join(append(items, "the rulebook in force decides"), "; ")
}

const recordedAlthough = "recorded although "

// tellingRuns are so many that what was assumed about the setup no longer matters
// in the pits; the forecast command goes on saying it.
const tellingRuns = 5

// nextText says what the next run here should be, and the dial for the usual risk.
func (a *app) nextText(w io.Writer, j judged) {
	if j.Next == nil {
		return
	}
	far := farthest(j.Run.Track, *j.Next)
	b := j.Next.ETs[far]
	a.say(w, "next here, now", fmt.Sprintf("%.2f (%.2f to %.2f, 8 runs in 10)", b.Centre, b.Low80, b.High80))
	if dial, err := j.Next.DialFor(far, predict.UsualRisk); err == nil {
		a.say(w, fmt.Sprintf("dial %.2f", dial), fmt.Sprintf("breaks out %.0f times in 100; other dials: slipcase dial", 100*j.Next.BreakoutChance(far, dial)))
	}
}

// answer says in words how the run compares with its forecast.
func (j judged) answer() string {
	if j.Unjudged != nil {
		return j.Unjudged.Error()
	}
	text := j.Judgement.Sentence
	switch why := j.notFull(); {
	case j.Run.Slip.FullPower != "" && j.Run.Slip.FullPower != string(predict.FullPower):
		text += "; noted as " + j.Run.Slip.FullPower
	case why != "":
		text += "; " + why
	}
	return text
}

// notFull says why an unmarked run seems not to have been at full power.
func (j judged) notFull() string {
	_, why := predict.FullPull(j.Pass.Splits, j.UsualPulls)
	return why
}

// pieceText says what a part of the track won or lost.
func pieceText(p predict.Piece) string {
	side := "lost"
	seconds := p.Seconds
	if seconds < 0 {
		side, seconds = "won", -seconds
	}
	said := fmt.Sprintf("%.3f s %s", seconds, side)
	if seconds < 0.0005 {
		said = "even"
	}
	switch {
	case p.Word != "~":
		return said + ", " + p.Word + " beyond luck"
	case p.MoreRuns > 0:
		return said + fmt.Sprintf("  ~ %d more like it would tell", p.MoreRuns)
	}
	return said + "  ~ too small to call"
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
	if j.Unjudged == nil {
		expected = j.Judgement.Forecast.Centre()
	}
	for m := range predict.Marks {
		et, x := j.Pass.Splits.ETs[m], expected.ETs[m]
		if !et.Known() {
			continue
		}
		mph, mphX := j.Pass.Splits.MPHs[m], expected.MPHs[m]
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
	if j.notFull() != "" || !predict.FullEffort(j.Pass.Effort) {
		return "", false // power that was not used cannot be read from the run
	}
	for m := predict.At1320; m >= predict.At660; m-- {
		et, mph := j.Pass.Splits.ETs[m], j.Pass.Splits.MPHs[m]
		if !et.Known() || !mph.Known() || !j.Pass.Machine.WeightLb.Known() {
			continue
		}
		implied, err := predict.ImpliedPower(predict.Fox, m, j.Pass.Machine.WeightLb.Value(), et.Value(), mph.Value())
		if err != nil {
			return "", false
		}
		return fmt.Sprintf("by ET %s, by speed %s: %s", a.show(units.Power, units.Some(implied.ByET)),
			a.show(units.Power, units.Some(implied.ByMPH)), implied.Says(j.UsualPulls[m])), true
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
func (j judged) remarks() []string {
	var all []string
	if j.Run.Slip.Forced != "" {
		all = append(all, recordedAlthough+j.Run.Slip.Forced)
	}
	for _, m := range j.Run.Missing {
		if !strings.HasPrefix(m, "air:") {
			all = append(all, m)
		}
	}
	all = append(all, j.Run.Air.Remarks...)
	if j.Unjudged != nil {
		return all
	}
	if j.Judgement.Forecast.RunsUsed < tellingRuns {
		all = append(all, j.Judgement.Forecast.Warnings...)
	}
	if n := len(j.Judgement.Forecast.LeftOut); n > 0 {
		all = append(all, fmt.Sprintf("%d earlier %s in part or not at all: slipcase forecast --vehicle %s says why",
			n, plural(n, "run counts", "runs count"), j.Run.Slip.Vehicle))
	}
	return all
}

// warnings are all that a person reads beside the numbers, for other forms.
func (j judged) warnings() []string {
	all := slices.Concat(j.remarks(), j.Cautions)
	if why := j.notFull(); why != "" {
		all = append(all, why)
	}
	if j.Doubted() {
		all = append(all, "doubted, the forecast leaves it out: "+j.LeftOut)
	}
	if r := j.Run.Slip.ReactionS; r.Known() && j.Run.Track.Red(r.Value()) {
		all = append(all, j.redText())
	}
	if !j.Run.Air.Known {
		all = append(all, "air: "+j.Run.Air.How)
	}
	if j.Unjudged != nil {
		all = append(all, j.Unjudged.Error())
	}
	return all
}

func (j judged) redText() string {
	return fmt.Sprintf("red: perfect is %.3f here", j.Run.Track.PerfectReactionS.Or(0))
}
