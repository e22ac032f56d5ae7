// Command slipcase keeps a drag racer's time slips, corrects them for the air and
// forecasts the next run. Its commands are thin: they parse, call and print.
package main

import (
	"os"
	"os/signal"
	"sync"
	"syscall"
	"time"
	_ "time/tzdata" // tracks name their time zone, and a bare machine may know none

	"slipcase/logbook"
)

func main() {
	heedSignals()
	a := &app{in: os.Stdin, out: os.Stdout, errOut: os.Stderr, now: time.Now, newID: logbook.NewID}
	os.Exit(a.run(os.Args[1:]))
}

// recording is held while files change: an interrupt waits for it, so that
// nothing is left half recorded.
var recording sync.Mutex

// heedSignals sets what a closed pipe and Ctrl-C do.
func heedSignals() {
	// A reader that goes away (| head -1) is no failure: let the write say so
	// instead of the signal that kills.
	signal.Ignore(syscall.SIGPIPE)
	interrupt := make(chan os.Signal, 1)
	signal.Notify(interrupt, os.Interrupt)
	go func() {
		<-interrupt
		recording.Lock()
		os.Exit(exitInterrupted)
	}()
}
