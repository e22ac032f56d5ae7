// Package crew knows what a log and the predictor know together: a run judged, what
// looks wrong in a slip, the next run and its dial, both lanes, what a change brought.
// Facts go in and out, no words: page has those.
//
// Where to look. A log held open: session.go, passes.go (the one place where it meets the
// predictor), expected.go, runamong.go. A slip before it is recorded: look.go, lookalone.go,
// looktogether.go, doubt.go, offer.go; after: judged.go, told.go, result.go. The next run: next.go,
// nextround.go, dial.go, rival.go, round.go. A change: prospect.go, plan*.go, boost.go, regear.go,
// compare.go. Runs of a log: best.go, consistency.go, day*.go, season.go, trend.go, standardair.go.
// What others read through the crew: aliases.go, kinds.go.
//
// # Decisions (November 2026)
//
// A setup that names changes of the plan takes their likely power and weight, where they
// are not given: a change forecast without its gain would give a dial that breaks out.
//
// What a change promised is worked out again from the runs before it and the plan as it
// stood when its setup was first recorded with it, and not stored: what is computed never
// is.
//
// Reactions of several tracks go together after each track's perfect light. A single one
// is typed and shown as its track prints it.
package crew
