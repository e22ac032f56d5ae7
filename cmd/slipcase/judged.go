package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// judged is a run held against what was expected of it from the runs before.
type judged struct {
	run       logbook.Run
	pass      predict.Pass
	standard  units.Number // how the density altitude stood; absent without air
	corrected predict.Splits
	inAir     bool // corrected holds: the air was known
	expected  expectation
	basisless string // why there is no expectation
	usual     [predict.Marks]units.Number
}

func judge(run logbook.Run, history []predict.Pass) judged {
	j := judged{run: run, pass: passOf(run), usual: predict.UsualPulls(history)}
	if run.Air.Known {
		j.standard = units.Some(run.Air.Air.DensityAltitudeFt())
	}
	j.corrected, j.inAir = predict.Correct(j.pass)
	var err error
	if j.expected, err = expect(history, j.pass); err != nil {
		j.basisless = err.Error()
	}
	return j
}

// judgeSlip judges one slip among its vehicle's runs.
func judgeSlip(lb *logbook.Logbook, s slip) (judged, error) {
	joiner, err := lb.Joiner(s.Vehicle)
	if err != nil {
		return judged{}, err
	}
	slips, err := lb.Slips(s.Vehicle)
	if err != nil {
		return judged{}, err
	}
	var history []predict.Pass
	for _, other := range slips {
		if other.ID != s.ID && other.Time.Before(s.Time.Time) {
			history = append(history, passOf(joiner.Run(other)))
		}
	}
	return judge(joiner.Run(s), history), nil
}

// judgeLast judges the last n runs, each from those of its vehicle before it.
func judgeLast(runs []logbook.Run, n int) []judged {
	before := map[string][]predict.Pass{}
	js := []judged{}
	for i, r := range runs {
		if i >= len(runs)-n {
			js = append(js, judge(r, before[r.Slip.Vehicle]))
		}
		before[r.Slip.Vehicle] = append(before[r.Slip.Vehicle], passOf(r))
	}
	return js
}

func (j judged) headline() string {
	s := j.run.Slip
	parts := []string{s.Vehicle}
	if j.run.Vehicle.ID != "" {
		parts[0] = j.run.Vehicle.Name()
	}
	if s.Track != "" {
		parts[0] += " at " + s.Track
		if j.run.Track.Title != "" {
			parts[0] = j.run.Vehicle.Name() + " at " + j.run.Track.Title
		}
	}
	for _, p := range []string{s.Round, s.Lane} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	head := strings.Join(append(parts, when(s.Time.Time)), ", ")
	if s.Status == logbook.Void {
		head += " (void)"
	}
	return table.Clean(head)
}

