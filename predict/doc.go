// Package predict says what a car or motorcycle should run, and what a run that
// was made says about it, from plain values: it knows no file and no log.
//
// Weight is in lb ready to run with driver or rider, power in hp at the clutch
// unless it says otherwise, time in s, speed in mph, distance in ft.
//
// It reads in this order. What goes in: pass.go, statedpower.go, bounds.go. The old
// way, weight and power alone: formula.go, airlaw.go, implied.go. The run itself:
// runmodel.go (two phases), calibrate.go (from one slip back to the car),
// carinair.go (the run in the day's air). The forecast, Expect:
//
//	channels.go      a slip as eight logarithms, in the order the car makes them
//	era.go           the setups, and how the run model carries one to the next
//	conditions.go    the laws of air, wind, lane and heat, which its runs tell
//	throttlestop.go  a throttle stop, and what a second of it costs
//	daylevels.go     what days share: the track, and how the vehicle drifts
//	prior.go         what is believed before slips, and how firmly
//	field.go         the runs held against the run model
//	whiten.go        a run as independent observations
//	mixedmodel.go    the linear-Gaussian core: biases, law of the air, days' luck
//	daysums.go       the runs summed up by day, and the days' luck taken out
//	cholesky.go      the Cholesky factor of the core
//	soundupto.go     how far each run was sound
//	noise.go         what the runs scatter by
//	luckgrid.go      what the days scatter by
//	fit.go           these, in turns, until they agree
//	unentered.go     what may have happened that nobody entered
//	suspects.go      where to look for it
//	firstofday.go    a slow first run: it, or the day
//	accounts.go      the log fitted again with it, each fit by its chance
//	onlyrun.go       what an only run does not tell
//	runlaw.go        the joint law of the next run
//	forecast.go      what is said of it
//	noticed.go       and of what nobody entered
//	why.go           what it is made of
//
// What else the fit tells: judge.go (where a run was won or lost), wason.go (what a run
// let go was on), hindsight.go (what all runs tell of each), standardair.go (runs in standard
// air), trend.go (is it getting tired), compare.go (two setups), backtest.go and byhand.go (how
// good the forecasts have been, beside a notebook's). What looks mistyped: proofread.go by the
// forecast (trueslip.go, what true slips look like; waywrong.go, slipdensity.go; misread.go, what
// typing does), peers.go by all other runs; proofreaction.go, proofdial.go, proofshift.go. What a
// change brings: change.go, prospect.go, target.go, plan.go and planset.go, changeoutcome.go;
// boost.go, dyno.go and regear.go what it is made of. A round: dial.go, reactions.go, lights.go,
// round.go, racedto.go. caution.go and changecaution.go: the rulebook.
//
// # Decisions (November 2026)
//
// The formulas' power follows the air by one law (SAE J1349's, by aspiration) whatever
// standard the figure is stated in; the standard only says in which air it would be made.
//
// What a change brings is the run model's, after less before, on one calibration; its
// interval joins the claim's own range with powerMisfit, gripMisfit and otherMisfit, set
// on the invented upgrades 1 to 2000 of season.NewUpgrade and tried once, after that, on
// 1500 from 500001.
//
// A slip is questioned where a typing error is likelier than the run: true slips are a
// mixture of the forecast's law with spoilt, short of power and lifted runs, which keep
// the figures in step; a typing error moves one figure. A speed too low for its times is
// not doubted without a forecast's help: a lift looks the same. Reaction and dial are
// questioned as the times are; who won only where both lanes are told whole: a missing
// figure of the other lane says nothing of it.
//
// The slip does not say how far a round was raced, and a run that broke has no time
// there: the track's lengths, the dial and the other lane tell it. Without a time there a
// lane broke.
//
// "doubted" means one thing: the next forecast leaves the run out, wholly or from a mark
// on, though the racer noted nothing.
//
// Tried, and left out: a hard outlier gate (a spoiled first run locks it on the wrong
// car); weights from one start only (two spoiled runs among the first three, or a spoiled
// first run of a new setup, mislead it for the day: so several starts, the densest kept);
// all of a gain in power reaching the launch (upgrades forecast a third too quick); a
// lower prior weight of the noise (quicker to adapt, no better on average); learning the
// days' luck while weighing (no gain); a chance of odd days that the log's own odd days
// raise (no gain on ordinary seasons, later to follow slow days); tails by the runs that
// told the noise's size; a law of the air nearer the textbook's; a slower drift without what wears evenly (no
// gain).
package predict
