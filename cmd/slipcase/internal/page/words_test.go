package page

import (
	"slices"
	"strings"
	"testing"

	"slipcase/predict"
	"slipcase/weather/units"
)

// said holds words to what they are to be.
func said(t *testing.T, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
}

func TestLeftOut(t *testing.T) {
	ft := units.Some
	for _, c := range []struct {
		l    predict.LeftOut
		want string
	}{
		{predict.LeftOut{Why: predict.NoTime}, "no time on the slip"},
		{predict.LeftOut{Why: predict.OutOfLine}, "way out of line, nothing noted: not used"},
		{predict.LeftOut{Why: predict.OutOfLine, CountsFt: ft(660)}, "looks lifted past 660; used to 660"},
		{predict.LeftOut{Why: predict.Noted, Effort: predict.Lifted}, "lifted, not noted where"},
		{predict.LeftOut{Why: predict.Noted, Effort: predict.Spun, FullFt: ft(1150.5), CountsFt: ft(1000)}, "spun, full power to 1150.5 ft; used to 1000"},
		{predict.LeftOut{Why: predict.Noted, FullFt: ft(900)}, "full power to 900 ft"},
	} {
		said(t, LeftOut(c.l, units.US), c.want)
	}
	said(t, LeftOut(predict.LeftOut{Why: predict.Noted, FullFt: ft(900)}, units.Metric), "full power to 274 m")
	list := []predict.LeftOut{
		{ID: "a", Why: predict.NoTime},
		{ID: "b", Why: predict.OutOfLine},
		{ID: "c", Why: predict.NoTime},
	}
	if got := Reasons(list, units.US); !slices.Equal(
		got,
		[]string{"2 runs: no time on the slip", "1 run: way out of line, nothing noted: not used"},
	) {
		t.Errorf("%q", got)
	}
}

