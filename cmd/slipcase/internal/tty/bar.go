package tty

import (
	"time"

	"github.com/jedib0t/go-pretty/v6/progress"
)

// Bar shows how far a batch is, on a terminal alone and only when it is long.
type Bar struct {
	writer  progress.Writer
	tracker *progress.Tracker
	what    string
	long    int // from so many rows on it is worth a bar
}

// From how many rows on a batch is worth a bar: of rows that are only moved, and of such
// as are each forecast.
const (
	longBatch = 1000
	slowBatch = 50
)

// Bar begins the bar of a job.
func (t *Terminal) Bar(what string) *Bar { return t.barFrom(what, longBatch) }

// SlowBar begins the bar of a job that takes its time for each row.
func (t *Terminal) SlowBar(what string) *Bar { return t.barFrom(what, slowBatch) }

func (t *Terminal) barFrom(what string, long int) *Bar {
	b := &Bar{what: what, long: long}
	if isTerminal(t.Err) {
		b.writer = progress.NewWriter()
		b.writer.SetOutputWriter(t.Err)
		b.writer.SetUpdateFrequency(50 * time.Millisecond)
	}
	return b
}

// Step tells the bar how many rows of how many are done.
func (b *Bar) Step(done, of int) {
	if b.writer == nil || of < b.long {
		return
	}
	if b.tracker == nil {
		b.tracker = &progress.Tracker{Message: b.what, Total: int64(of)}
		b.writer.AppendTracker(b.tracker)
		go b.writer.Render()
	}
	b.tracker.SetValue(int64(done))
}

// Stop takes the bar to its end; it returns when nothing more is drawn.
func (b *Bar) Stop() {
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
	b.tracker, b.writer = nil, nil // once is enough
}
