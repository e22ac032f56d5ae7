package main

import (
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/spf13/cobra"

	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) dialCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "dial",
		Short: "the next round's dial-in, its breakout risk and the chance to win",
		Long: `The dial for the next round, from the forecast in the air of then: the chance
of breaking out with each dial, and the dial for a wanted risk. With --opponent
also the chance to win, by its dial, reaction and ET, each with its spread (sd),
or by a vehicle of the log. It assumes that neither lane lifts. --class index:
one index for both, no handicap; --class heads-up: no limit.`,
		Example: `  slipcase dial --at 16:30
  slipcase dial --risk 10 --temp 84F --rh 50 --station 28.90inHg
  slipcase dial --opponent "dial 12.40 reaction .042 sd .020 et 12.43 sd .03"
  slipcase dial --opponent "plover dial 9.90" --distance 660
  slipcase dial --class index --index 8.90`,
		Args: cobra.NoArgs,
		RunE: a.reads(a.dial),
	}
	f := c.Flags()
	f.String("vehicle", "", "the vehicle")
	f.String("at", "", "when it will run, as 16:30; now when left out")
	f.String("distance", "", "660, 1000 or 1320 ft; what it usually races when left out")
	f.Bool("force", false, "take air that looks wrong as it is")
	f.String("risk", fmt.Sprint(100*predict.UsualRisk), "how many times in 100 it may break out")
	f.String("reaction", "", "your reaction, as \".030 sd .015\"; from the log when left out")
	f.String("opponent", "", "the other lane, as \"dial 12.40 reaction .042 sd .020 et 12.43 sd .03\"")
	registerRules(c)
	registerReading(c)
	return brief(c)
}

// dialling is all that a dial is chosen by.
type dialling struct {
	run      logbook.Run
	forecast predict.Forecast
	mark     predict.Mark
	rules    roundRules
	riskPct  float64 // wanted, times in 100
	reaction predict.Spread
	rival    *rival
	notes    []string
}

func (a *app) dial(c *cobra.Command, _ []string, lb *logbook.Logbook) error {
	d, err := a.dialling(c, lb)
	if err != nil {
		return err
	}
	out, err := d.answer()
	if err != nil {
		return usage(err)
	}
	return a.answer(out, a.dialTable(out), func(w io.Writer) { a.dialText(w, d, out) })
}

func (a *app) dialling(c *cobra.Command, lb *logbook.Logbook) (*dialling, error) {
	d := &dialling{}
	var err error
	if d.riskPct, err = flagTimes(c, "risk"); err != nil {
		return nil, err
	}
	var history []predict.Pass
	if d.run, history, err = a.nextRun(c, lb); err != nil {
		return nil, err
	}
	if d.rules, err = readRules(c, d.run.Track); err != nil {
		return nil, err
	}
	if d.forecast, err = predict.Expect(history, passOf(d.run)); err != nil {
		return nil, fmt.Errorf("%s: %w", d.run.Vehicle.ID, err)
	}
	if d.mark, err = distance(c, farthest(d.run.Track, d.forecast)); err != nil {
		return nil, err
	}
	d.notes = slices.Concat(d.forecast.Warnings, d.run.Air.Remarks, missing(d.run))
	return d, a.takeRival(c, lb, d)
}

// distance is the mark named by the flag, else the one it usually races.
func distance(c *cobra.Command, usual predict.Mark) (predict.Mark, error) {
	text, _ := c.Flags().GetString("distance")
	if text == "" {
		return usual, nil
	}
	ft, err := units.Length.Parse(text)
	for m := predict.At660; m < predict.Marks; m++ {
		if err == nil && math.Abs(m.Ft()-ft) < 1 {
			return m, nil
		}
	}
	return 0, usagef("--distance %q: want 660, 1000 or 1320", text)
}

// carFt is the length of a car at the finish, bikeFt of a motorcycle (common
// practice, no source).
const carFt, bikeFt = 15, 7

func (d *dialling) answer() (dialJSON, error) {
	band := d.forecast.ETs[d.mark]
	out := dialJSON{
		Vehicle: d.run.Vehicle.ID, Track: d.run.Track.ID, Time: d.run.Slip.Time, DistanceFt: d.mark.Ft(), Class: string(d.rules.Format),
		RiskPct: d.riskPct, ETS: rounded(band.Centre, toS), Low80S: rounded(band.Low80, toS), High80S: rounded(band.High80, toS),
		Dials: []oneDial{}, Warnings: append([]string{}, d.notes...),
	}
	if s, known := d.forecast.TimeOver(d.mark, d.lengthFt()); known {
		out.CarLengthS = someRounded(s, toS)
	}
	err := d.fill(&out)
	return out, err
}

// fill works out the dials with their chances, by the class.
func (d *dialling) fill(out *dialJSON) (err error) {
	wanted := d.rules.index.Value()
	dials := []float64{wanted}
	switch d.rules.Format {
	case predict.HeadsUp:
		one, err := d.one(0)
		out.WinPct = one.WinPct
		return err
	case predict.Index:
		slower, err := d.forecast.SlowerFor(d.mark, wanted, d.riskPct/100)
		if err != nil {
			return err
		}
		out.SlowerS = someRounded(slower, toS)
	default:
		if wanted, err = d.forecast.DialFor(d.mark, d.riskPct/100); err != nil {
			return err
		}
		dials = d.forecast.DialsAround(d.mark, wanted)
		if d.rival != nil {
			out.HeadStartS = someRounded(d.rival.DialS-wanted, toS)
		}
	}
	for _, s := range dials {
		one, err := d.one(s)
		if err != nil {
			return err
		}
		out.Dials = append(out.Dials, one)
		if math.Abs(s-wanted) < 1e-6 {
			out.DialS, out.BreakoutPct, out.WinPct = units.Some(s), units.Some(one.BreakoutPct), one.WinPct
		}
	}
	return nil
}

func (d *dialling) lengthFt() float64 {
	if d.run.Vehicle.Kind == string(predict.Motorcycle) {
		return bikeFt
	}
	return carFt
}

func (d *dialling) one(dialS float64) (oneDial, error) {
	one := oneDial{DialS: dialS, BreakoutPct: rounded(100*d.forecast.BreakoutChance(d.mark, dialS), toPct)}
	if d.rival == nil {
		return one, nil
	}
	other := d.rival.Opponent
	other.DialS = d.rules.dialOf(units.Some(other.DialS)).Value()
	win, err := d.forecast.WinChance(d.mark, d.rules.RoundRules, d.reaction, dialS, other)
	one.WinPct = someRounded(100*win, toPct)
	return one, err
}
