package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/counts"
	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// The flags of a change's drivetrain, of its dyno sheets, and all that ask what one is worth,
// the target last.
var (
	driveFlags  = []string{"rear", "tire", "stall", "shift-at"}
	sheetFlags  = []string{"shift", "before-is", "after-is"}
	changeFlags = append(driveFlags, "gain", "lose", "grip", "before", "after", "target")
)

func registerChange(c *cobra.Command) {
	f := c.Flags()
	figureFlag(c, "gain", "with --vehicle: power added, as {90hp|67kW}, 12% or low/likely/high as {70/90/105hp|52/67/78kW}",
		units.Power, units.Percent)
	figureFlag(c, "lose", "with --vehicle: weight taken off, as {40lb|18kg}; {-15lb|-7kg} puts it on", units.Weight)
	figureFlag(c, "grip", "with --vehicle: grip of the tires added, as +5%, or the 60 ft time there will be, as 1.85s",
		units.Percent, units.Seconds)
	f.String("before", "", "with --vehicle: a dyno sheet before the change, a file or one of slipcase power list")
	f.String("after", "", "with --vehicle: the sheet after it")
	c.Flags().Var(&typed.SheetIs{}, "before-is", "of a file: its place, standard and air, as \"wheels din {60F 40% 30.1inHg|16C 40% 1019hPa}\"")
	c.Flags().Var(&typed.SheetIs{}, "after-is", "the same of the sheet after")
	shiftFlag(c, "with --before and --after: the engine speeds that a run uses, as 4500-6000")
	quantityFlag(c, "target", units.Seconds, "with --vehicle: a time at the finish: what power or weight it needs")
	tyresFlag(c, "with --vehicle: the speed that the tires are rated for, as {149mph|240km/h}")
	quantityFlag(c, "rear", units.Ratio, "with --vehicle: another final drive, as 4.56; today's, tire and dyno sheet on file")
	quantityFlag(c, "tire", units.Diameter, "with --vehicle: another driven tire, by its diameter, as {26in|660mm}")
	quantityFlag(c, "stall", units.RPM, "with --vehicle: another converter, by its stall, as 4600")
	quantityFlag(c, "shift-at", units.RPM, "with --vehicle: the engine speed of other shifts, as 6700")
	for _, flag := range changeFlags[:len(changeFlags)-1] {
		c.MarkFlagsMutuallyExclusive("target", flag)
	}
}

func anyChanged(c *cobra.Command, flags ...string) bool {
	return slices.ContainsFunc(flags, c.Flags().Changed)
}

// forecastChange answers forecast --vehicle with a change or a target.
func (a *app) forecastChange(c *cobra.Command, _ []string, lb *crew.Session) error {
	if err := cmp.Or(
		counts.Idle(c, "--before and --after", []string{"before", "after"}, sheetFlags...),
		counts.Idle(c, "--gain", []string{"gain"}, "power-at"),
		counts.Idle(c, "--gain, --lose, --grip, --rear, --before and --after, or --target", changeFlags, "tire-rating"),
	); err != nil {
		return usage(err)
	}
	if figureOf(c, "gain").Percent && c.Flags().Changed("power-at") {
		return usagef("--power-at says where a gain in %s counts: one in percent is the same at both",
			units.Power.Symbol(a.units))
	}
	if grip := figureOf(c, "grip"); grip.Percent {
		if err := usage(counts.Share("grip", c.Flag("grip").Value.String(), grip.Likely)); err != nil {
			return err
		}
	}
	tyres := quantityOf(c, "tire-rating")
	if err := crew.CheckTyres(tyres); err != nil {
		return err
	}
	p, err := a.prospect(c, lb)
	if err != nil {
		return err
	}
	if target := quantityOf(c, "target"); target.Known() {
		need, err := p.Reach(target.Value(), tyres)
		if err != nil {
			return err
		}
		return a.page.Target(need)
	}
	ask := crew.ChangeAsk{
		Gain:     figureOf(c, "gain"),
		Off:      figureOf(c, "lose"),
		Grip:     figureOf(c, "grip"),
		TyresMPH: tyres,
		Drive: crew.Drivetrain{
			Final: quantityOf(c, "rear"), TyreIn: quantityOf(c, "tire"),
			StallRPM: quantityOf(c, "stall"), ShiftRPM: quantityOf(c, "shift-at"),
		},
	}
	if ask.Curve, err = lb.CurveOf(p.Run.Setup); err != nil {
		return err
	}
	if c.Flags().Changed("power-at") {
		ask.PowerAt, _ = c.Flags().GetString("power-at")
	}
	if anyChanged(c, "before", "after") {
		if ask.Gain.Given {
			return usagef("--gain and the sheets of --before and --after: want one of them")
		}
		if ask.BySheets, err = a.sheetGain(c, lb); err != nil {
			return err
		}
	}
	u, err := p.Upgrade(ask)
	if errors.Is(err, crew.ErrNoChange) {
		return usagef("%w: want a --gain, --lose or --grip other than 0", err)
	} else if errors.Is(err, crew.ErrCannotTell) {
		return &advised{err, page.RegearHint(a.units)}
	} else if err != nil {
		return err
	}
	return a.page.Upgrade(u)
}

// sheetGain is the gain between the two dyno sheets of the command.
func (a *app) sheetGain(c *cobra.Command, lb *crew.Session) (*crew.SheetGain, error) {
	before, read, err := a.gainSheet(c, lb, "before")
	if err != nil {
		return nil, err
	}
	after, more, err := a.gainSheet(c, lb, "after")
	if err != nil {
		return nil, err
	}
	gain, err := crew.GainBySheets(before, after, shiftOf(c))
	if err == nil {
		gain.Notes = slices.Concat(read, more, gain.Notes)
	}
	if errors.Is(err, crew.ErrPeakAlone) {
		return nil, usagef("%w, --gain takes a figure", err)
	}
	return gain, err
}

// gainSheet is the dyno sheet that a flag names, a file or one of the log; a file's is told how it
// was understood.
func (a *app) gainSheet(
	c *cobra.Command,
	lb *crew.Session,
	flag string,
) (s logbook.Sheet, read []crew.ChangeNote, err error) {
	name, _ := c.Flags().GetString(flag)
	is := *c.Flags().Lookup(flag + "-is").Value.(*typed.SheetIs)
	if name == "" {
		return s, nil, usagef("--%s is missing: a gain by sheets wants both", flag)
	}
	if _, err := os.Stat(name); err != nil && name != "-" {
		sheet, err := lb.Sheet(name)
		if err != nil {
			return s, nil, fmt.Errorf("--%s: neither a file nor a sheet of slipcase power list: %w", flag, err)
		}
		if is != (typed.SheetIs{}) {
			return s, nil, usagef("--%s-is is of a file: %s is recorded, slipcase power amend %[2]s mends it", flag, name)
		}
		return sheet, nil, nil
	}
	pulled, err := a.readPull(name, notebook.PullAsk{At: is.At})
	if err != nil {
		return s, nil, err
	}
	s = logbook.Sheet{Name: filepath.Base(name), At: is.At, Standard: is.Standard}
	s.TempF, s.RHPct, s.StationInHg = is.TempF, is.RHPct, is.StationInHg
	crew.TakePull(&s, *pulled)
	return s, []crew.ChangeNote{{Kind: crew.SheetRead, Names: []string{s.Name}, Pulled: pulled}}, nil
}
