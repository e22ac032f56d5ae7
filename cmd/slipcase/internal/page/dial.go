package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// dialJSON is the answer; chances are in percent.
type dialJSON struct {
	Vehicle     string        `json:"vehicle"`
	Track       string        `json:"track,omitzero"`
	Time        crew.Time     `json:"time"`
	DistanceFt  float64       `json:"distance_ft"`
	Class       string        `json:"class"`
	DialS       units.Number  `json:"dial_s,omitzero"`
	BreakoutPct units.Number  `json:"breakout_pct,omitzero"`
	WinPct      units.Number  `json:"win_pct,omitzero"`
	RiskPct     float64       `json:"risk_pct"`
	ETS         float64       `json:"et_s"`
	Low80S      float64       `json:"et_low80_s"`
	High80S     float64       `json:"et_high80_s"`
	SlowerS     units.Number  `json:"slower_for_risk_s,omitzero"` // every run, for the wanted risk at the index
	StopS       units.Number  `json:"stop_s,omitzero"`            // of the run that is forecast
	StopForS    units.Number  `json:"stop_for_risk_s,omitzero"`   // to set
	StopDeadOnS units.Number  `json:"stop_dead_on_s,omitzero"`    // for the index itself
	StopCostS   units.Number  `json:"stop_costs_s,omitzero"`      // a second of it, at the finish
	StopLearned bool          `json:"stop_learned,omitzero"`      // from the runs
	BoxLeftS    units.Number  `json:"delay_left_s,omitzero"`      // as last set
	BoxRightS   units.Number  `json:"delay_right_s,omitzero"`
	CarLengthS  units.Number  `json:"car_length_s,omitzero"`
	HeadStartS  units.Number  `json:"head_start_s,omitzero"` // the other lane leaves that much earlier
	ChosenBy    string        `json:"chosen_by,omitzero"`    // risk, win, hold or index
	HoldS       float64       `json:"hold_s,omitzero"`
	GiveBackS   units.Number  `json:"give_back_s,omitzero"` // at the stripe, for the hold
	AirKnown    bool          `json:"air_known"`
	SideBySide  []oneDialJSON `json:"side_by_side"` // dead on, then for about 25 and 10 % risk
	Dials       []oneDialJSON `json:"dials"`
	Warnings    []string      `json:"warnings"`
}

type oneDialJSON struct {
	DialS       float64      `json:"dial_s"`
	BreakoutPct float64      `json:"breakout_pct"`
	WinPct      units.Number `json:"win_pct,omitzero"`
}

func (p *Page) newDialJSON(d crew.DialChoice) dialJSON {
	band, chosen := d.Forecast.ETs[d.Mark], newOneDialJSON(d.OneDial)
	out := dialJSON{
		Vehicle: d.Run.Vehicle.ID, Track: d.Run.Track.ID, Time: d.Run.Slip.Time, DistanceFt: d.Mark.Ft(),
		Class: string(d.Rules.Format), WinPct: chosen.WinPct, RiskPct: d.RiskPct,
		ETS: rounded(band.Centre, ToS), Low80S: rounded(band.Low80, ToS), High80S: rounded(band.High80, ToS),
		SlowerS: roundedNumber(d.SlowerS, ToS), CarLengthS: roundedNumber(d.CarLengthS, ToS),
		HeadStartS: roundedNumber(
			d.HeadStartS,
			ToS,
		), ChosenBy: string(d.Why), HoldS: d.HoldS, GiveBackS: roundedNumber(d.GiveBackS, ToS),
		AirKnown: p.noAir(
			d,
		) == "", SideBySide: []oneDialJSON{}, Dials: []oneDialJSON{}, Warnings: append([]string{}, p.dialNotes(d)...),
	}
	out.BoxLeftS, out.BoxRightS = d.Box[0], d.Box[1]
	if s := d.Stop; s != nil {
		out.StopS, out.StopForS = someRounded(s.NowS, ToS), someRounded(s.ForRisk.OnS, ToS)
		out.StopDeadOnS = someRounded(s.DeadOn.OnS, ToS)
		out.StopCostS, out.StopLearned = someRounded(s.CostS, ToS), s.Learned
	}
	for _, one := range beside(d) {
		out.SideBySide = append(out.SideBySide, newOneDialJSON(one))
	}
	if d.DialS > 0 {
		out.DialS, out.BreakoutPct = units.Some(d.DialS), units.Some(chosen.BreakoutPct)
	}
	for _, one := range d.Dials {
		out.Dials = append(out.Dials, newOneDialJSON(one))
	}
	return out
}

func newOneDialJSON(one crew.OneDial) oneDialJSON {
	win := one.Win
	if win.Known() {
		win = someRounded(100*win.Value(), ToPct)
	}
	return oneDialJSON{one.DialS, rounded(100*one.Breakout, ToPct), win}
}

// Dial tells the dial for the next round.
func (p *Page) Dial(d crew.DialChoice) error {
	out := p.newDialJSON(d)
	t := p.dialTable(d)
	p.Aside(out.Warnings)
	return p.Answer(out, t, func(w io.Writer) {
		screen := &Screen{}
		p.dialText(screen, d, out, t)
		p.Fit(w, screen)
	})
}