func TestCautions(t *testing.T) {
	car := predict.Machine{Kind: predict.Car}
	at := func(et, mph float64) (s predict.Splits) {
		s.ETs[predict.At1320], s.MPHs[predict.At1320] = units.Some(et), units.Some(mph)
		return s
	}
	const rulebook = "thresholds from memory, November 2026: the rulebook in force and the technical inspector decide; test on a closed track"
	const makers = " are good for what their makers say, not for what engine and tires put through them: a licensed shop if in doubt; test on a closed track"
	for _, c := range []struct {
		list []predict.Caution
		sys  units.System
		want []string
	}{
		{nil, units.US, nil},
		{predict.Cautions(car, at(13.5, 100)), units.US, []string{
			"13.99 and quicker (8.59 in the eighth): a helmet, a driveshaft loop on slicks", rulebook,
		}},
		{predict.Cautions(car, at(14.5, 136)), units.US, []string{
			"9.99 and quicker (6.39 in the eighth), or 135 mph: a roll cage (newer factory-built cars differ), a competition license, a chassis certificate, a fire suit with gloves and shoes, a neck restraint", rulebook,
		}},
		{predict.Cautions(car, at(14.5, 136)), units.Metric, []string{
			"9.99 and quicker (6.39 in the eighth), or 217 km/h: a roll cage (newer factory-built cars differ), a competition license, a chassis certificate, a fire suit with gloves and shoes, a neck restraint", rulebook,
		}},
		{predict.Cautions(predict.Machine{Kind: predict.Motorcycle}, at(14.5, 90)), units.US, []string{
			"a motorcycle's rider wears helmet, leathers, boots and gloves, whatever the time", rulebook,
		}},
		{predict.ChangeCautions(car, predict.Change{Grip: predict.Exactly(0.05)}, at(12.5, 110), at(12.4, 110)), units.US, []string{
			"13.99 and quicker (8.59 in the eighth): a driveshaft loop on slicks, if slicks bring the grip", rulebook,
			"clutch, transmission, driveshaft and axles" + makers,
		}},
		{predict.ChangeCautions(car, predict.Change{Gain: predict.Exactly(0.05)}, at(12.5, 110), at(12.4, 110)), units.US, []string{
			"clutch, transmission, driveshaft and axles" + makers,
		}},
	} {
		if got := Cautions(c.list, c.sys); !slices.Equal(got, c.want) {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
	said(
		t,
		ShortCautions(predict.Cautions(car, at(13.5, 100))),
		"a helmet; a driveshaft loop on slicks; the rulebook in force decides",
	)
}

// Every kind has its words, and the figures are in the units shown.
func TestNotes(t *testing.T) {
	for _, c := range []struct {
		n          predict.Note
		us, metric string // the same where metric is empty
	}{
		{predict.Note{Kind: predict.NewSetup}, "range widened: no runs on this setup yet", ""},
		{predict.Note{Kind: predict.AirUncertain, AirFt: 250}, "air uncertain by 250 ft of density altitude: range widened", "air uncertain by 76 m of density altitude: range widened"},
		{
			predict.Note{Kind: predict.AirUnlike, AirFt: 3051, RacedFt: predict.Span{Low: 1826, High: 1826}},
			"has raced only at 1,826 ft; this is 3,051 ft of density altitude",
			"has raced only at 557 m; this is 930 m of density altitude",
		},
		{predict.Note{Kind: predict.AirlessRuns, Runs: 3}, "3 of the earlier runs without air: they count for less", ""},
		{
			predict.Note{Kind: predict.PowerUncorrected},
			"power uncorrected, its air not known: SAE reference air assumed (77 °F, 29.23 inHg dry)",
			"power uncorrected, its air not known: SAE reference air assumed (25 °C, 990.0 hPa dry)",
		},
		{predict.Note{Kind: predict.MuchPower, Share: 0.6}, "+60 % of power is more than this was tried on (40 %): today's gearing, tires and driveline will not suit it", ""},
		{predict.Note{Kind: predict.MuchWeight, Share: -0.2}, "-20 % of weight is more than this was tried on (10 %): where it comes off moves the launch too", ""},
		{predict.Note{Kind: predict.NoSharedDay, DaysA: 2, DaysB: 3}, "no day has runs of both: the days alone, 2 and 3, could make the difference", ""},
		{
			predict.Note{
				Kind: predict.AirsApart, RacedFt: predict.Span{Low: 100, High: 200},
				OtherRaced: predict.Span{Low: 2000, High: 2100},
			},
			"the two never ran in the same air, 100 to 200 ft and 2,000 to 2,100 ft of density altitude: the air alone could make the difference",
			"the two never ran in the same air, 30 to 61 m and 610 to 640 m of density altitude: the air alone could make the difference",
		},
	} {
		said(t, Note(c.n, units.US), c.us)
		if c.metric == "" {
			c.metric = c.us
		}
		said(t, Note(c.n, units.Metric), c.metric)
	}
	said(t, Basis(predict.Basis{Kind: predict.FromFormula, Formula: "Fox", LowerBy: 0.025, Changed: true}),
		"weight and power of its first setup by Fox's formula, less 2.5 % as road cars ran, and what the change since makes of it: "+
			"a rough guess, no full run yet")
	said(t, Basis(predict.Basis{Kind: predict.FromFormula, Formula: "Fox", LowerBy: 0.025}),
		"weight and power by Fox's formula, less 2.5 % as road cars ran: a rough guess, no full run yet")
	said(
		t,
		Basis(predict.Basis{Kind: predict.FromKind}),
		"what its kind usually runs: a rough guess, no full run yet and weight or power not known",
	)
	said(t, Basis(predict.Basis{Kind: predict.FromRuns, Runs: 1, SameSetup: 1}), "1 run")
	said(t, Basis(predict.Basis{Kind: predict.FromRuns, Runs: 2}), "2 runs on other setups, carried to this one")
	said(t, Basis(predict.Basis{Kind: predict.FromRuns, Runs: 5, SameSetup: 2}), "5 runs, 2 of them on this setup")
	said(
		t,
		FormulaDoubt(),
		"on 32 road cars of 1974 one in three missed by more than 5.9 %, none of them quicker than 14.5 s",
	)
}

func TestJudgement(t *testing.T) {
	for _, c := range []struct {
		difference, percentile float64
		want                   string
	}{
		{-0.01, 40, ".010 quicker than forecast: a normal run"},
		{0.05, 85, ".050 slower than forecast: slower than most, nothing unusual"},
		{-0.1, 5, ".100 quicker than forecast: one run in 20 is this quick"},
		{-0.2, 2, ".200 quicker than forecast: one run in 50 is this quick: what changed?"},
		{1.2, 100, "1.200 slower than forecast: way off: what changed?"},
	} {
		said(
			t,
			Judgement(
				predict.Judgement{
					Mark:       predict.At1320,
					Difference: c.difference,
					Percentile: c.percentile,
					Forecast:   predict.Forecast{RunsUsed: 5},
				},
				predict.At1320,
			),
			c.want,
		)
	}
	p := predict.Piece{Parts: []predict.Part{predict.PartMiddle, predict.PartTopEnd}, Seconds: -0.12, Word: predict.Quick}
	said(t, PieceName(p), "middle and top end")
	said(t, Piece(p), "picked up .120, real")
	said(
		t,
		Piece(predict.Piece{Seconds: 0.02, Word: predict.NotTold, MoreRuns: 4}),
		"gave up .020  ~ its usual scatter (4 more like it to know)",
	)
	said(t, Piece(predict.Piece{Word: predict.NotTold, MoreRuns: -1}), "even")
	short := predict.ShortPull{Kind: predict.PullUnderOwn, Mark: predict.At1320, ETS: 13.3, MPH: 100, Share: 0.05}
	said(t, ShortPull(short, units.US), "looks lifted: 13.300 @ 100.00 at 1320 ft is 5.0 % short of its usual ET x MPH")
	said(
		t,
		ShortPull(short, units.Metric),
		"looks lifted: 13.300 @ 160.93 km/h at 1320 ft is 5.0 % short of its usual ET x MPH",
	)
	low := predict.ShortPull{
		Kind: predict.PullLow,
		Mark: predict.At660,
		ETS:  8.412,
		MPH:  70,
		Pull: 1178,
		Low:  1230,
		High: 1480,
	}
	said(t, ShortPull(low, units.US), "looks lifted: 8.412 @ 70.00 at 660 ft makes ET x MPH 1178, a full pull 1230-1480")
	low.Kind = predict.PullHigh
	said(
		t,
		ShortPull(low, units.US),
		"time lost early, or a figure misread: 8.412 @ 70.00 at 660 ft makes ET x MPH 1178, a full pull 1230-1480",
	)
	said(t, ShortPull(predict.ShortPull{}, units.US), "")
	g := predict.Gap{Kind: predict.GapUntold, Pull: 1398, Usual: 1442, Formula: "Fox"}
	said(
		t,
		Gap(g),
		"the gap says nothing yet (ET x MPH 1398, Fox's own 1442, constant power 1350): compare with its own runs",
	)
	g.Kind, g.Own, g.Usual = predict.GapOfFormula, true, 1400
	said(t, Gap(g), "go by mph (ET x MPH 1398, this car's usual 1400)")
	g.Kind = predict.GapEarly
	said(t, Gap(g), "traction or gearing was missing, not power (ET x MPH 1398, this car's usual 1400)")
	g.Kind = predict.GapLate
	said(t, Gap(g), "short at the top end: lifted, or down on power (ET x MPH 1398, this car's usual 1400)")
}

func TestChanges(t *testing.T) {
	g := predict.CubeRootGap{Kind: predict.OfPower, PerPct: 0.25, LaunchG: 0.75, GripFt: 101}
	const power = "1 % of power is 0.25 % of ET here, 0.33 by the cube root: the launch is 0.75 g for about the first "
	said(t, CubeRootGap(g, units.US), power+"101 ft")
	said(t, CubeRootGap(g, units.Metric), power+"31 m")
	g.MPHPct = 0.3
	said(t, CubeRootGap(g, units.US), power+"101 ft; of speed it is 0.30 %, 0.33 by the cube root")
	g.AllMPH = true
	said(t, CubeRootGap(g, units.US), power+"101 ft; of speed it is 0.30 %, all the cube root gives")
	said(t, CubeRootGap(predict.CubeRootGap{Kind: predict.OfWeight, PerPct: 0.28}, units.US),
		"1 % of weight is 0.28 % of ET here, 0.33 by the cube root: engine, gears and wheels spin as heavy as before")
	c := predict.Comparison{
		A:          predict.SetupRuns{Setup: "a"},
		B:          predict.SetupRuns{Setup: "b"},
		Verdict:    predict.Quicker,
		Difference: predict.Band{Centre: -0.1, Low80: -0.15, High80: -0.05},
	}
	said(t, Comparison(c), "b is quicker than a by .100 in the same air, 8 of 10 in .050-.150")
	c.Verdict, c.Leans, c.Quicker, c.Difference.High80 = predict.NotTold, predict.Quicker, 0.96, 0.01
	c.MoreDays, c.MoreDaysWithB = 3, 5
	const probably = "b is probably quicker than a, 96 %: by .100 in the same air, 8 of 10 in .150 quicker to .010 slower; "
	said(t, Comparison(c), probably+"5 more days with b, two runs each, should tell")
	c.TookTurns = true
	said(t, Comparison(c), probably+"3 more days of taking turns, two runs each, should tell")
	c.MoreDays, c.Leans, c.Quicker = 1, predict.NotTold, 0.8
	const nothing = "no difference shown: b .100 quicker than a in the same air, 8 of 10 in .150 quicker to .010 slower; "
	said(t, Comparison(c), nothing+"one more day of taking turns, two runs, should tell")
	c.Difference.High80 = -0.01
	said(t, Comparison(c), strings.Replace(nothing, ".010 slower", ".010 quicker", 1)+"one more day of taking turns, two runs, should tell")
	c.TookTurns, c.MoreDaysWithB, c.Difference.High80 = false, -1, 0.01
	said(t, Comparison(c), nothing+"more days with b alone would not tell: run a too")
	c.MoreDays = -1
	said(t, Comparison(c), nothing+"that little would take over 20 more days to tell")
	b := predict.Backtest{
		Tally: predict.Tally{
			N:          17,
			Coverage80: 16. / 17,
			MAE:        0.045,
			HandN:      15,
			OursByHand: 0.039,
			ByHand:     predict.Hand{LastRun: 0.138, MeanOf3: 0.207, LineOnDensityAltitude: 0.121, LastRunAirCorrected: 0.067},
		},
	}
	said(
		t,
		Backtest(b),
		"16 of 17 runs landed inside the 8-of-10 range; the forecast missed by 0.045 on average (0.039 with a run before it; the best way by hand, the last run, air corrected, 0.067)",
	)
	e := predict.Explained{Power: predict.Range{Low: 1.3, Likely: 1.35, High: 1.4}, Claimed: 1.5, Share: 0.7}
	said(
		t,
		Explained(e),
		"boost explains 35 % more power (30 to 40), about 70 % of the 50 % claimed: the rest came from elsewhere (carburetor, heads, cam, exhaust) or from the dyno",
	)
	e.Share, e.Claimed = 1, 1.35
	said(t, Explained(e), "boost explains 35 % more power (30 to 40): the 35 % claimed can be all boost")
}

func TestDecision(t *testing.T) {
	const open = ": the slip does not decide it, the rulebook in force does"
	for _, c := range []struct {
		d    predict.Decision
		want string
	}{
		{predict.Decision{Kind: predict.ByBye}, "a bye: no one in the other lane"},
		{predict.Decision{Kind: predict.NeverLeft, Lane: 1}, "the other lane never left the line"},
		{predict.Decision{Kind: predict.NeverLeft, Lane: predict.Nobody}, "neither lane left the line" + open},
		{predict.Decision{Kind: predict.CrossedLine}, "you crossed the boundary"},
		{predict.Decision{Kind: predict.CrossedLine, Lane: predict.Nobody}, "both lanes crossed the boundary" + open},
		{predict.Decision{Kind: predict.RedLight, S: .012}, "red -.012"},
		{predict.Decision{Kind: predict.RedLight, Lane: predict.Nobody}, "both lanes were red alike" + open},
		{predict.Decision{Kind: predict.WorseRed, Lane: predict.Nobody}, "both red: the worse loses here"},
		{predict.Decision{Kind: predict.FirstRed, Lane: predict.Nobody}, "both red: the first loses here"},
		{predict.Decision{Kind: predict.FirstRedUntold, Lane: predict.Nobody}, "both red, and a dial is missing: who left first is not known"},
		{predict.Decision{Kind: predict.TimeUntold, Lane: 1}, "the other lane's time is not written down" + open},
		{predict.Decision{Kind: predict.NoFinish, Lane: 1}, "the other lane has no time at the finish"},
		{predict.Decision{Kind: predict.NoFinish, Lane: predict.Nobody}, "neither lane has a time at the finish" + open},
		{predict.Decision{Kind: predict.BrokeOut, S: .009}, "broke out, .009 under the dial"},
		{predict.Decision{Kind: predict.BrokeOut, S: .001, Index: true}, "broke out, .001 under the index"},
		{predict.Decision{Kind: predict.BrokeOut, Lane: predict.Nobody, S: .009, OtherS: .02}, "double breakout: .009 under beats .020"},
		{predict.Decision{Kind: predict.AtFinish, Lane: 1, S: .01, AlikeS: .01}, "both broke out alike; by .010 at the finish"},
		{predict.Decision{Kind: predict.AtFinish, S: .017}, "by .017 at the finish"},
		{predict.Decision{Kind: predict.AtFinish, Lane: predict.Nobody}, "equal to the thousandth" + open},
		{predict.Decision{Kind: predict.FinishUntold, Lane: predict.Nobody}, "a reaction or a dial is missing: the slip does not tell who was first"},
	} {
		said(t, Decision(c.d), c.want)
	}
	got := RoundNotes(
		[]predict.RoundNote{
			{Kind: predict.WinnerBrokeOut},
			{Kind: predict.HadSpare, SpareS: .016},
			{Kind: predict.GaveTooLittle, Lane: 1, SpareS: .098, NeedS: .009},
		},
	)
	if !slices.Equal(got, []string{
		"the winner broke out: whether that counts alone at the finish is for the rulebook",
		"had .016 to spare at the stripe",
		"the other lane had .098 in hand: .009 of it killed would have won",
	}) {
		t.Errorf("%q", got)
	}
}
