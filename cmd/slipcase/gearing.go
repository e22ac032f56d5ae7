package main

import (
	"encoding/json"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) gearingCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "gearing",
		Short: "speed, rpm, ratio, tyre or slip: the one that is not given",
		Long: `Works out the one of --rpm, --mph, --tyre and --rear that is left out; with all four, the
slip of converter, clutch and tyre. With --vehicle the speed is that of its next run, so
that a rear gear or a tyre can be chosen that crosses the stripe at the rpm you want.`,
		Example: `  slipcase gearing --rpm 6500 --tyre 28in --rear 4.10
  slipcase gearing --rpm 6500 --mph 105.8 --tyre 28in --rear 4.10
  slipcase gearing --vehicle heron --track saltgrass --rpm 6300 --tyre 28in --slip 4`,
		Args: cobra.NoArgs,
		RunE: do(func(c *cobra.Command, args []string) error {
			if c.Flags().Changed("vehicle") {
				if c.Flags().Changed("mph") {
					return usagef("--mph does not go with --vehicle, whose next run says it")
				}
				return a.reads(func(c *cobra.Command, _ []string, lb *crew.Session) error {
					mph, from, err := a.stripeSpeed(c, lb)
					if err != nil {
						return err
					}
					return a.gearing(c, units.Some(mph), from)
				})(c, args)
			}
			mph, err := numberFlag(c, "mph", units.Speed)
			if err != nil {
				return err
			}
			return a.gearing(c, mph, "")
		}),
	}
	f := c.Flags()
	f.String("rpm", "", "engine speed at the stripe")
	f.String("mph", "", "speed at the stripe, as 105.8mph or 170km/h")
	f.String("tyre", "", "diameter of the driven tyre, as 28in or 711mm")
	f.String("rear", "", "final drive, as 4.10")
	f.String("top", "1", "the gear you cross the stripe in")
	f.String("slip", "0", "percent lost in converter, clutch and tyre")
	registerSubject(c)
	return c
}

// gearingJSON is all of the gearing, the given and the found.
type gearingJSON struct {
	RPM       float64 `json:"rpm"`
	MPH       float64 `json:"mph"`
	TyreIn    float64 `json:"tyre_in"`
	Rear      float64 `json:"rear_ratio"`
	Top       float64 `json:"top_ratio"`
	SlipPct   float64 `json:"slip_pct"`
	Found     string  `json:"found"`
	SpeedFrom string  `json:"speed_from,omitempty"`
	Note      string  `json:"note,omitempty"`
	Caution   string  `json:"caution"`
}

func (a *app) gearing(c *cobra.Command, mph units.Number, speedFrom string) error {
	ratio := units.Ratio
	var n [5]units.Number
	for i, q := range []struct {
		flag string
		kind units.Kind
	}{{"rpm", units.RPM}, {"tyre", units.Diameter}, {"rear", ratio}} {
		var err error
		if n[i], err = numberFlag(c, q.flag, q.kind); err != nil {
			return err
		}
	}
	rpm, tyre, rear := n[0], n[1], n[2]
	top, slip, err := topAndSlip(c)
	if err != nil {
		return err
	}
	if err := predict.CheckGearing(rpm.Value(), mph.Value(), tyre.Value(), rear.Value()*top, slip); err != nil {
		return usage(err)
	}
	for flag, v := range map[string]units.Number{"rpm": rpm, "mph": mph, "tyre": tyre, "rear": rear} {
		if v.Known() && v.Value() == 0 {
			return usagef("--%s 0: want more than 0", flag)
		}
	}
	g := predict.Gearing{TyreIn: tyre.Value(), Ratio: rear.Value() * top, Slip: slip}
	out := gearingJSON{RPM: rpm.Value(), MPH: mph.Value(), TyreIn: tyre.Value(), Rear: rear.Value(), Top: top, SlipPct: 100 * slip, SpeedFrom: speedFrom}
	switch missing := 4 - countKnown(rpm, mph, tyre, rear); {
	case missing == 0 && c.Flags().Changed("slip"):
		return usagef("all of it is given: leave out the one to be worked out, --slip among them")
	case missing == 0:
		out.SlipPct, out.Found = 100*g.SlipFrom(out.RPM, out.MPH), "slip"
	case missing > 1:
		return usagef("%d of --rpm, --mph, --tyre and --rear are missing: want three of them, or all four for the slip", missing)
	case !rpm.Known():
		out.RPM, out.Found = g.RPM(out.MPH), "rpm"
	case !mph.Known():
		out.MPH, out.Found = g.MPH(out.RPM), "speed"
	case !tyre.Known():
		out.TyreIn, out.Found = g.TyreFor(out.RPM, out.MPH), "tyre"
	default:
		out.Rear, out.Found = g.RatioFor(out.RPM, out.MPH)/top, "rear gear"
	}
	out.Note, out.Caution = gearingNote(out), "no faster than the engine's limit and the tyre's rating: their makers say them"
	return a.answer(out, a.gearingTable(out), func(w io.Writer) { a.gearingText(w, out) })
}

