//go:build unix

package main

import (
	"fmt"
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
