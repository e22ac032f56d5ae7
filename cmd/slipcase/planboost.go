package main

import (
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

func registerBoost(c *cobra.Command) {
	f := c.Flags()
	f.String("boost", "", "boost in the manifold, as 6psi or 0.4bar: the gain is worked out from it")
	f.String("blower", "", "with --boost: roots, screw, centrifugal or turbo")
	f.String("boost-now", "", "with --boost or --pulley: the boost it has already")
	f.String("pulley", "", "with --boost-now: how many times as fast the blower will turn, as 1.1")
	f.String("efficiency", "", "with --boost: adiabatic, percent, as 55 or 50/55/60; by kind of blower when left out")
	f.String("intercooler", "", "with --boost: its effectiveness in percent, as 70; none when left out")
	f.String("held", "", "with a turbo: what its wastegate holds, gauge or absolute")
	registerReading(c)
}

// boostJSON is boost worked out, beside the part that it makes.
type boostJSON struct {
	Words         string        `json:"words"`
	Psi           float64       `json:"boost_psi"`
	PsiThere      float64       `json:"boost_there_psi"` // in the air given
	PressureRatio float64       `json:"pressure_ratio"`
	OutletF       float64       `json:"outlet_f"`
	ChargeF       float64       `json:"charge_f"`
	Density       predict.Range `json:"density_ratio"`
	BeforeDrive   float64       `json:"power_ratio_before_drive"` // this and all above over no boost
	DrivePct      float64       `json:"drive_pct"`
	Turbo         bool          `json:"-"`
	FromPulley    bool          `json:"-"`
	Power         predict.Range `json:"power_ratio"` // of what the change adds
	Explains      string        `json:"explains,omitempty"`
	Cautions      []string      `json:"cautions"`
}

// boostOf works out a part's boost and, where no gain was given, its gain; nil
// when the part has none.
func (a *app) boostOf(c *cobra.Command, lb *crew.Session, v logbook.Vehicle, p *logbook.Part) (*boostJSON, error) {
	if !anyChanged(c, "boost", "pulley") {
		if anyChanged(c, "blower", "boost-now", "efficiency", "intercooler", "held") {
			return nil, usagef("--blower and what goes with it want the boost: --boost 6psi, or --boost-now with --pulley")
		}
		return nil, nil
	}
	if err := a.boostThereIs(c, lb, v); err != nil {
		return nil, err
	}
	out, charge, err := a.workBoost(c)
	if err != nil {
		return nil, err
	}
	p.Boost = out.Words
	if !p.GainHP.Known() && !p.GainPct.Known() {
		percent := func(v float64) units.Number { return units.Some(math.Round(1000*(v-1)) / 10) }
		p.GainLowPct, p.GainPct, p.GainHighPct = percent(charge.Power.Low), percent(charge.Power.Likely), percent(charge.Power.High)
		return out, nil
	}
	change, _, err := changeOfPart(*p, powerOf(lb, v, a.now()))
	if err != nil {
		return nil, usage(err)
	}
	if change.Gain.Likely <= 0 {
		return nil, usagef("--gain with --boost: want the gain in percent, or a setup that states today's power, and more than 0")
	}
	out.Explains = page.Explained(charge.Explains(1 + change.Gain.Likely))
	return out, nil
}

// boostThereIs refuses to work a gain out from no boost where the vehicle has some
// from a change that is in.
func (a *app) boostThereIs(c *cobra.Command, lb *crew.Session, v logbook.Vehicle) error {
	if c.Flags().Changed("boost-now") {
		return nil
	}
	parts, err := lb.Parts(v.ID)
	if err != nil {
		return err
	}
	built, err := builtIn(lb, v.ID, a.now())
	if err != nil {
		return err
	}
	for _, p := range parts {
		if p.Boost != "" && built[p.Name] {
			return usagef("%s is in and makes boost already: want what there is now, as --boost-now 6psi, or 0 when it came off", p.Name)
		}
	}
	return nil
}

// workBoost is the boost of the flags in their air, standard air without, and
// what it makes of the power there is now.
func (a *app) workBoost(c *cobra.Command) (*boostJSON, predict.Charge, error) {
	var charge predict.Charge
	to, now, err := boostFlags(c)
	if err != nil {
		return nil, charge, err
	}
	air, known, _, err := a.givenAir(c)
	if err != nil {
		return nil, charge, err
	}
	if !known {
		air = weather.Standard
	}
	if now != nil && c.Flags().Changed("pulley") {
		if to, err = pulleyFlag(c, *now); err != nil {
			return nil, charge, err
		}
	}
	if charge, err = to.In(air); err != nil {
		return nil, charge, usage(err)
	}
	show := func(psi float64) string { return a.show(units.Boost, units.Some(psi)) }
	words := fmt.Sprintf("%s by %s", show(to.Psi), blowerWords(to.Blower))
	if now != nil {
		if charge.Power, err = predict.Raise(*now, to, air); err != nil {
			return nil, charge, usage(err)
		}
		words = fmt.Sprintf("from %s to %s by %s", show(now.Psi), show(to.Psi), blowerWords(to.Blower))
	}
	return &boostJSON{
		Words: words, Psi: to.Psi, PsiThere: charge.GaugePsi, PressureRatio: charge.PressureRatio, OutletF: charge.OutletF, ChargeF: charge.ChargeF,
		Density: charge.Density, BeforeDrive: charge.BeforeDrive, DrivePct: 100 * charge.DriveShare, Power: charge.Power,
		Turbo: to.Blower == predict.Turbo, FromPulley: c.Flags().Changed("pulley"), Cautions: page.BoostCautions,
	}, charge, nil
}

// boostFlags reads the boost to come and the one there is, nil without.
func boostFlags(c *cobra.Command) (to predict.Boost, now *predict.Boost, err error) {
	blower, err := oneOf(c, "blower", "roots", "screw", "centrifugal", "turbo")
	if err != nil {
		return to, nil, err
	}
	held, err := oneOf(c, "held", "", "gauge", "absolute")
	if err != nil {
		return to, nil, err
	}
	efficiency, err := threeFlag(c, "efficiency", units.Percent)
	if err != nil {
		return to, nil, err
	}
	if efficiency.given && efficiency.low == 0 {
		return to, nil, usagef("--efficiency 0: want 30 to 90 percent; left out, it goes by the kind of blower")
	}
	cooler, err := threeFlag(c, "intercooler", units.Percent)
	if err != nil {
		return to, nil, err
	}
	to = predict.UsualBoost(predict.Boost{
		Blower: predict.Blower(blower), Hold: predict.Hold(held),
		Efficiency: times(efficiency.exact(), 0.01), Intercooler: times(cooler.exact(), 0.01),
	})
	psi, err := numberFlag(c, "boost", units.Boost)
	if err != nil {
		return to, nil, err
	}
	to.Psi = psi.Value()
	if c.Flags().Changed("boost-now") {
		had, err := numberFlag(c, "boost-now", units.Boost)
		if err != nil {
			return to, nil, err
		}
		if before := to; had.Value() != 0 {
			before.Psi = had.Value()
			now = &before
		}
	}
	switch {
	case c.Flags().Changed("pulley") && psi.Known():
		return to, nil, usagef("--boost and --pulley: want one of them")
	case c.Flags().Changed("pulley") && now == nil:
		return to, nil, usagef("--pulley wants the boost there is: --boost-now 6psi")
	}
	return to, now, nil
}

func pulleyFlag(c *cobra.Command, now predict.Boost) (predict.Boost, error) {
	speed, err := numberFlag(c, "pulley", units.Ratio)
	if err != nil {
		return now, err
	}
	to, err := now.AfterPulley(speed.Value())
	return to, usage(err)
}

func (a *app) boostText(w io.Writer, b boostJSON) {
	fmt.Fprintln(w, b.Words)
	a.say(w, "  power", fmt.Sprintf("x %.2f (%.2f to %.2f, 8 in 10)", b.Power.Likely, b.Power.Low, b.Power.High))
	temp := func(f float64) string { return a.show(units.Temperature, units.Some(f)) }
	a.say(w, "  air", fmt.Sprintf("pressure ratio %.2f, %s behind it, %s into the engine, %.2f times as dense (%.2f to %.2f)",
		b.PressureRatio, temp(b.OutletF), temp(b.ChargeF), b.Density.Likely, b.Density.Low, b.Density.High))
	takes := "its own drive"
	if b.Turbo {
		takes = "back pressure"
	}
	a.say(w, "  "+takes, fmt.Sprintf("takes %.0f %% of the power without boost; before it x %.2f of that, more than the air, since friction does not grow with it",
		b.DrivePct, b.BeforeDrive))
	if math.Abs(b.PsiThere-b.Psi) > 0.15 {
		a.say(w, "  in this air", fmt.Sprintf("the gauge reads %s", a.show(units.Boost, units.Some(b.PsiThere))))
	}
	if b.FromPulley {
		a.say(w, "  the pulley", "what leaks back in the blower is left out: the boost is on the high side")
	}
	if b.Explains != "" {
		a.say(w, "  the claim", b.Explains)
	}
	for _, caution := range b.Cautions {
		a.say(w, "  caution", caution)
	}
	fmt.Fprintln(w)
}

func blowerWords(b predict.Blower) string {
	if b == predict.Turbo {
		return "a turbo"
	}
	return fmt.Sprintf("a %s blower", b)
}