// verdict writes what a run was worth: the answer first, then the reason.
func (a *app) verdict(w io.Writer, j judged) {
	s := j.run.Slip
	mark, timed := j.pass.Splits.Finish()
	if timed {
		a.say(w, a.runText(j.pass.Splits, mark), j.against(mark))
		if j.inAir {
			a.say(w, "in standard air", a.runText(j.corrected, mark))
		}
	}
	a.say(w, "air", a.airLine(j))
	if r := s.ReactionS; r.Known() {
		a.say(w, "reaction", fmt.Sprintf("%.3f%s", r.Value(), redText(j.run)))
	}
	a.splitTable(w, j)
	if j.basisless != "" {
		a.say(w, "forecast", "none: "+j.basisless)
	} else {
		a.say(w, "forecast", j.expected.Basis)
	}
	if says, ok := a.power(j); ok {
		a.say(w, "power at clutch", says)
	}
	for _, r := range j.remarks() {
		a.say(w, "note", r)
	}
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

// against says in words how the finish compares with its forecast.
func (j judged) against(m predict.Mark) string {
	at := ""
	if m != predict.At1320 {
		at = fmt.Sprintf(" at %g ft", m.Ft())
	}
	x := j.expected.Splits.ETs[m]
	if !x.Known() {
		return "nothing to compare it with yet" + at
	}
	diff := j.pass.Splits.ETs[m].Value() - x.Value()
	text := fmt.Sprintf("%.3f s slower than forecast%s", diff, at)
	if diff < 0 {
		text = fmt.Sprintf("%.3f s quicker than forecast%s", -diff, at)
	}
	if full, why := predict.FullPull(j.pass.Splits, j.usual); !full && j.run.Slip.FullPower == "" {
		text += "; " + why
	}
	if p := j.run.Slip.FullPower; p != "" && p != "yes" {
		text += "; noted as " + p
	}
	return text
}

func redText(r logbook.Run) string {
	perfect := r.Track.PerfectReactionS.Or(0)
	if r.Track.Red(r.Slip.ReactionS.Value()) {
		return fmt.Sprintf(", red: perfect is %.3f here", perfect)
	}
	return ""
}

func (a *app) airLine(j judged) string {
	if !j.run.Air.Known {
		return "not known: " + strings.TrimPrefix(j.run.Air.How, "no air: ")
	}
	line := fmt.Sprintf("density altitude %s, %s", a.show(units.Length, j.standard), j.run.Air.How)
	if rise := j.run.Air.RiseFtPerHour; rise.Known() && (rise.Value() > 50 || rise.Value() < -50) {
		word := "rising"
		if rise.Value() < 0 {
			word, rise = "falling", units.Some(-rise.Value())
		}
		line += fmt.Sprintf(", %s %s an hour", word, a.show(units.Length, rise))
	}
	return line
}

func (a *app) splitTable(w io.Writer, j judged) {
	t := table.Table{Columns: []table.Column{
		{Head: ""}, {Head: "this run", Right: true}, {Head: "forecast", Right: true}, {Head: "difference", Right: true},
	}}
	for m := range predict.Marks {
		row := func(label string, ran, x units.Number, digits int) {
			if !ran.Known() {
				return
			}
			cells := []string{label, fmt.Sprintf("%.*f", digits, ran.Value()), "", ""}
			if x.Known() {
				cells[2] = fmt.Sprintf("%.*f", digits, x.Value())
				cells[3] = fmt.Sprintf("%+.*f", digits, ran.Value()-x.Value())
			}
			t.Rows = append(t.Rows, cells)
		}
		row(fmt.Sprintf("%5.0f ft", m.Ft()), j.pass.Splits.ETs[m], j.expected.Splits.ETs[m], 3)
		mph := func(n units.Number) units.Number {
			if !n.Known() {
				return n
			}
			return units.Some(units.Speed.In(a.units, n.Value()))
		}
		row("      "+units.Speed.Symbol(a.units), mph(j.pass.Splits.MPHs[m]), mph(j.expected.Splits.MPHs[m]), 2)
	}
	if len(t.Rows) > 0 {
		fmt.Fprintln(w)
		t.Render(w, table.Text, 0)
		fmt.Fprintln(w)
	}
}

// power is what the run implies the engine made in its air.
func (a *app) power(j judged) (string, bool) {
	if full, _ := predict.FullPull(j.pass.Splits, j.usual); !full || !predict.FullEffort(j.pass.Effort) {
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
			a.show(units.Power, units.Some(implied.ByMPH)), implied.Says(j.usual[m])), true
	}
	return "", false
}

// remarks are all that a person should know beside the numbers, each once.
func (j judged) remarks() []string {
	var all []string
	if j.run.Slip.Forced != "" {
		all = append(all, "recorded although "+j.run.Slip.Forced)
	}
	for _, m := range j.run.Missing {
		if !strings.HasPrefix(m, "air:") {
			all = append(all, m)
		}
	}
	all = append(all, j.run.Air.Remarks...)
	all = append(all, j.expected.Remarks...)
	if n := len(j.expected.LeftOut); n > 0 {
		all = append(all, fmt.Sprintf("%d earlier %s in part or not at all: slipcase forecast --vehicle %s says why",
			n, plural(n, "run counts", "runs count"), j.run.Slip.Vehicle))
	}
	return slices.Compact(all)
}

// say writes a label and its text, wrapped behind it.
func (a *app) say(w io.Writer, label, words string) {
	const indent = 19
	room := 80
	if width := a.width(); width > 0 && width < room {
		room = width
	}
	lines := strings.Split(text.WrapSoft(table.Clean(words), max(20, room-indent)), "\n")
	fmt.Fprintf(w, "%-*s%s\n", indent, label, strings.TrimRight(lines[0], " "))
	for _, l := range lines[1:] {
		fmt.Fprintf(w, "%*s%s\n", indent, "", strings.TrimRight(l, " "))
	}
}
