package page

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// wideBoard is a window that has room for the speed and the package of the last run, and
// for the air beside what is in use.
const wideBoard = 64

// Board shows what there is to say between rounds, a line each.
func (p *Page) Board(b crew.Board) {
	wide := p.Room() >= wideBoard
	p.boardHead(b, wide)
	line := func(label, words string) {
		if words != "" {
			p.Wrap(p.Out, table.Clean(label+" "+words))
		}
	}
	if b.Vehicle.ID == "" {
		line(choose(b.Vehicles, "vehicle add heron --kind car --aspiration natural"))
		return
	}
	if b.Track.ID == "" {
		line(choose(b.Tracks, "track add saltgrass --elevation "+p.typed(units.Length, 812)))
	}
	line("last", p.boardLast(b, wide))
	line("next", p.boardNext(b, wide))
	line("box ", p.boardBox(b))
	line("due ", Due(b.Due))
}

// choose says what there is to use, or how to add one.
func choose(names []string, add string) (label, words string) {
	if len(names) == 0 {
		return "first", add
	}
	return "use", strings.Join(names, ", or use ")
}

// boardHead says what is in use and what the air is, beside it where there is room.
func (p *Page) boardHead(b crew.Board, wide bool) {
	var parts told
	parts.say(b.Vehicle.Name(), b.Vehicle.ID != "")
	parts.say(b.Track.Name(), b.Track.ID != "")
	parts.say(boardClass(b), true)
	if b.Next != nil {
		parts.say(raceLength[b.Next.Mark], true)
	}
	parts.say(b.Now.Format("15:04"), true)
	own := table.Clean(strings.Join(strings.Fields(strings.Join(parts, " ")), " "))
	air := p.boardAir(b)
	if room := p.Room() - utf8.RuneCountInString(own) - utf8.RuneCountInString(air); wide && room >= 2 {
		own, air = own+strings.Repeat(" ", room)+air, ""
	}
	p.Wrap(p.Out, own)
	if air != "" {
		p.Wrap(p.Out, strings.Replace("air  "+air, "air  "+guessing, guessing, 1)) // which says it loud enough
	}
}

var raceLength = map[crew.Mark]string{
	crew.At60: "60 ft", crew.At330: "330 ft", crew.At660: "1/8", crew.At1000: "1000 ft", crew.At1320: "1/4",
}

// boardClass is the class of the run to come, "" for one by dial that has no name.
func boardClass(b crew.Board) string {
	switch b.Rules.Format {
	case crew.Index:
		return strings.TrimSpace(b.Use.ClassName + " index " + Hundredths(b.Rules.IndexS))
	case crew.HeadsUp:
		return strings.TrimSpace(b.Use.ClassName + " heads-up")
	}
	return b.Use.ClassName
}

// boardAir is the air and its age; what is guessed is said loudly.
func (p *Page) boardAir(b crew.Board) string {
	switch {
	case b.Track.ID == "":
		return ""
	case b.Air.Assumed:
		return guessing + guessed(b.Air, p.Units)
	case !b.Air.Known:
		return units.Examples(p.Bare, "no air yet: air {88F 42 28.94|31C 42 980}")
	}
	text := "DA " + strings.TrimSuffix(units.Length.Format(p.Units, b.Air.Air.DensityAltitudeFt()), " ft")
	if b.Air.RangeFt() >= wideFt {
		text += giveOrTake(b.Air, p.Units)
	}
	if reckoned(b.Air) {
		text += " now"
	}
	if b.Air.Turned.ByFt != 0 {
		text += " unsteady"
	} else if rise := AirRise(b.Air, p.Units); rise != "" {
		text += " " + strings.Fields(rise)[0]
	}
	if reckoned(b.Air) {
		read := strings.TrimSuffix(units.Length.Format(p.Units, b.Air.ReadFt.Value()), " ft")
		return text + "; " + read + " at " + b.Air.How.At.Format("15:04")
	}
	return text + ", " + AirHow(b.Air.How)
}

