package page

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// What can be spared of a verdict, by the height of the window: the formulas before
// the remarks, the remarks before what the slip itself shows. The answer, the table,
// where it picked up or gave up, the next dial and a caution always stay.
const (
	spareSlip   = 1 + iota // read off the slip anyway
	spareAir               // at the slip
	spareForced            // why it was questioned
	spareRemark
	spareBasis
	sparePower
	spareAlone
)

// Recorded tells that a slip is recorded, and what it was worth. echo says that the
// racer should see how his line was read.
func (p *Page) Recorded(j crew.Judged, echo bool) error {
	return p.judgedAs(&j, func(w io.Writer) {
		fmt.Fprintln(w, Folded("recorded  "+headline(&j), p.Width()))
		if echo {
			for _, line := range p.SlipLines(j.Run.Slip, p.Room()-10) {
				fmt.Fprintf(w, "          %s\n", line)
			}
		}
	}, false)
}

// Judged tells what a slip was worth, and what it says alone.
func (p *Page) Judged(j crew.Judged) error {
	return p.judgedAs(&j, func(w io.Writer) { fmt.Fprintln(w, Folded(j.Run.Slip.ID+"  "+headline(&j), p.Width())) }, true)
}

func (p *Page) judgedAs(j *crew.Judged, head func(io.Writer), alone bool) error {
	p.Aside(p.warnings(j))
	return p.Answer(p.newJudgedJSON(j), p.slipTable([]crew.Judged{*j}), func(w io.Writer) {
		out := &Screen{}
		top := out.Spare(0)
		head(top)
		fmt.Fprintln(top)
		p.verdict(out, j, alone)
		if alone {
			p.modelText(out.Spare(spareAlone), j)
		}
		p.Fit(w, out)
	})
}

// airOfRun says what the air of a run is, and what to type where its track is not named.
func (p *Page) airOfRun(j *crew.Judged) string {
	words := Air(j.Run.Air, p.Units)
	if j.Run.Air.How.Kind == crew.SlipWithoutTrack {
		words += "; slipcase track add makes one, slip amend " + j.Run.Slip.ID + " --track NAME names it"
	}
	return words
}

// verdict gathers what a run was worth: the answer first, then the reason, all on
// one screen of the pits.
func (p *Page) verdict(s *Screen, j *crew.Judged, alone bool) {
	if mark, timed := j.Pass.Splits.Finish(); timed {
		if j.WasOn == nil {
			p.Say(s.Spare(0), p.RunText(j.Pass.Splits, mark), p.compared(j))
		} else {
			p.Say(s.Spare(0), p.RunText(j.Pass.Splits, mark), p.letGo(j)+"; "+wasOnText(j))
			if j.Judgement.Mark.Ft() <= j.WasOn.AtFt {
				p.Say(s.Spare(spareSlip), "till then", Judgement(j.Judgement, mark))
			}
		}
		if j.InAir {
			p.Say(s.Spare(0), "in standard air", p.RunText(j.Standard, mark))
		}
	}
	p.Say(s.Spare(spareAir), "air", p.airOfRun(j))
	if r := j.Run.Slip.ReactionS; r.Known() {
		if crew.Red(j.Run.Slip, j.Run.Track) {
			p.Say(s.Spare(0), "reaction", redText(j))
		} else {
			p.Say(s.Spare(spareSlip), "reaction", ReactionText(r))
		}
	}
	if j.Told() {
		p.Say(s.Spare(0), j.Result, Decision(j.ResultWhy))
	}
	if alone {
		p.asRaced(s.Spare(spareSlip), j.Run.Slip)
	}
	p.splitTable(s.Spare(0), j)
	if j.Unjudged == nil {
		// Before the first run of its own nothing says where a car loses its time.
		if j.Judgement.Forecast.RunsUsed > 0 {
			for _, piece := range j.Judgement.Pieces {
				p.Say(s.Spare(0), PieceName(piece), Piece(piece))
			}
		}
		p.nextText(s.Spare(0), j)
		p.Say(s.Spare(spareBasis), "forecast from", Basis(j.Judgement.Forecast.Basis))
	}
	if says, ok := p.power(j); ok {
		p.Say(s.Spare(sparePower), "power at clutch", says)
	}
	if forced := j.Run.Slip.Forced; forced != "" {
		p.Say(s.Spare(spareForced), "note", recordedAlthough+forced)
	}
	if j.Perhaps != nil {
		id := "last"
		if alone {
			id = j.Run.Slip.ID
		}
		p.Say(s.Spare(0), "note", p.perhaps(j, id))
	}
	for _, r := range p.remarks(j) {
		p.Say(s.Spare(spareRemark), "note", r)
	}
	// The rest of a caution stands with the forecast; the run's own notes are kept before it.
	if len(j.Cautions) > 0 {
		part := s.Spare(0)
		p.Say(part, "caution", strings.Join(Cautions(j.Cautions, p.Units), "; "))
		var short strings.Builder
		p.Say(&short, "caution", ShortCautions(j.Cautions))
		part.Short = short.String()
	}
}

