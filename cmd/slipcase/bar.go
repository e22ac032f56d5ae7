package main

import (
	"time"

	"github.com/jedib0t/go-pretty/v6/progress"
)

// bar shows how far a batch is, on a terminal alone and only when it is long.
type bar struct {
	writer  progress.Writer
	tracker *progress.Tracker
	what    string
}

// longBatch is from how many rows on a batch is worth a bar.
const longBatch = 1000

func (a *app) bar(what string) *bar {
	b := &bar{what: what}
	if isTerminal(a.errOut) {
		b.writer = progress.NewWriter()
		b.writer.SetOutputWriter(a.errOut)
		b.writer.SetUpdateFrequency(50 * time.Millisecond)
	}
	return b
}

// step tells the bar how many rows of how many are done.
func (b *bar) step(done, of int) {
	if b.writer == nil || of < longBatch {
		return
	}
	if b.tracker == nil {
		b.tracker = &progress.Tracker{Message: b.what, Total: int64(of)}
		b.writer.AppendTracker(b.tracker)
		go b.writer.Render()
	}
	b.tracker.SetValue(int64(done))
}

// stop takes the bar to its end; it returns when nothing more is drawn.
func (b *bar) stop() {
	if b.tracker == nil {
		return
	}
	b.tracker.MarkAsDone()
	for !b.writer.IsRenderInProgress() {
		time.Sleep(time.Millisecond) // it has not begun yet
	}
	b.writer.Stop()
	for b.writer.IsRenderInProgress() {
		time.Sleep(time.Millisecond)
	}
}