// boardLast is the last run: its round and lane, what it ran, how it ended.
func (p *Page) boardLast(b crew.Board, wide bool) string {
	l := b.Last
	if l == nil {
		return "none yet: type its times as on the slip, or slip add asks for them"
	}
	s := l.Run.Slip
	at := s.Time.In(b.Now.Location())
	var parts told
	parts.say(at.Format("2 Jan"), at.Format(time.DateOnly) != b.Now.Format(time.DateOnly))
	parts.say(s.Round, s.Round != "")
	parts.say(map[string]string{"left": "L", "right": "R"}[s.Lane], s.Lane != "")
	parts.say(ReactionText(s.ReactionS), s.ReactionS.Known())
	parts.say(" "+p.boardRun(l, wide), l.Splits.ETs[l.Mark].Known())
	pkg := l.Round.Packages[0]
	parts.say(" pkg "+short(pkg.Value(), 3), wide && pkg.Known())
	parts.say(" "+boardResult(l), l.Result != "")
	return strings.Join(parts, " ")
}

// boardRun is what the last run ran, on what.
func (p *Page) boardRun(l *crew.LastRun, wide bool) string {
	text := Seconds(l.Splits.ETs[l.Mark])
	if mph := l.Splits.MPHs[l.Mark]; wide && mph.Known() {
		text += fmt.Sprintf("@%.1f", units.Speed.In(p.Units, mph.Value()))
	}
	if l.LimitS.Known() {
		text += " on " + Hundredths(l.LimitS)
	}
	if full := l.Run.Slip.FullPower; full != "" && full != string(crew.FullPower) {
		text += " " + full
	}
	return text
}

// boardResult is how the last round ended and by how much, or why.
func boardResult(l *crew.LastRun) string {
	switch why := l.Round.Why; {
	case l.Result != crew.ResultOf(l.Round.Winner) || why.Kind == "":
		return l.Result
	case why.Kind == crew.AtFinish:
		return l.Result + " " + short(why.S, 3)
	case why.Kind == crew.BrokeOut && why.Lane != crew.Nobody:
		return l.Result + ", " + ofLane(why.Lane) + "broke out " + short(why.S, 3)
	default:
		return l.Result + ", " + Decision(why)
	}
}

// boardNext is the forecast and the dials, and what the lanes cost.
func (p *Page) boardNext(b crew.Board, wide bool) string {
	d := b.Next
	if d == nil {
		return cmp.Or(fmt.Sprint(b.NoNext), "none")
	}
	lanes := ""
	if l := b.Lanes; l != nil && max(l.LeftS, l.RightS) >= evenS {
		lanes = "     L " + even(l.LeftS) + " R " + even(l.RightS)
	}
	if d.Forecast.RunsUsed == 0 {
		return fmt.Sprintf("%s, a rough guess: no full run yet", eightOf10(d.Forecast.ETs[d.Mark])) + lanes
	}
	switch d.Rules.Format {
	case crew.Index:
		centre := d.Forecast.ETs[d.Mark].Centre
		return fmt.Sprintf("%.2f   index %.2f: %s", centre, d.DialS,
			p.atIndex(d.OneDial, centre, d.SlowerS.Value(), d.RiskPct, d.Stop)) + lanes
	case crew.HeadsUp:
		return fmt.Sprintf("%.2f, %s", d.Forecast.ETs[d.Mark].Centre, eightOf10(d.Forecast.ETs[d.Mark])) + lanes
	}
	text := strings.TrimPrefix(p.sideBySide(*d), "next ")
	if _, dials, both := strings.Cut(text, "   "); both && !wide {
		text = dials // dead on is the forecast to the hundredth
	}
	if d.HoldS > 0 {
		text += fmt.Sprintf(" | dial %.2f, holding %s", d.DialS, short(d.HoldS, 2))
	}
	return text + lanes
}

// evenS is less than a dial can tell, s.
const evenS = 0.005

// even is what a lane costs, in hundredths.
func even(s float64) string {
	if s < evenS {
		return "even"
	}
	return "+" + short(s, 2)
}

// boardBox are the delays of both lanes, and how the driver leaves.
func (p *Page) boardBox(b crew.Board) string {
	var parts told
	for i, lane := range []string{"L ", "R "} {
		parts.say(lane+Seconds(b.Box[i]), b.Box[i].Known())
	}
	if l := b.Lights; l != nil {
		lights := fmt.Sprintf("lights %s, red %s", short(l.MeanS, 3), p.Share(l.Red))
		if len(parts) > 0 {
			lights = "  " + lights
		}
		parts.say(lights, true)
	}
	return strings.Join(parts, " ")
}

// BoardHelp says what can be typed at the board.
func (p *Page) BoardHelp(w io.Writer) {
	for _, of := range boardHelp {
		p.Say(w, of[0], units.Examples(p.Bare, of[1]))
	}
}
