// Package predict says what a car or motorcycle should run, and what a run that
// was made says about it, from plain values: it knows no file and no log.
//
// Weight is in lb ready to run with driver or rider, power in hp at the clutch
// unless it says otherwise, time in s, speed in mph, distance in ft.
//
// It reads in this order. What goes in: pass.go, power.go, limits.go. The old
// way, weight and power alone: formula.go, airlaw.go, implied.go. The run itself:
// runmodel.go (two phases), calibrate.go (from one slip back to the car),
// vehicle.go (the run in the day's air). The forecast, Expect:
//
//	logs.go       a slip as eight logarithms, in the order the car makes them
//	era.go        the setups, and how the run model carries one to the next
//	conditions.go the laws of air, wind, lane and heat, which its runs tell
//	levels.go     what days share: the track, and how the vehicle drifts
//	prior.go      what is believed before slips, and how firmly
//	field.go      the runs held against the run model
//	whiten.go     a run as independent observations
//	mixedmodel.go the linear-Gaussian core: biases, law of the air, days' luck
//	soundness.go  how far each run was sound
//	noise.go      what the runs scatter by
//	grid.go       what the days scatter by
//	fit.go        these, in turns, until they agree
//	unentered.go  what may have happened that nobody entered
//	suspects.go   where to look for it
//	weighing.go   the log fitted again with it, each fit by its chance
//	law.go        the joint law of the next run
//	forecast.go   what is said of it
//	noticed.go    and of what nobody entered
//
// What else the fit tells: judge.go (where a run was won or lost), correct.go (runs
// in standard air), compare.go (two setups), backtest.go and byhand.go (how good
// the forecasts have been, beside a notebook's). caution.go: the rulebook.
package predict
