// Command slipcase keeps a drag racer's time slips, corrects them for the air and
// forecasts the next run. Its commands are thin: they parse, call and print.
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