func topAndSlip(c *cobra.Command) (top, slip float64, err error) {
	text, _ := c.Flags().GetString("top")
	if top, err = units.Ratio.Parse(text); err != nil || !(top > 0.3 && top < 6) {
		return 0, 0, usagef("--top %q: want the ratio of the gear, as 1 or 0.7", text)
	}
	text, _ = c.Flags().GetString("slip")
	if slip, err = units.Percent.Parse(text); err != nil {
		return 0, 0, usagef("--slip: %v", err)
	}
	return top, slip / 100, nil
}

// MarshalJSON rounds what was worked out; the given stays as it was given.
func (g gearingJSON) MarshalJSON() ([]byte, error) {
	switch g.Found {
	case "rpm":
		g.RPM = rounded(g.RPM, page.ToRPM)
	case "tyre":
		g.TyreIn = rounded(g.TyreIn, page.ToInch)
	case "rear gear":
		g.Rear = rounded(g.Rear, page.ToRatio)
	}
	g.MPH, g.SlipPct = rounded(g.MPH, page.ToMPH), rounded(g.SlipPct, page.ToPct) // the speed may be a forecast, the slip a share
	type plain gearingJSON
	return json.Marshal(plain(g))
}

// stripeSpeed is the speed of the vehicle's next run at the end of it.
func (a *app) stripeSpeed(c *cobra.Command, lb *crew.Session) (float64, string, error) {
	next, history, err := a.nextRun(c, lb)
	if err != nil {
		return 0, "", err
	}
	f, err := predict.Expect(history, crew.PassOf(next))
	if err != nil {
		return 0, "", fmt.Errorf("%s: %w", next.Vehicle.ID, err)
	}
	m := farthest(next.Track, f)
	if f.MPHs[m].Centre == 0 {
		return 0, "", fmt.Errorf("%s: no speed is timed at %g ft: give --mph", next.Vehicle.ID, m.Ft())
	}
	return f.MPHs[m].Centre, fmt.Sprintf("%s at %g ft of its next run, the mean of the last 66 ft", next.Vehicle.ID, m.Ft()), nil
}

func (a *app) gearingTable(g gearingJSON) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: "rpm", Key: "rpm", Right: true},
		{Head: "speed", Key: "speed_" + a.suffix(units.Speed), Right: true},
		{Head: "tyre", Key: "tyre_" + a.suffix(units.Diameter), Right: true},
		{Head: "rear gear", Key: "rear_ratio", Right: true},
		{Head: "top gear", Key: "top_ratio", Right: true},
		{Head: "slip %", Key: "slip_pct", Right: true},
	}}
	t.Add(fmt.Sprintf("%.0f", g.RPM), a.cell(units.Speed, units.Some(g.MPH)), a.cell(units.Diameter, units.Some(g.TyreIn)),
		fmt.Sprintf("%.2f", g.Rear), fmt.Sprintf("%.2f", g.Top), fmt.Sprintf("%.1f", g.SlipPct))
	return t
}

func (a *app) gearingText(w io.Writer, g gearingJSON) {
	answer := map[string]string{
		"rpm":       fmt.Sprintf("%.0f rpm", g.RPM),
		"speed":     a.show(units.Speed, units.Some(g.MPH)),
		"tyre":      "a tyre of " + a.show(units.Diameter, units.Some(g.TyreIn)),
		"rear gear": fmt.Sprintf("a rear gear of %.2f", g.Rear),
		"slip":      fmt.Sprintf("%.1f %% slip", g.SlipPct),
	}[g.Found]
	fmt.Fprintf(w, "%s\n\n", answer)
	a.gearingTable(g).Render(w, table.Text, a.width())
	fmt.Fprintln(w)
	if g.SpeedFrom != "" {
		a.say(w, "speed", g.SpeedFrom)
	}
	if g.Note != "" {
		a.say(w, "note", g.Note)
	}
	a.say(w, "caution", g.Caution)
}

func gearingNote(g gearingJSON) string {
	switch {
	case g.Found == "slip" && g.SlipPct < 0:
		return "the car went farther than its tyre turned: the tyre has grown at speed, or a figure is wrong"
	case g.Found == "slip":
		return "converter, clutch and tyre together; a tyre that grows at speed hides some of it"
	case g.SlipPct == 0:
		return "no slip taken: a converter loses 2 to 10 % at the stripe (common practice, no source), --slip says it"
	}
	return ""
}
