package page

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/guptarohit/asciigraph"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// sheetJSON is a dyno sheet as shown, in the standard asked for.
type sheetJSON struct {
	Name      string       `json:"name"`
	Standard  string       `json:"power_standard"`
	Restated  float64      `json:"restated_by"`
	PeakHP    float64      `json:"peak_hp"`
	PeakRPM   units.Number `json:"peak_rpm"`
	TorqueLF  units.Number `json:"peak_torque_lb_ft,omitzero"`
	TorqueRPM units.Number `json:"peak_torque_rpm,omitzero"`
	MeanHP    units.Number `json:"mean_hp,omitzero"` // over the shift range
	ShiftLow  units.Number `json:"shift_low_rpm,omitzero"`
	ShiftHigh units.Number `json:"shift_high_rpm,omitzero"`
	Points    []crew.Point `json:"points"`
}

type gainJSON struct {
	RPM      float64 `json:"rpm"`
	BeforeHP float64 `json:"before_hp"`
	AfterHP  float64 `json:"after_hp"`
	GainHP   float64 `json:"gain_hp"`
}

// sheetsJSON is one sheet, or two with what the second gains.
type sheetsJSON struct {
	Sheets []sheetJSON `json:"sheets"`
	Gain   []gainJSON  `json:"gain"`
	Mean   *needJSON   `json:"mean_gain_pct"` // of the means, null without two curves
	Notes  []string    `json:"notes"`
}

// ComparedSheets shows a dyno sheet, or two over each other.
func (p *Page) ComparedSheets(c crew.ComparedSheets) error {
	out := sheetsJSON{Gain: []gainJSON{}, Notes: append([]string{}, p.sheetNotes(c)...)}
	for _, s := range c.Sheets {
		out.Sheets = append(out.Sheets, newSheetJSON(s))
	}
	for _, d := range c.Points {
		out.Gain = append(out.Gain, gainJSON(d))
	}
	if c.Gain != nil {
		g := crew.Times(c.Gain.Gain, 100)
		out.Mean = newNeed(g)
	}
	p.Aside(out.Notes)
	return p.Answer(out, p.curveTable(c), func(w io.Writer) { p.sheetsText(w, c, out.Notes) })
}

func newSheetJSON(s crew.ShownSheet) sheetJSON {
	out := sheetJSON{
		Name: s.Of.Name, Standard: s.In, Restated: s.Restated.Times, PeakHP: s.PeakHP, PeakRPM: s.Of.PeakRPM,
		Points: append([]crew.Point{}, s.Points...),
	}
	if s.Curve != nil {
		torque := s.Curve.PeakTorque()
		out.TorqueLF, out.TorqueRPM = units.Some(torque.LbFt()), units.Some(torque.RPM)
	}
	if out.MeanHP = s.MeanHP; s.MeanHP.Known() {
		out.ShiftLow, out.ShiftHigh = units.Some(s.MeanOver.LowRPM), units.Some(s.MeanOver.HighRPM)
	}
	return out
}

// sheetNotes say how the sheets were restated, and of two what the table of their
// points does not.
func (p *Page) sheetNotes(c crew.ComparedSheets) (notes []string) {
	for _, s := range c.Sheets {
		if math.Abs(s.Restated.Times-1) < 5e-5 {
			continue
		}
		note := fmt.Sprintf("%s: %s x %.4f makes %s",
			s.Of.Name, standardWords(s.Of.Standard), s.Restated.Times, standardWords(s.In))
		if !s.AirKnown && s.Of.Standard != "none" && s.In != "none" {
			note += "; the dyno's air is not known: within 2 % at a low one, 4 % a mile high"
		}
		notes = append(notes, note)
	}
	if len(c.Sheets) != 2 {
		return notes
	}
	x, y := c.Sheets[0], c.Sheets[1]
	if x.Curve == nil || y.Curve == nil {
		notes = append(notes, fmt.Sprintf("%s at the peak of %s over that of %s",
			p.morePower(y.PeakHP-x.PeakHP), y.Of.Name, x.Of.Name))
	}
	if g := c.Gain; g != nil {
		notes = append(notes, fmt.Sprintf("over what a run uses %s has %+.1f %% (8 of 10 in %+.1f to %+.1f) on %s",
			y.Of.Name, 100*g.Gain.Likely, 100*g.Gain.Low, 100*g.Gain.High, x.Of.Name))
		notes = append(notes, p.ChangeNotes(g.Notes)...)
	}
	return notes
}

