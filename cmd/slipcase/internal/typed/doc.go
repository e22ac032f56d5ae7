// Package typed reads what a racer types between rounds: times, speeds and whole slips,
// digits without their point, red lights, one line for one slip; the air off the
// instruments; the clock.
//
// # Decisions (November 2026)
//
// A line tells each thing once: of two lanes, rounds or dials none is guessed. Nor are
// vehicle and track: with several they are named on it.
package typed
