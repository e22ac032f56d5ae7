//go:build linux

package main

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"slipcase/logbook"
)

// crowded is a logbook of very many slips, of vehicles with 400 each.
func crowded(t *testing.T, slips int) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "log")
	vehicles := max(1, slips/400)
	for _, line := range [][]string{{"init"}, {"track", "add", "saltgrass", "--elevation", "812ft"}} {
		if status, _, said := runLine(t, append(line, "--logbook", dir)...); status != exitDone {
			t.Fatal(line, said)
		}
	}
	lb, err := logbook.Open(dir, logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range vehicles {
		v := logbook.Vehicle{Entry: logbook.Entry{ID: benchVehicle(i)}, Kind: "car", Aspiration: "natural"}
		if err := lb.AddVehicle(&v); err != nil {
			t.Fatal(err)
		}
	}
	writeSlips(t, dir, vehicles, slips)
	return dir
}

// csvPass is how long encoding/csv alone takes to go through a file, mostly, in the processor's
// time as measured has it.
func csvPass(t *testing.T, path string) (usual time.Duration, size int) {
	t.Helper()
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	spent := func() time.Duration {
		var u unix.Rusage
		if err := unix.Getrusage(unix.RUSAGE_THREAD, &u); err != nil {
			t.Fatal(err)
		}
		return time.Duration(u.Utime.Nano() + u.Stime.Nano())
	}
	var all []time.Duration
	for range 9 {
		began := spent()
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(bytes.NewReader(data))
		r.ReuseRecord = true
		for {
			if _, err := r.Read(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
		all, size = append(all, spent()-began), len(data)
	}
	return middle(all), size
}

// middle is the one that as many are below as above.
func middle[T cmp.Ordered](all []T) T {
	slices.Sort(all)
	return all[len(all)/2]
}

// measured runs the program and gives the processor time that it took and the most memory
// that it had, in bytes: that which the system counts for it since its start, looked at
// all along, for what is told of it at its end counts the tester's too.
func measured(t *testing.T, c *exec.Cmd) (used time.Duration, peak int) {
	t.Helper()
	var said bytes.Buffer
	c.Stdout, c.Stderr = &said, &said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	status := fmt.Sprintf("/proc/%d/status", c.Process.Pid)
	for {
		select {
		case err := <-ended:
			if err != nil {
				t.Fatalf("%v\n%s", err, said.String())
			}
			return c.ProcessState.UserTime() + c.ProcessState.SystemTime(), peak
		case <-time.After(time.Millisecond):
			text, _ := os.ReadFile(status)
			kB := 0
			if _, behind, ok := strings.Cut(string(text), "VmHWM:"); ok {
				fmt.Sscan(behind, &kB)
			}
			peak = max(peak, kB<<10)
		}
	}
}

// TestListCost: the last slips of very many are found for a few passes over the file, in
// the processor's time, and listed in little more memory than it, whether the air was read
// or not. Each of twenty is of another vehicle, and held against a forecast of its own.
func TestListCost(t *testing.T) {
	leftToFullRun(t)
	slips := 20_000
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		slips = 100_000
	}
	dir := crowded(t, slips)
	for _, readings := range []int{0, slips / 8} {
		readEveryTwoHours(t, dir, readings, .1)
		for last, most := range map[string]float64{"1": 3, "20": 6} {
			passes, memory := listCost(t, dir, last)
			t.Logf("the last %s of %d slips, %d readings: %.1f csv passes, %.1f x the file in memory beside the idle program's",
				last, slips, readings, passes, memory)
			if slips == 100_000 && (passes > most || memory > 4) {
				t.Errorf("the last %s, %d readings: %.1f passes, want at most %g; %.1f x the file in memory, want at most 4",
					last, readings, passes, most, memory)
			}
		}
	}
}

// listCost is what the last slips of a log take, in passes over its slips, each measured beside
// a pass, and in times their file in memory.
func listCost(t *testing.T, dir, last string) (passes, memory float64) {
	t.Helper()
	env := []string{"SLIPCASE_LOGBOOK=" + dir}
	_, idle := measured(t, child(t, env, "--help"))
	var all []float64
	peak := math.Inf(1)
	for range 5 {
		pass, size := csvPass(t, filepath.Join(dir, "slips.csv"))
		used, had := measured(t, child(t, env, "slip", "list", "--last", last))
		all, peak = append(all, float64(used)/float64(pass)), min(peak, float64(had-idle)/float64(size))
	}
	return middle(all), peak
}

// TestBatchCost: 200 lines of slips of a vehicle with 400 runs, each looked at among those
// before it, are recorded within the time that a racer waits.
func TestBatchCost(t *testing.T) {
	leftToFullRun(t)
	dir := crowded(t, 400)
	var lines strings.Builder
	at := time.Date(2024, 6, 10, 9, 0, 0, 0, time.UTC)
	for i := range 200 {
		off := float64(i%37) / 1000
		fmt.Fprintf(
			&lines,
			"%s .0%02d %.3f %.3f %.3f@83.77 %.3f %.3f@105.%02d\n",
			at.Add(time.Duration(i)*20*time.Minute).Format("2006-01-02 15:04"),
			30+i%31,
			1.912+off/7,
			5.437+off/3,
			8.412+off/2,
			10.980+off,
			13.212+off,
			70+i%29,
		)
	}
	c := child(t, []string{"SLIPCASE_LOGBOOK=" + dir}, "slip", "add", "--vehicle", "heron", "--track", "saltgrass", "-")
	c.Stdin = strings.NewReader(lines.String())
	began := time.Now()
	used, _ := measured(t, c)
	t.Logf("200 lines behind 400 runs: %.1f s, %.1f s of the processor", time.Since(began).Seconds(), used.Seconds())
	if used > 4*time.Second && os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		t.Errorf("%v, want at most 4 s", used)
	}
}

