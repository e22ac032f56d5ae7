// Command slipcase keeps a drag racer's time slips, corrects them for the air and
// forecasts the next run. Its commands are thin: they parse, call and print.
package main

import (
	"os"
	"time"
	_ "time/tzdata" // tracks name their time zone, and a bare machine may know none

	"slipcase/logbook"
)

func main() {
	heedSignals()
	a := &app{in: os.Stdin, out: os.Stdout, errOut: os.Stderr, now: time.Now, newID: logbook.NewID}
	os.Exit(a.run(os.Args[1:]))
}
