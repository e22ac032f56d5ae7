// Command slipcase keeps a drag racer's time slips, corrects them for the air and
// forecasts the next run. Its commands are thin: they parse, ask and call.
//
// # Decisions (November 2026)
//
// Reading commands exit 1 when a row had to be left out, after showing the rest;
// recording commands tell of it and exit 0, since what they were asked to record is
// recorded.
//
// The form for a slip shows what is known before as one line and one Enter. It offers the
// vehicle and track of the last slip, and the dial of the round before (d takes it
// again), which it never takes over: a dial belongs to its round. The draft is written
// after each answer and not when interrupted, so that it outlives a kill and an empty
// battery as well; the word discard alone throws it away.
package main

import (
	"context"
	"os"
	"time"
	_ "time/tzdata" // tracks name their time zone, and a bare machine may know none

	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/logbook"
)

func main() {
	a := &app{in: os.Stdin, out: os.Stdout, errOut: os.Stderr, now: time.Now, newID: logbook.NewID}
	ctx := tty.Heed(context.Background())
	os.Exit(tty.Finish(ctx, func() int { return a.run(ctx, os.Args[1:]) }))
}