func (p *Page) dialTable(d crew.DialChoice) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "dial", Key: "dial_s", Right: true},
		{Head: "risk", Key: "breakout_pct", Right: true},
	}}
	wins := len(d.Dials) > 0 && d.Dials[0].Win.Known()
	if wins {
		t.Columns = append(t.Columns, table.Column{Head: "wins", Key: "win_pct", Right: true})
	}
	percent := func(chance float64) string {
		if p.Format == table.CSV {
			return fmt.Sprintf("%.0f", 100*chance)
		}
		return fmt.Sprintf("%.0f %%", 100*chance)
	}
	for _, one := range d.Dials {
		row := table.Cells{"dial_s": fmt.Sprintf("%.2f", one.DialS), "breakout_pct": percent(one.Breakout)}
		if wins {
			row["win_pct"] = percent(one.Win.Value())
		}
		t.AddCells(row)
	}
	return t
}

func (p *Page) noAir(d crew.DialChoice) string { return NoAir(d.Run.Air, &d.Forecast, p.Units) }

// What can be spared of a dial, by the height of the window.
const (
	spareDials = 1 + iota // the ones around it
	spareDialNotes
)

func (p *Page) dialText(s *Screen, d crew.DialChoice, out dialJSON, t table.Table) {
	notes, w := out.Warnings, s.Spare(0)
	if no := p.noAir(d); no != "" {
		fmt.Fprintln(w, no)
		notes = notes[1:]
	}
	p.Wrap(w, p.dialHead(d))
	fmt.Fprintf(w, "%s at %s, %s\n\n", d.Run.Vehicle.Name(), OrDash(d.Run.Track.Name()), When(d.Run.Slip.Time.Time))
	if len(out.SideBySide) > 0 {
		p.Wrap(w, p.sideBySide(d))
	}
	p.Say(w, "forecast", fmt.Sprintf("%.3f at %g ft, %s", out.ETS, out.DistanceFt, eightOf10(d.Forecast.ETs[d.Mark])))
	p.Say(w, "air", p.airOfNext(d.Run.Air))
	if out.CarLengthS.Known() {
		p.Say(w, "at the stripe", fmt.Sprintf("one %s length takes %s s", carOrBike(d), short(out.CarLengthS.Value(), 3)))
	}
	if words := boxText(d.Box); words != "" {
		p.Say(w, "box", words)
	}
	if d.Stop != nil {
		p.Say(w, "stop", p.stopSets(*d.Stop))
	}
	switch {
	case d.KeptS > 0:
		p.Say(w, "hold", fmt.Sprintf("%s kept for today, not in this dial; --hold %s dials by it",
			short(d.KeptS, 3), short(d.KeptS, 3)))
	case d.HoldS > 0:
		p.Say(w, "hold", fmt.Sprintf("%s, kept for today; slipcase dial --hold 0 drops it", short(d.HoldS, 3)))
	}
	if d.Rival != nil {
		p.rivalText(w, d, out)
	}
	if len(out.Dials) > 1 {
		w := s.Spare(spareDials)
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
	}
	for i, n := range notes {
		w := s.Spare(spareDialNotes)
		if i == 0 {
			fmt.Fprintln(w)
		}
		p.Say(w, "note", n)
	}
}

func carOrBike(d crew.DialChoice) string {
	if d.Run.Vehicle.Kind == string(crew.Motorcycle) {
		return "bike"
	}
	return "car"
}

// dialHead is the answer: the dial, and what it risks.
func (p *Page) dialHead(d crew.DialChoice) string {
	risk := p.breakoutRisk(d.OneDial, &d.Forecast)
	wins := ""
	if d.Win.Known() {
		wins = "wins " + p.Share(d.Win.Value())
	}
	switch d.Why {
	case crew.OfIndex:
		return fmt.Sprintf("index %.2f: %s", d.DialS, and(wins,
			p.atIndex(d.OneDial, d.Forecast.ETs[d.Mark].Centre, d.SlowerS.Value(), d.RiskPct, d.Stop)))
	case crew.Held:
		return fmt.Sprintf("dial %.2f, holding %s: give back %s at the stripe; flat out, %s", d.DialS, short(d.HoldS, 2),
			short(d.GiveBackS.Value(), 3), and(wins, risk))
	case crew.ForRisk, crew.MostWins:
		return fmt.Sprintf("dial %.2f: %s", d.DialS, and(wins, risk))
	}
	if wins == "" {
		return `heads-up: no dial; --opponent "reaction .042 et 12.43" tells the chance to win`
	}
	return "heads-up: " + wins
}

// breakoutRisk says what a dial risks; one without a run behind it is a guess.
func (p *Page) breakoutRisk(d crew.OneDial, f *crew.Forecast) string {
	text := p.Share(d.Breakout) + " breakout risk"
	if f.RunsUsed == 0 {
		text += ", a rough guess: no runs yet"
	}
	return text
}

// and joins what there is of two.
func and(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

// beside are the dead-on dial and the safer ones, nothing where there is none to choose.
func beside(d crew.DialChoice) []crew.OneDial {
	if d.DeadOn.DialS == 0 {
		return nil
	}
	return append([]crew.OneDial{d.DeadOn}, d.Safer...)
}

// sideBySide sets the forecast beside the dead-on dial and the safer ones.
func (p *Page) sideBySide(d crew.DialChoice) string {
	text := fmt.Sprintf("next %.2f   dead on %.2f", d.Forecast.ETs[d.Mark].Centre, d.DeadOn.DialS)
	for _, one := range d.Safer {
		text += fmt.Sprintf(" | %s %.2f", p.Share(one.Breakout), one.DialS)
	}
	return text
}
