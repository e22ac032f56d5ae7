package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

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
func (a *app) verdict(s *screen, j judged) {
	if mark, timed := j.pass.Splits.Finish(); timed {
		a.say(s.spare(0), a.runText(j.pass.Splits, mark), j.answer())
		if j.inAir {
			a.say(s.spare(0), "in standard air", a.runText(inStandardAir(j.corrected), mark))
		}
	}
	a.say(s.spare(spareAir), "air", a.airLine(j.run.Air))
	if r := j.run.Slip.ReactionS; r.Known() {
		if j.run.Track.Red(r.Value()) {
			a.say(s.spare(0), "reaction", fmt.Sprintf("%.3f, %s", r.Value(), j.redText()))
		} else {
			a.say(s.spare(spareSlip), "reaction", fmt.Sprintf("%.3f", r.Value()))
		}
	}
	a.splitTable(s.spare(0), j)
	if j.unjudged == "" {
		// Before the first run of its own nothing says where a car loses its time.
		if j.judgement.Forecast.RunsUsed > 0 {
			for _, p := range j.judgement.Pieces {
				a.say(s.spare(0), p.Name, pieceText(p))
			}
		}
		a.nextText(s.spare(0), j)
		a.say(s.spare(spareBasis), "forecast from", j.judgement.Forecast.Basis)
	}
	if says, ok := a.power(j); ok {
		a.say(s.spare(sparePower), "power at clutch", says)
	}
	for _, r := range j.remarks() {
		spare := spareRemark
		if strings.HasPrefix(r, recordedAlthough) {
			spare = spareForced
		}
		a.say(s.spare(spare), "note", r)
	}
	if len(j.cautions) > 0 {
		p := s.spare(0)
		a.say(p, "caution", strings.Join(j.cautions, "; "))
		var short strings.Builder
		a.say(&short, "caution", shortCautions(j.cautions))
		p.short = short.String()
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

// answer says in words how the run compares with its forecast.
func (j judged) answer() string {
	if j.unjudged != "" {
		return j.unjudged
	}
	text := j.judgement.Sentence
	switch why := j.notFull(); {
	case j.run.Slip.FullPower != "" && j.run.Slip.FullPower != string(predict.FullPower):
		text += "; noted as " + j.run.Slip.FullPower
	case why != "":
		text += "; " + why
	}
	return text
}

// notFull says why an unmarked run seems not to have been at full power.
func (j judged) notFull() string {
	_, why := predict.FullPull(j.pass.Splits, j.usualPulls)
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

// runText is a time and its speed as the trade writes them; a metric speed tells
// its unit.
func (a *app) runText(s predict.Splits, m predict.Mark) string {
	if mph := s.MPHs[m]; mph.Known() {
		unit := ""
		if a.units != units.US {
			unit = " " + units.Speed.Symbol(a.units)
		}
		return fmt.Sprintf("%.3f @ %s%s", s.ETs[m].Value(), a.speed(mph), unit)
	}
	return fmt.Sprintf("%.3f", s.ETs[m].Value())
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

// signed is a difference in thousandths; nothing is neither more nor less.
func signed(s float64) string {
	if math.Abs(s) < 0.0005 {
		return "0.000"
	}
	return fmt.Sprintf("%+.3f", s)
}

// power is what a run at full power implies the engine made in its air.
func (a *app) power(j judged) (string, bool) {
	if j.notFull() != "" || !predict.FullEffort(j.pass.Effort) {
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
			a.show(units.Power, units.Some(implied.ByMPH)), implied.Says(j.usualPulls[m])), true
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
	if j.run.Slip.Forced != "" {
		all = append(all, recordedAlthough+j.run.Slip.Forced)
	}
	all = append(all, missing(j.run, "air")...)
	all = append(all, j.run.Air.Remarks...)
	if j.unjudged != "" {
		return all
	}
	if j.judgement.Forecast.RunsUsed < tellingRuns {
		all = append(all, j.judgement.Forecast.Warnings...)
	}
	if n := len(j.judgement.Forecast.LeftOut); n > 0 {
		all = append(all, fmt.Sprintf("%d earlier %s in part or not at all: slipcase forecast --vehicle %s says why",
			n, plural(n, "run counts", "runs count"), j.run.Slip.Vehicle))
	}
	return all
}

// warnings are all that a person reads beside the numbers, for other forms.
func (j judged) warnings() []string {
	all := slices.Concat(j.remarks(), j.cautions)
	if why := j.notFull(); why != "" {
		all = append(all, why)
	}
	if j.doubted() {
		all = append(all, "doubted, the forecast leaves it out: "+j.leftOut)
	}
	if r := j.run.Slip.ReactionS; r.Known() && j.run.Track.Red(r.Value()) {
		all = append(all, j.redText())
	}
	if !j.run.Air.Known {
		all = append(all, "air: "+j.run.Air.How)
	}
	if j.unjudged != "" {
		all = append(all, j.unjudged)
	}
	return all
}

func (j judged) redText() string {
	return fmt.Sprintf("red: perfect is %.3f here", j.run.Track.PerfectReactionS.Or(0))
}

// say writes a label and its text, wrapped behind it; in a narrow window under it.
func (a *app) say(w io.Writer, label, words string) {
	const narrow = 60
	indent, beside, room := 19, 17, 80
	if width := a.width(); width > 0 && width < room {
		room = width
		if width < narrow {
			indent, beside = 4, 7
		}
	}
	head := fmt.Sprintf("%-*s  ", beside, label)
	lines := hanging(table.Clean(words), max(20, room-utf8.RuneCountInString(head)), max(20, room-indent))
	fmt.Fprintf(w, "%s%s\n", head, lines[0])
	for _, l := range lines[1:] {
		fmt.Fprintf(w, "%*s%s\n", indent, "", l)
	}
}

// hanging breaks words into a line of at most first columns and further ones of rest.
func hanging(words string, first, rest int) []string {
	if utf8.RuneCountInString(words) <= first {
		return []string{words}
	}
	lines, room := []string{""}, first
	for _, word := range strings.Fields(words) {
		last := len(lines) - 1
		switch {
		case lines[last] == "":
			lines[last] = word
		case utf8.RuneCountInString(lines[last])+1+utf8.RuneCountInString(word) <= room:
			lines[last] += " " + word
		default:
			lines, room = append(lines, word), rest
		}
	}
	return lines
}
