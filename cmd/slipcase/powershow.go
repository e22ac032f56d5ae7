package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/guptarohit/asciigraph"
	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// sheetJSON is a dyno sheet as shown, in the standard asked for.
type sheetJSON struct {
	Name      string          `json:"name"`
	Standard  string          `json:"power_standard"`
	Restated  float64         `json:"restated_by"`
	PeakHP    float64         `json:"peak_hp"`
	PeakRPM   units.Number    `json:"peak_rpm"`
	TorqueLF  units.Number    `json:"peak_torque_lb_ft,omitzero"`
	TorqueRPM units.Number    `json:"peak_torque_rpm,omitzero"`
	MeanHP    units.Number    `json:"mean_hp,omitzero"` // over the shift range
	ShiftLow  units.Number    `json:"shift_low_rpm,omitzero"`
	ShiftHigh units.Number    `json:"shift_high_rpm,omitzero"`
	Points    []logbook.Point `json:"points"`
	curve     predict.Curve
	note      string
}

// sheetsJSON is one sheet, or two with what the second gains.
type sheetsJSON struct {
	Sheets []*sheetJSON `json:"sheets"`
	Gain   []gainJSON   `json:"gain"`
	Notes  []string     `json:"notes"`
}

type gainJSON struct {
	RPM      float64 `json:"rpm"`
	BeforeHP float64 `json:"before_hp"`
	AfterHP  float64 `json:"after_hp"`
	GainHP   float64 `json:"gain_hp"`
}

func (a *app) showSheets(c *cobra.Command, args []string, lb *crew.Session) error {
	to, _ := c.Flags().GetString("standard")
	var recorded []logbook.Sheet
	for _, name := range args {
		s, err := lb.Sheet(name)
		if err != nil {
			return err
		}
		recorded = append(recorded, s)
	}
	if to == "" {
		to = recorded[0].Standard
	}
	if len(recorded) == 2 && recorded[0].At != recorded[1].At {
		return fmt.Errorf("%s is at the %s, %s at the %s: a driveline loss lies between, so they are not compared",
			recorded[0].Name, recorded[0].At, recorded[1].Name, recorded[1].At)
	}
	out := sheetsJSON{Gain: []gainJSON{}, Notes: []string{}}
	for _, s := range recorded {
		one, err := restated(s, to)
		if err != nil {
			return usagef("%s: %w", s.Name, err)
		}
		out.Sheets = append(out.Sheets, one)
		if one.note != "" {
			out.Notes = append(out.Notes, one.note)
		}
	}
	if err := setShift(c, out.Sheets); err != nil {
		return err
	}
	out.Notes = append(out.Notes, a.pairNotes(c, out.Sheets)...)
	if len(out.Sheets) == 2 && out.Sheets[0].curve != nil && out.Sheets[1].curve != nil {
		for _, d := range out.Sheets[1].curve.Over(out.Sheets[0].curve) {
			out.Gain = append(out.Gain, gainJSON(d))
		}
	}
	uses := "about what a run uses; --shift says yours"
	if c.Flags().Changed("shift") {
		uses = "what a run uses"
	}
	a.aside(out.Notes)
	return a.answer(out, a.gainTable(out.Sheets, out.Gain), func(w io.Writer) { a.sheetsText(w, out, uses) })
}

func (a *app) sheetsText(w io.Writer, out sheetsJSON, uses string) {
	for _, s := range out.Sheets {
		fmt.Fprintf(w, "%s, %s\n", s.Name, standardWords(s.Standard))
		fmt.Fprintf(w, "  peak    %s%s\n", a.power1(s.PeakHP), atRPM(s.PeakRPM))
		if s.TorqueLF.Known() {
			fmt.Fprintf(w, "  torque  %s%s\n", a.show(units.Torque, s.TorqueLF), atRPM(s.TorqueRPM))
		}
		if s.MeanHP.Known() {
			a.wrapped(w, fmt.Sprintf("  mean    %s from %.0f to %.0f rpm: %s", a.power1(s.MeanHP.Value()), s.ShiftLow.Value(), s.ShiftHigh.Value(), uses))
		}
	}
	if plot := a.plot(out.Sheets); plot != "" {
		fmt.Fprintf(w, "\n%s\n", plot)
	}
	if len(out.Gain) > 0 {
		fmt.Fprintln(w)
		a.gainTable(out.Sheets, out.Gain).Render(w, table.Text, a.width())
	}
	for _, n := range out.Notes {
		a.say(w, "note", n)
	}
}

// movedPeak is how far apart two peaks lie, rpm, before the shifts move with them.
const movedPeak = 300

// pairNotes say of two sheets what the table of their points does not.
func (a *app) pairNotes(c *cobra.Command, sheets []*sheetJSON) (notes []string) {
	if len(sheets) != 2 {
		return nil
	}
	x, y := sheets[0], sheets[1]
	if x.curve == nil || y.curve == nil {
		notes = append(notes, fmt.Sprintf("%s at the peak of %s over that of %s", a.signed(y.PeakHP-x.PeakHP), y.Name, x.Name))
	} else if apart := y.curve.Peak().RPM - x.curve.Peak().RPM; math.Abs(apart) >= movedPeak && !c.Flags().Changed("shift") {
		low, high := y.curve.UsualShiftRange()
		notes = append(notes, fmt.Sprintf("%s peaks %+.0f rpm from %s: shifted there, a run uses about --shift %.0f-%.0f", y.Name, apart, x.Name, low, high))
	}
	return notes
}