// TestExportCost: runs are written without forecasts within 25 passes over their file, the
// air at each minute worked out from a reading every two hours.
func TestExportCost(t *testing.T) {
	leftToFullRun(t)
	slips, most := 20_000, 80. // what begins the program is a part of it; on a machine with more to do
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		slips, most = 100_000, 25
	}
	dir := crowded(t, slips)
	readEveryTwoHours(t, dir, slips/8, 1)
	pass, size := csvPass(t, filepath.Join(dir, "slips.csv"))
	var times []time.Duration
	peak := 0
	for range 3 {
		to := filepath.Join(t.TempDir(), "runs.csv")
		again, had := measured(t, child(t, []string{"SLIPCASE_LOGBOOK=" + dir}, "export", to, "--no-forecast"))
		times, peak = append(times, again), had
		data, err := os.ReadFile(to)
		if err != nil || bytes.Count(data, []byte("\n")) != slips+1 {
			t.Fatalf("%d lines, %v", bytes.Count(data, []byte("\n")), err)
		}
	}
	used := middle(times)
	passes := float64(used) / float64(pass)
	t.Logf("%d runs, %.1f MB: %v, %.1f csv passes of %v, %d MB", slips, float64(size)/1e6, used, passes, pass, peak>>20)
	if passes > most {
		t.Errorf("%.1f passes, want at most %g", passes, most)
	}
}

// TestReportCost: a report takes no more than the back-test of its runs and 3 s, in the
// processor's time, and 3 MB.
func TestReportCost(t *testing.T) {
	leftToFullRun(t)
	runs := 200
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		runs = 1000
	}
	dir := filepath.Join(t.TempDir(), "log")
	manyRuns(t, dir, runs)
	env, file := []string{"SLIPCASE_LOGBOOK=" + dir}, filepath.Join(dir, "..", "report.html")
	tried, _ := measured(t, child(t, env, "backtest"))
	used, _ := measured(t, child(t, env, "report", "-o", file))
	info, err := os.Stat(file)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d runs: the report %v, the back-test %v; %.2f MB", runs, used, tried, float64(info.Size())/1e6)
	if used > tried+3*time.Second || info.Size() > 3e6 {
		t.Errorf("the report took %v, the back-test %v; %d bytes", used, tried, info.Size())
	}
}

// readEveryTwoHours adds readings to a log of writeSlips, whose times do not answer the air: where
// it swings by more than a tenth of an ordinary year's, no car can have run them.
func readEveryTwoHours(t testing.TB, dir string, readings int, swing float64) {
	t.Helper()
	air, err := os.OpenFile(filepath.Join(dir, "air.csv"), os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer air.Close()
	for i := range readings {
		at := time.Date(2024, 3, 1, 8, 0, 0, 0, time.UTC).Add(time.Duration(i) * 2 * time.Hour).Format(time.RFC3339)
		temp, rh, station := 10*math.Sin(float64(i)), 20*math.Cos(float64(i)), .1*math.Sin(float64(i)/9)
		_, err := fmt.Fprintf(air, "abench%05d,1,fact,%s,,%s,saltgrass,%.1f,%.0f,,,%.2f,,,,,,\n", i, at, at, 70+swing*temp, 50+swing*rh, 28.9+swing*station)
		if err != nil {
			t.Fatal(err)
		}
	}
}
