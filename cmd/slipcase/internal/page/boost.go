package page

import (
	"fmt"
	"io"
	"math"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// boostJSON is boost worked out.
type boostJSON struct {
	Words         string     `json:"words"`
	Psi           float64    `json:"boost_psi"`
	PsiThere      float64    `json:"boost_there_psi"` // in the air given
	PressureRatio float64    `json:"pressure_ratio"`
	OutletF       float64    `json:"outlet_f"`
	ChargeF       float64    `json:"charge_f"`
	Density       crew.Range `json:"density_ratio"`
	BeforeDrive   float64    `json:"power_ratio_before_drive"` // this and all above over no boost
	DrivePct      float64    `json:"drive_pct"`
	Power         crew.Range `json:"power_ratio"` // of what the change adds
	Explains      string     `json:"explains,omitempty"`
	Cautions      []string   `json:"cautions"`
}

func (p *Page) newBoostJSON(b crew.Boosted) *boostJSON {
	return &boostJSON{
		Words: p.BoostWords(b), Psi: b.To.Psi, PsiThere: b.GaugePsi, PressureRatio: b.PressureRatio,
		OutletF: b.OutletF, ChargeF: b.ChargeF, Density: b.Density, BeforeDrive: b.BeforeDrive,
		DrivePct: 100 * b.DriveShare, Power: b.Power, Explains: explains(b), Cautions: BoostCautions,
	}
}

// Boost tells what boost makes of the power, and what to type next.
func (p *Page) Boost(b crew.Boosted) error {
	p.Aside(BoostCautions)
	return p.Answer(p.newBoostJSON(b), boostTable(b), func(w io.Writer) {
		p.boostText(w, b)
		gain := func(ratio float64) float64 { return 100 * (ratio - 1) }
		if math.Abs(gain(b.Power.Likely)) < 0.5 {
			return
		}
		fmt.Fprintf(w, "  next, what that buys   slipcase forecast --vehicle NAME --gain %.0f/%.0f/%.0f%%\n",
			gain(b.Power.Low), gain(b.Power.Likely), gain(b.Power.High))
	})
}

// BoostWords name a boost, and what it was before.
func (p *Page) BoostWords(b crew.Boosted) string {
	show := func(psi float64) string { return p.Show(units.Boost, units.Some(psi)) }
	by := fmt.Sprintf("a %s blower", b.To.Blower)
	if b.To.Blower == crew.Turbo {
		by = "a turbo"
	}
	if b.Now.Psi != 0 {
		return fmt.Sprintf("from %s to %s by %s", show(b.Now.Psi), show(b.To.Psi), by)
	}
	return fmt.Sprintf("%s by %s", show(b.To.Psi), by)
}

func (p *Page) boostText(w io.Writer, b crew.Boosted) {
	fmt.Fprintln(w, p.BoostWords(b))
	p.Say(w, "  power", fmt.Sprintf("x %.2f, 8 of 10 in %.2f-%.2f", b.Power.Likely, b.Power.Low, b.Power.High))
	temp := func(f float64) string { return p.Show(units.Temperature, units.Some(f)) }
	p.Say(w, "  air", fmt.Sprintf("pressure ratio %.2f, %s after it, %s into the engine, "+
		"%.2f times as dense (%.2f to %.2f)",
		b.PressureRatio, temp(b.OutletF), temp(b.ChargeF), b.Density.Likely, b.Density.Low, b.Density.High))
	takes := "its own drive"
	if b.To.Blower == crew.Turbo {
		takes = "back pressure"
	}
	p.Say(w, "  "+takes, fmt.Sprintf("driving it costs %.0f %% of the unboosted power; before that loss, %.2f times, "+
		"more than the air, since friction does not grow with it", 100*b.DriveShare, b.BeforeDrive))
	if math.Abs(b.GaugePsi-b.To.Psi) > 0.15 {
		p.Say(w, "  in this air", fmt.Sprintf("the gauge reads %s", p.Show(units.Boost, units.Some(b.GaugePsi))))
	}
	if b.FromPulley {
		p.Say(w, "  the pulley", "what leaks back in the blower is left out: the boost is on the high side")
	}
	if said := explains(b); said != "" {
		p.Say(w, "  the claim", said)
	}
	for _, caution := range BoostCautions {
		p.Say(w, "  caution", caution)
	}
	fmt.Fprintln(w)
}

func explains(b crew.Boosted) string {
	if b.Explains == nil {
		return ""
	}
	return Explained(*b.Explains)
}

func boostTable(b crew.Boosted) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "ratio", Key: "ratio"},
		{Head: "likely", Key: "likely", Right: true},
		{Head: "8 of 10 from", Key: "low80", Right: true},
		{Head: "to", Key: "high80", Right: true},
	}}
	row := func(of string, r crew.Range) {
		cell := func(v float64) string { return fmt.Sprintf("%.3f", v) }
		t.AddCells(table.Cells{"ratio": of, "likely": cell(r.Likely), "low80": cell(r.Low), "high80": cell(r.High)})
	}
	row("density", b.Density)
	row("power", b.Power)
	return t
}
