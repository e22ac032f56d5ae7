//go:build linux

package main

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"slipcase/logbook"
)

// overNetwork are the commands that may open a socket; all others are traced.
var overNetwork = []string{"serve"}

// dayOffline runs every command at least once, one after the other in one logbook.
const dayOffline = `
help
completion bash
version
man DIR/man
gearing --rpm 6500 --tyre 28in --rear 4.10
boost 6psi --blower roots
forecast --weight 3450lb --power 312hp
air calc --temp 90F --rh 50 --station 29.92inHg
init
vehicle add heron --kind car
vehicle amend heron --drive rear
vehicle show heron
vehicle list
vehicle add hern --kind car
vehicle void hern
vehicle unvoid hern
vehicle void last
track add saltgrass --elevation 812ft
track amend saltgrass --heading 240
track show saltgrass
track list
track add saltgras
track void saltgras
track unvoid saltgras
track void saltgras
power add stock --power-at wheels --peak 312hp@6200rpm --standard sae
power add carb --power-at wheels --peak 330hp@6300rpm --standard sae
power amend carb --notes "after the tune"
power show stock carb
power list
power drop carb
power unvoid last
power void carb
setup add --name stock --weight 3450lb --power 312hp --from 2026-05-01
setup amend stock --notes "as bought"
setup show stock
setup list
setup void stock
setup unvoid last
air add --temp 88F --rh 42 --station 28.94inHg --at 16:40
air add KXXX 022153Z 24006KT 10SM CLR 31/18 A2995
air amend last --temp 87F
air list
slip add --60 1.912 --660 8.412@83.77 --1320 13.212@105.84 --at 16:45 --lane left --reaction .042 --dial 13.20
slip add --60 1.905 --660 8.401@83.90 --1320 13.187@105.91 --at 17:00 --lane right --reaction .051 --dial 13.20
slip add .030 1.910 . 8.405@83.8 . 13.195@105.9 / .051 12.430 12.40 17:20
slip read testdata/printed/ladder-0.txt --lane left --force
slip amend last --notes "in the right lane"
slip show last
slip list
forecast
correct
dial
round last
consistency
forecast --lane left --why
backtest
trend
day --blank
best
season 2026
setup add --name carb --weight 3452lb --power 330hp --from "2026-05-02 17:25"
slip add --60 1.900 --660 8.301@85.10 --1320 13.020@107.30 --at 17:30
compare stock carb
plan add headers --gain 8/12/18hp --cost 450
plan amend headers --hours 8
plan list

plan rank --track saltgrass
column add jets --kind number
column list
column void jets
column unvoid last
part add plugs --vehicle heron --life 60runs --has 43
part add slicks-b --life 40runs
part remove plugs
part fit plugs --vehicle heron
part note plugs gapped
part list
part show plugs
part void last
part unvoid last
pass add --vehicle heron --at 2026-05-02T17:00
plan show headers --track saltgrass
plan drop headers
plan unvoid last
plan void headers
check
check --repair
backup DIR/day.zip
restore DIR/day.zip DIR/copy
slip void last
slip unvoid last
air void last
air unvoid last
merge DIR/copy
export DIR/runs.xlsx
serve devices
! serve devices revoke nobody
import DIR/runs.xlsx
picture air -o DIR/air.png
report -o DIR/report.html
demo --logbook DIR/season
`

