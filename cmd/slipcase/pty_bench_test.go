//go:build unix

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// BenchmarkVerdict is the time from the last key of a slip, typed in a real
// terminal, to the verdict and the next dial on its screen, in a log of 10,000. The
// promise is 200 ms.
func BenchmarkVerdict(b *testing.B) {
	r := &trailer{t: b, dir: big(b), cols: 80}
	var waited time.Duration
	n := 0
	for b.Loop() {
		// Some minutes later each time, after the last slip and near the last reading.
		r.now = time.Date(2024, 6, 13, 13, 5, 0, 0, time.UTC).Add(time.Duration(n) * time.Minute).Format("2006-01-02T15:04")
		r.start("slip add --vehicle heron")
		r.types("run [", fmt.Sprintf("heron saltgrass T%d%s", n%40+1, enter))
		r.types("reaction: ", fmt.Sprintf("%03d%s", 30+n%60, enter)) // no slip is typed twice
		r.types("60 ft: ", fmt.Sprintf("1912 5437 8412@8377 10980 13%03d@10584%s", 205+n%20, enter))
		r.types("other lane: ", enter)
		r.types("corrects: ", enter)
		r.sees("breakout risk")
		waited += time.Since(r.lastKey)
		r.ends(exitDone)
		n++
	}
	b.ReportMetric(float64(waited.Milliseconds())/float64(n), "ms/verdict")
}

// BenchmarkBoardVerdict is the time from the last key of a slip at the board, typed in a real
// terminal, to the prompt after its verdict, in a log of 10,000. The promise is 100 ms.
func BenchmarkBoardVerdict(b *testing.B) {
	r := &trailer{t: b, dir: big(b), cols: 80, rows: 24, term: "xterm", now: "2024-06-13T13:05"}
	clock := filepath.Join(b.TempDir(), "clock")
	at := time.Date(2024, 6, 13, 13, 5, 0, 0, time.UTC)
	set := func() {
		if err := os.WriteFile(clock, []byte(at.Format("2006-01-02T15:04")), 0o600); err != nil {
			b.Fatal(err)
		}
	}
	set()
	r.more = []string{"SLIPCASE_TEST_CLOCK=" + clock}
	r.start("")
	r.waits(1)
	r.line("use heron saltgrass")
	var waited []time.Duration
	for n := 0; b.Loop(); n++ {
		at = at.Add(2 * time.Minute) // after the last slip and near the last reading
		set()
		r.line(fmt.Sprintf("%03d 1912 5437 8412@8377 10980 13%03d@10584 L T%d", 30+n%60, 205+n%20, n%40+1))
		if !strings.Contains(r.text(), "breakout risk") {
			b.Fatal(r.text())
		}
		waited = append(waited, time.Since(r.lastKey))
	}
	r.keysOf(ctrlD)
	r.ends(exitDone)
	slices.Sort(waited)
	b.ReportMetric(float64(waited[len(waited)/2].Microseconds())/1000, "ms/median")
	b.ReportMetric(float64(waited[len(waited)*9/10].Microseconds())/1000, "ms/90%")
	cpu := r.program.ProcessState.UserTime() + r.program.ProcessState.SystemTime() // the opening too
	b.ReportMetric(float64(cpu.Microseconds())/1000/float64(len(waited)), "cpu-ms/verdict")
}