func (p *Page) sheetsText(w io.Writer, c crew.ComparedSheets, notes []string) {
	uses := "about what a run uses; --shift says yours"
	if c.Shift != (crew.Shift{}) {
		uses = "what a run uses"
	}
	for _, s := range c.Sheets {
		fmt.Fprintf(w, "%s, %s\n", s.Of.Name, standardWords(s.In))
		fmt.Fprintf(w, "  peak    %s%s\n", p.tenths(s.PeakHP), atRPM(s.Of.PeakRPM))
		if s.Curve != nil {
			torque := s.Curve.PeakTorque()
			fmt.Fprintf(w, "  torque  %s%s\n", p.Show(units.Torque, units.Some(torque.LbFt())), atRPM(units.Some(torque.RPM)))
		}
		if s.MeanHP.Known() {
			p.Wrap(w, fmt.Sprintf("  mean    %s from %.0f to %.0f rpm: %s",
				p.tenths(s.MeanHP.Value()), s.MeanOver.LowRPM, s.MeanOver.HighRPM, uses))
		}
	}
	if plot := p.plot(c.Sheets); plot != "" {
		fmt.Fprintf(w, "\n%s\n", plot)
	}
	if len(c.Points) > 0 {
		fmt.Fprintln(w)
		p.curveTable(c).Render(w, table.Text, p.Width())
	}
	for _, n := range notes {
		p.Say(w, "note", n)
	}
}

// plot draws the curves over each other, without colour: by their marks.
func (p *Page) plot(sheets []crew.ShownSheet) string {
	marks := []string{"o", "+"}
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range sheets {
		if s.Curve == nil {
			return ""
		}
		low, high = math.Min(low, s.Curve[0].RPM), math.Max(high, s.Curve[len(s.Curve)-1].RPM)
	}
	width := 60
	if w := p.Width(); w > 0 {
		width = min(max(w-14, 20), 100)
	}
	series := make([][]float64, len(sheets))
	chars := make([]asciigraph.CharSet, len(sheets))
	var legend []string
	for i, s := range sheets {
		for col := range width {
			hp := math.NaN()
			if at := s.Curve.At(low + (high-low)*float64(col)/float64(width-1)); at.Known() {
				hp = units.Power.In(p.Units, at.Value())
			}
			series[i] = append(series[i], hp)
		}
		chars[i] = asciigraph.CreateCharSet(marks[i])
		legend = append(legend, marks[i]+" "+table.Clean(s.Of.Name))
	}
	caption := fmt.Sprintf("%s over rpm   %s", units.Power.Symbol(p.Units), strings.Join(legend, "   "))
	return asciigraph.PlotMany(series, asciigraph.Height(12), asciigraph.Width(width), asciigraph.Precision(0),
		asciigraph.SeriesChars(chars...), asciigraph.XAxisRange(low, high), asciigraph.XAxisTickCount(5),
		asciigraph.XAxisValueFormatter(func(v float64) string { return fmt.Sprintf("%.0f", v) }), asciigraph.Caption(caption))
}

// curveTable has the points of a sheet, or of two with what the second gains.
func (p *Page) curveTable(c crew.ComparedSheets) table.Table {
	hp := p.Suffix(units.Power)
	t := table.Table{Columns: []table.Column{{Head: "rpm", Key: "rpm", Right: true}}}
	if len(c.Points) > 0 {
		before, after, gain := "before_"+hp, "after_"+hp, "gain_"+hp
		t.Columns = append(t.Columns, table.Column{Head: c.Sheets[0].Of.Name, Key: before, Right: true},
			table.Column{Head: c.Sheets[1].Of.Name, Key: after, Right: true}, table.Column{Head: "gain", Key: gain, Right: true})
		for _, g := range c.Points {
			t.AddCells(table.Cells{
				"rpm": fmt.Sprintf("%.0f", g.RPM), before: p.tenths(g.BeforeHP),
				after: p.tenths(g.AfterHP), gain: p.morePower(g.GainHP),
			})
		}
		return t
	}
	power, torque := "power_"+hp, "torque_"+p.Suffix(units.Torque)
	t.Columns = append(t.Columns, table.Column{Head: "power", Key: power, Right: true},
		table.Column{Head: "torque", Key: torque, Right: true})
	for _, s := range c.Sheets {
		for _, point := range s.Curve {
			t.AddCells(table.Cells{
				"rpm": fmt.Sprintf("%.0f", point.RPM), power: p.tenths(point.HP),
				torque: p.Cell(units.Torque, units.Some(point.LbFt())),
			})
		}
	}
	return t
}

// tenths is a power with the decimal that a sheet prints.
func (p *Page) tenths(hp float64) string {
	text := fmt.Sprintf("%.1f", units.Power.In(p.Units, hp))
	if p.Format == table.CSV {
		return text
	}
	return text + " " + units.Power.Symbol(p.Units)
}

// morePower is tenths of a difference.
func (p *Page) morePower(hp float64) string {
	if hp >= 0 {
		return "+" + p.tenths(hp)
	}
	return p.tenths(hp)
}