// TestNoNetwork runs every command under strace and wants no call that has to do with a
// socket, of any kind: neither the Go runtime nor the C library makes one for us.
func TestNoNetwork(t *testing.T) {
	leftToFullRun(t)
	t.Parallel()
	dir := t.TempDir()
	if !traces(t, dir) {
		if os.Getenv("CI") == "true" {
			t.Fatal("strace does not trace here: install it")
		}
		t.Skip("strace does not trace here (Debian: apt-get install strace)")
	}
	a := &app{in: strings.NewReader(""), out: io.Discard, errOut: io.Discard, now: time.Now, newID: logbook.NewID}
	root := a.command()
	left := map[string]bool{} // not run yet
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		name := strings.TrimPrefix(c.CommandPath(), "slipcase ")
		left[name] = true
		if c.HasSubCommands() && !slices.Contains(overNetwork, name) { // alone it says what there is
			noSocket(t, dir, strings.Fields(strings.TrimPrefix(name, "slipcase"))...)
			delete(left, name)
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(root)
	for line := range strings.Lines(strings.TrimSpace(dayOffline)) {
		words, err := splitWords(strings.ReplaceAll(strings.TrimSpace(line), "DIR", dir))
		if err != nil {
			t.Fatal(err)
		}
		if c, _, err := root.Find(bareMinus(root, slices.DeleteFunc(slices.Clone(words), isFails))); err == nil {
			delete(left, strings.TrimPrefix(c.CommandPath(), "slipcase "))
		}
		noSocket(t, dir, words...)
	}
	for _, name := range overNetwork {
		delete(left, name)
	}
	for name := range left {
		t.Errorf("no line of dayOffline runs %s", name)
	}
}

// isFails reports the word before a command that is to fail.
func isFails(word string) bool { return word == "!" }

// noSocket runs the program and wants no network call of it.
func noSocket(t *testing.T, dir string, args ...string) {
	t.Helper()
	fails := slices.ContainsFunc(args, isFails)
	args = slices.DeleteFunc(args, isFails)
	env := []string{"SLIPCASE_LOGBOOK=" + filepath.Join(dir, "log"), "SLIPCASE_TEST_NOW=2026-05-02T18:00"}
	c := child(t, env, args...)
	calls, out, err := traced(t, dir, c)
	if fails == (err == nil) {
		t.Errorf("%v: %v\n%s", args, err, out)
	}
	if calls != "" {
		t.Errorf("%v makes network calls:\n%s", args, calls)
	}
}

// traced runs a command under strace and returns the network calls of all its threads.
func traced(t *testing.T, dir string, c *exec.Cmd) (calls string, out []byte, err error) {
	t.Helper()
	log := filepath.Join(dir, "calls")
	s := exec.Command("strace", append([]string{
		"-f", "--seccomp-bpf", "-e", "trace=%network", "-e", "signal=none", "-qqq", "-o", log, c.Path,
	}, c.Args[1:]...)...)
	s.Env = c.Env
	out, err = s.CombinedOutput()
	text, readErr := os.ReadFile(log)
	if err == nil {
		err = readErr
	}
	for line := range strings.Lines(string(text)) {
		if !leaving.MatchString(strings.TrimSuffix(line, "\n")) {
			calls += line
		}
	}
	return calls, out, err
}

// leaving is what strace writes of a thread that it let go before it had looked at its call,
// which is one that any thread makes as the program ends.
var leaving = regexp.MustCompile(`^\d+\s+\?+\((\)\s+= \?| *<detached \.\.\.>)$`)

// opensSocket makes the test binary a program that opens a socket, for traces.
const opensSocket = "SLIPCASE_TEST_SOCKET"

func init() {
	if os.Getenv(opensSocket) != "" {
		_, err := syscall.Socket(syscall.AF_INET, syscall.SOCK_DGRAM, 0)
		if err != nil {
			panic(err)
		}
		os.Exit(0)
	}
}

// traces reports that strace is here, may trace, and sees a socket that is opened.
func traces(t *testing.T, dir string) bool {
	if _, err := exec.LookPath("strace"); err != nil {
		return false
	}
	calls, out, err := traced(t, dir, child(t, []string{opensSocket + "=1"}))
	if err == nil && !strings.Contains(calls, "socket(AF_INET") {
		t.Fatalf("strace does not see a socket: %q", calls)
	}
	if err != nil {
		t.Logf("strace: %v\n%s", err, out)
	}
	return err == nil
}