const recordedAlthough = "recorded although "

// tellingRuns are so many that what was assumed about the setup no longer matters
// in the pits; the forecast command goes on saying it.
const tellingRuns = 5

// asRaced says what a run was raced on, and against whom.
func (p *Page) asRaced(w io.Writer, s crew.Slip) {
	parts := p.besideParts(s)
	if s.DialS.Known() {
		parts = append([]string{"dial " + Hundredths(s.DialS)}, parts...)
	}
	if len(parts) > 0 {
		p.Say(w, "raced", strings.Join(parts, ", "))
	}
}

// nextText says what the next run here should be, and the dial for the usual risk.
func (p *Page) nextText(w io.Writer, j *crew.Judged) {
	if j.Next == nil {
		return
	}
	if no := NoAir(j.NextAir, j.Next, p.Units); no != "" {
		fmt.Fprintln(w, no)
	}
	b := j.Next.ETs[j.NextDial.Mark]
	p.Say(w, fmt.Sprintf("next %.2f", b.Centre), eightOf10(b)+" here, now")
	if on := j.NextSetup; on != nil {
		p.Say(w, "note", fmt.Sprintf("next is on another setup than this run: %s, %s, from %s; slipcase setup list",
			p.Show(units.Weight, on.WeightLb), p.Show(units.Power, on.PowerHP), When(on.From.Time)))
	}
	d := j.NextDial
	switch dial := fmt.Sprintf("dial %.2f", d.DialS); {
	case d.DialS == 0:
	case d.Index:
		p.Say(w, "index "+Hundredths(units.Some(d.DialS)),
			p.atIndex(d.OneDial, b.Centre, d.SlowerS, 100*crew.UsualRisk, d.Stop))
	case d.HoldS > 0:
		p.Say(
			w,
			dial,
			fmt.Sprintf("holding %s: give back %s at the stripe; slipcase dial", short(d.HoldS, 2), short(d.GiveBackS, 3)),
		)
	default:
		p.Say(w, dial, p.breakoutRisk(d.OneDial, j.Next)+"; other dials: slipcase dial")
	}
}

// underIndex says how likely a run is under the index, and how much slower keeps it off.
func (p *Page) underIndex(d crew.OneDial, slowerS, riskPct float64) string {
	share := p.shareUnder(d.Breakout)
	if slowerS < 0.0005 {
		return share + ": run it as it is"
	}
	return fmt.Sprintf("%s; slow it %s for %g %%", share, short(slowerS, 3), riskPct)
}

// compared says in words how the run compares with its forecast.
func (p *Page) compared(j *crew.Judged) string {
	if j.Unjudged != nil {
		return p.Wrong(j.Unjudged)
	}
	finish, _ := j.Pass.Splits.Finish()
	text := Judgement(j.Judgement, finish)
	switch {
	case j.Run.Slip.FullPower != "" && j.Run.Slip.FullPower != string(crew.FullPower):
		text += "; noted as " + j.Run.Slip.FullPower
	case !j.FullPull:
		text += "; " + ShortPull(j.ShortPull, p.Units)
	}
	return text
}

// splitTable sets the figures of the slip beside their forecasts.
func (p *Page) splitTable(w io.Writer, j *crew.Judged) {
	if t := p.splitCells(j); len(t.Rows) > 0 {
		fmt.Fprintln(w)
		t.Render(w, table.Text, 0)
		fmt.Fprintln(w)
	}
}

func (p *Page) splitCells(j *crew.Judged) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "ft", Key: "ft", Right: true},
		{Head: "this run", Key: "et", Right: true},
		{Head: "forecast", Key: "forecast", Right: true},
		{Head: "diff", Key: "diff", Right: true},
		{Head: units.Speed.Symbol(p.Units), Key: "speed", Right: true},
		{Head: "diff", Key: "speed_diff", Right: true},
	}}
	var expected, diff crew.Splits
	if j.Unjudged == nil {
		expected, diff = j.Judgement.Forecast.Centre(), j.Difference()
	}
	for m, et := range j.Pass.Splits.ETs {
		if !et.Known() {
			continue
		}
		row := table.Cells{
			"ft": fmt.Sprintf("%g", crew.Mark(m).Ft()), "et": Seconds(et), "forecast": Seconds(expected.ETs[m]),
			"speed": p.Speed(j.Pass.Splits.MPHs[m]),
		}
		if d := diff.ETs[m]; d.Known() {
			row["diff"] = signed(d.Value())
		}
		if d := diff.MPHs[m]; d.Known() {
			row["speed_diff"] = fmt.Sprintf("%+.2f", units.Speed.In(p.Units, d.Value()))
		}
		t.AddCells(row)
	}
	return t
}

