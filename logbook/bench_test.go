package logbook

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/gocarina/gocsv"

	"slipcase/weather/units"
)

// The sizes of the log that is measured: one vehicle has 300 of 100,000 slips.
const (
	benchSlips = 100_000
	benchMine  = 300
)

// benchLog makes such a log, once for all benchmarks.
func benchLog(b *testing.B, count int) *Logbook {
	b.Helper()
	lb := start(b)
	lb.newID = NewID
	c, err := lb.read(slips, nil)
	must(b, err)
	var file bytes.Buffer
	file.Write(c.data)
	for n := range count {
		vehicle := fmt.Sprintf("car-%d", n%333)
		if n%(benchSlips/benchMine) == 0 {
			vehicle = "heron"
		}
		f := float64(n%1000) / 1000
		s := Slip{
			Entry:   Entry{ID: fmt.Sprintf("s%09d", n), Rev: 1, Status: Fact, RecordedAt: Time{lb.now()}},
			Vehicle: vehicle, Track: "saltgrass", Time: Time{lb.now().Add(-time.Duration(count-n) * time.Minute)},
			Meet: "spring", Lane: "left", Round: "E1", ReactionS: units.Some(.04), ET60S: units.Some(1.9 + f/10),
			ET330S: units.Some(5.4 + f/10),
			ET660S: units.Some(
				8.4 + f/10,
			), MPH660: units.Some(83.77), ET1000S: units.Some(10.98 + f/10), ET1320S: units.Some(13.2 + f/10),
			MPH1320: units.Some(105.84 + f), DialS: units.Some(13.25), Result: "won", Notes: "wind from the left",
		}
		row, err := textsOf(slips.schema, &s, nil)
		must(b, err)
		line, _, err := change{t: slips, c: c, rows: []texts{row}}.render()
		must(b, err)
		file.Write(line)
	}
	must(b, os.WriteFile(lb.path(slips.file), file.Bytes(), 0o600))
	return lb
}

var benched *Logbook

// measured is the log, left in a folder that lives as long as the benchmarks.
func measured(b *testing.B) (lb *Logbook, data []byte) {
	b.Helper()
	if benched == nil {
		made := benchLog(b, benchSlips)
		dir, err := os.MkdirTemp("", "slipcase-bench-")
		must(b, err)
		must(b, os.CopyFS(dir, os.DirFS(made.Dir())))
		benched, err = Open(dir, Options{})
		must(b, err)
	}
	data, err := os.ReadFile(benched.path(slips.file))
	must(b, err)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	b.ResetTimer()
	return benched, data
}

// The floor of a pass over the file: encoding/csv alone, rows thrown away.
func BenchmarkFloorCSV(b *testing.B) {
	lb, _ := measured(b)
	for b.Loop() {
		data, err := os.ReadFile(lb.path(slips.file))
		must(b, err)
		r := csv.NewReader(bytes.NewReader(data))
		r.ReuseRecord = true
		for {
			if _, err := r.Read(); err == io.EOF {
				break
			} else if err != nil {
				b.Fatal(err)
			}
		}
	}
}

// What to hold decoding against: gocsv from the file into the same struct, unchecked.
func BenchmarkFloorGocsv(b *testing.B) {
	lb, data := measured(b)
	read := func() {
		data, err := os.ReadFile(lb.path(slips.file))
		must(b, err)
		var all []Slip
		must(b, gocsv.UnmarshalBytes(data, &all))
	}
	for b.Loop() {
		read()
	}
	reportPeak(b, len(data), read)
}

// The floor of an append: two files appended to and synced.
func BenchmarkFloorTwoSyncs(b *testing.B) {
	dir := b.TempDir()
	for b.Loop() {
		for _, name := range []string{"a", "b"} {
			f, err := os.OpenFile(filepath.Join(dir, name), os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o600)
			must(b, err)
			_, err = f.Write(make([]byte, 300))
			must(b, err)
			must(b, f.Sync())
			must(b, f.Close())
		}
	}
}

func BenchmarkReadAll(b *testing.B) {
	lb, data := measured(b)
	for b.Loop() {
		all, err := lb.Slips("")
		must(b, err)
		if len(all) < benchSlips {
			b.Fatalf("%d slips", len(all))
		}
	}
	reportPeak(b, len(data), func() { lb.Slips("") })
}

// Opening a log of 10,000 slips and reading all of it.
func BenchmarkOpen10000(b *testing.B) {
	dir := benchLog(b, 10_000).Dir()
	for b.Loop() {
		lb, err := Open(dir, Options{})
		must(b, err)
		all, err := lb.Slips("")
		must(b, err)
		if len(all) != 10_000 {
			b.Fatalf("%d slips", len(all))
		}
	}
}

func BenchmarkReadOneVehicle(b *testing.B) {
	lb, data := measured(b)
	for b.Loop() {
		mine, err := lb.Slips("heron")
		must(b, err)
		if len(mine) < benchMine {
			b.Fatalf("%d slips", len(mine))
		}
	}
	reportPeak(b, len(data), func() { lb.Slips("heron") })
}

func BenchmarkAppend(b *testing.B) {
	lb, data := measured(b)
	for b.Loop() {
		must(b, lb.AddSlips(slipAt(14, 0, 13.5)))
	}
	reportPeak(b, len(data), func() { lb.AddSlips(slipAt(14, 0, 13.5)) })
}

func BenchmarkCheck(b *testing.B) {
	lb, _ := measured(b)
	for b.Loop() {
		_, err := lb.Check()
		must(b, err)
	}
}

// reportPeak tells how much memory a call takes at most, as a multiple of the file.
func reportPeak(b *testing.B, fileSize int, call func()) {
	b.StopTimer()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	before, peak := m.HeapAlloc, m.HeapAlloc
	stop, done := make(chan bool), make(chan bool)
	go func() {
		for {
			select {
			case <-stop:
				close(done)
				return
			case <-time.After(2 * time.Millisecond):
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				peak = max(peak, m.HeapAlloc)
			}
		}
	}()
	call()
	close(stop)
	<-done
	b.ReportMetric(float64(peak-before)/float64(fileSize), "x-file-peak")
}