// restated is a recorded sheet in another standard.
func restated(s logbook.Sheet, to string) (*sheetJSON, error) {
	day, known, err := dynoAir(s)
	if err != nil {
		return nil, err
	}
	k, err := predict.Restate(predict.Standard(s.Standard), predict.Standard(to), day, known)
	if err != nil {
		return nil, err
	}
	out := &sheetJSON{Name: s.Name, Standard: to, Restated: k, PeakHP: k * s.PeakHP.Value(), PeakRPM: s.PeakRPM, Points: []logbook.Point{}}
	if k != 1 {
		out.note = fmt.Sprintf("%s: %s x %.4f makes %s", s.Name, standardWords(s.Standard), k, standardWords(to))
		if !known {
			out.note += "; the dyno's air is not known: within 2 % at a low one, 4 % a mile high"
		}
	}
	for _, p := range s.Points {
		out.curve = append(out.curve, predict.DynoPoint{RPM: p.RPM, HP: k * p.HP})
		out.Points = append(out.Points, logbook.Point{RPM: p.RPM, HP: k * p.HP})
	}
	if len(out.curve) < 2 {
		out.curve = nil
		return out, nil
	}
	torque := out.curve.PeakTorque()
	out.TorqueLF, out.TorqueRPM = units.Some(torque.LbFt()), units.Some(torque.RPM)
	return out, nil
}

// setShift works out the means over the range of the flag, or the usual one of
// the first sheet as far as the others go.
func setShift(c *cobra.Command, sheets []*sheetJSON) error {
	text, _ := c.Flags().GetString("shift")
	var low, high float64
	if text != "" {
		var err error
		if low, high, err = rpmRange(text); err != nil {
			return usagef("--shift %q: %w", text, err)
		}
	}
	for _, s := range sheets {
		if s.curve == nil {
			continue
		}
		if text == "" && high == 0 {
			low, high = s.curve.UsualShiftRange()
		}
		mean, err := s.curve.Mean(low, high)
		if err != nil && text != "" {
			return usagef("--shift: %s: %w", s.Name, err)
		}
		if err == nil {
			s.MeanHP, s.ShiftLow, s.ShiftHigh = units.Some(mean), units.Some(low), units.Some(high)
		}
	}
	return nil
}

func rpmRange(text string) (low, high float64, err error) {
	left, right, both := strings.Cut(text, "-")
	if !both {
		return 0, 0, fmt.Errorf("want two engine speeds, as 4500-6000")
	}
	if low, err = units.RPM.Parse(left); err != nil {
		return 0, 0, err
	}
	high, err = units.RPM.Parse(right)
	return low, high, err
}

// plot draws the curves over each other, without colour: by their marks.
func (a *app) plot(sheets []*sheetJSON) string {
	marks := []string{"o", "+"}
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range sheets {
		if s.curve == nil {
			return ""
		}
		low, high = math.Min(low, s.curve[0].RPM), math.Max(high, s.curve[len(s.curve)-1].RPM)
	}
	width := 60
	if w := a.width(); w > 0 {
		width = min(max(w-14, 20), 100)
	}
	series := make([][]float64, len(sheets))
	chars := make([]asciigraph.CharSet, len(sheets))
	var legend []string
	for i, s := range sheets {
		for col := range width {
			hp := math.NaN()
			if p := s.curve.At(low + (high-low)*float64(col)/float64(width-1)); p.Known() {
				hp = units.Power.In(a.units, p.Value())
			}
			series[i] = append(series[i], hp)
		}
		chars[i] = asciigraph.CreateCharSet(marks[i])
		legend = append(legend, marks[i]+" "+table.Clean(s.Name))
	}
	caption := fmt.Sprintf("%s over rpm   %s", units.Power.Symbol(a.units), strings.Join(legend, "   "))
	return asciigraph.PlotMany(series, asciigraph.Height(12), asciigraph.Width(width), asciigraph.Precision(0),
		asciigraph.SeriesChars(chars...), asciigraph.XAxisRange(low, high), asciigraph.XAxisTickCount(5),
		asciigraph.XAxisValueFormatter(func(v float64) string { return fmt.Sprintf("%.0f", v) }), asciigraph.Caption(caption))
}

func (a *app) gainTable(sheets []*sheetJSON, gain []gainJSON) table.Table {
	hp := a.suffix(units.Power)
	t := table.Table{Columns: []table.Column{{Head: "rpm", Key: "rpm", Right: true}}}
	if len(sheets) == 2 && len(gain) > 0 {
		t.Columns = append(t.Columns, table.Column{Head: sheets[0].Name, Key: "before_" + hp, Right: true},
			table.Column{Head: sheets[1].Name, Key: "after_" + hp, Right: true}, table.Column{Head: "gain", Key: "gain_" + hp, Right: true})
		for _, g := range gain {
			t.Add(fmt.Sprintf("%.0f", g.RPM), a.power1(g.BeforeHP), a.power1(g.AfterHP), a.signed(g.GainHP))
		}
		return t
	}
	t.Columns = append(t.Columns, table.Column{Head: "power", Key: "power_" + hp, Right: true},
		table.Column{Head: "torque", Key: "torque_" + a.suffix(units.Torque), Right: true})
	for _, s := range sheets {
		for _, p := range s.curve {
			t.Add(fmt.Sprintf("%.0f", p.RPM), a.power1(p.HP), a.cell(units.Torque, units.Some(p.LbFt())))
		}
	}
	return t
}

// power1 is a power with the decimal that a sheet prints.
func (a *app) power1(hp float64) string {
	text := fmt.Sprintf("%.1f", units.Power.In(a.units, hp))
	if a.format == table.CSV {
		return text
	}
	return text + " " + units.Power.Symbol(a.units)
}

func (a *app) signed(hp float64) string {
	if hp >= 0 {
		return "+" + a.power1(hp)
	}
	return a.power1(hp)
}