// power says what a run at full power implies the engine made in its air.
func (p *Page) power(j *crew.Judged) (string, bool) {
	power, m, ok := j.Power()
	if !ok {
		return "", false
	}
	speed := "mph"
	if p.Units != units.US {
		speed = "speed"
	}
	return fmt.Sprintf("%s by %s, %.0f by ET: %s", p.Show(units.Power, units.Some(power.ByMPH)), speed,
		units.Power.In(p.Units, power.ByET), shortGap(power.Gap(j.UsualPulls[m]), p.Units)), true
}

// modelText says what this slip alone tells of the car's power and launch.
func (p *Page) modelText(w io.Writer, j *crew.Judged) {
	a, ok := j.Alone()
	if !ok {
		return
	}
	power := func(hp float64) string { return p.Show(units.Power, units.Some(hp)) }
	p.Say(w, "this slip alone", fmt.Sprintf("%s at the wheels, averaged over the run, give or take %s; "+
		"launched at %.2f g, give or take %.2f", power(a.PowerHP), power(a.PowerSD), a.LaunchG, a.GripSD))
}

// missing says what a slip could not be joined with.
func missing(r crew.Run) (told []string) {
	for _, m := range r.Missing {
		switch {
		case m.Next.ID != "":
			told = append(
				told,
				fmt.Sprintf("setup %s begins only %s, after this run: if it was so before, slipcase setup amend %s --from %s",
					OrDash(m.Next.Name), When(m.Next.From.Time), m.Next.ID, m.When.Format(time.DateOnly)),
			)
		case m.ID != "":
			told = append(told, fmt.Sprintf("%s %q is not in the log", m.Of, m.ID))
		default:
			told = append(told, fmt.Sprintf("no %s in force on %s: slipcase %s add", m.Of, m.When.Format("2 Jan 2006"), m.Of))
		}
	}
	return told
}

// remarks are what a person should know beside the numbers.
func (p *Page) remarks(j *crew.Judged) []string {
	all := slices.Concat(missing(j.Run), AirNotes(j.Run.Air.Notes, p.Units))
	if j.Unjudged != nil {
		return all
	}
	if j.Judgement.Forecast.RunsUsed < tellingRuns {
		all = append(all, Notes(j.Judgement.Forecast.Notes, p.Units)...)
	}
	if n := len(j.Judgement.Forecast.LeftOut); n > 0 {
		all = append(all, fmt.Sprintf("%s left out or used in part: slipcase forecast --vehicle %s says why",
			count(n, "earlier run"), j.Run.Slip.Vehicle))
	}
	return all
}

// warnings are all that a person reads beside the numbers, for other forms.
func (p *Page) warnings(j *crew.Judged) (all []string) {
	if forced := j.Run.Slip.Forced; forced != "" {
		all = append(all, recordedAlthough+forced)
	}
	if j.Perhaps != nil {
		all = append(all, p.perhaps(j, j.Run.Slip.ID))
	}
	all = slices.Concat(all, p.remarks(j), Cautions(j.Cautions, p.Units))
	if !j.FullPull {
		all = append(all, ShortPull(j.ShortPull, p.Units))
	}
	if j.Doubted() {
		all = append(all, "doubted, the forecast leaves it out: "+LeftOut(j.LeftOut, p.Units))
	}
	if r := j.Run.Slip.ReactionS; r.Known() && crew.Red(j.Run.Slip, j.Run.Track) {
		all = append(all, redText(j))
	}
	if !j.Run.Air.Known {
		all = append(all, "air: "+AirHow(j.Run.Air.How))
	}
	if j.Unjudged != nil {
		all = append(all, p.Wrong(j.Unjudged))
	}
	return all
}

func redText(j *crew.Judged) string {
	perfect := crew.RulesOf(j.Run.Slip, j.Run.Track).PerfectS
	text := "red " + short(j.Run.Slip.ReactionS.Value()-perfect, 3)
	if perfect != 0 {
		text += fmt.Sprintf(": %s, and perfect is %.3f here", ReactionText(j.Run.Slip.ReactionS), perfect)
	}
	return text
}

// headline says whose run it is, where and when.
func headline(j *crew.Judged) string {
	s := j.Run.Slip
	name := s.Vehicle
	if j.Run.Vehicle.ID != "" {
		name = j.Run.Vehicle.Name()
	}
	switch {
	case j.Run.Track.ID != "":
		name += " at " + j.Run.Track.Name()
	case s.Track != "":
		name += " at " + s.Track
	}
	parts := []string{name}
	for _, p := range []string{s.Round, s.Lane} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	head := strings.Join(append(parts, When(s.Time.Time)), ", ")
	if s.Status == crew.Void {
		head += " (void)"
	}
	return table.Clean(head)
}
