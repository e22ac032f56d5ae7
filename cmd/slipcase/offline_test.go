//go:build linux

package main

import (
	"os/exec"
	"path/filepath"
	"testing"
)

// A whole race day where there is no network at all, not even the machine's own.
func TestRaceDayWithoutNetwork(t *testing.T) {
	unshare, err := exec.LookPath("unshare")
	if err != nil || exec.Command(unshare, "-n", "true").Run() != nil {
		t.Skip("this machine does not let a process give its network up")
	}
	dir := t.TempDir()
	env := []string{"SLIPCASE_LOGBOOK=" + filepath.Join(dir, "log"), "SLIPCASE_TEST_NOW=2026-05-02T18:00"}
	for _, args := range [][]string{
		{"init"},
		{"vehicle", "add", "heron", "--kind", "car"},
		{"track", "add", "saltgrass", "--elevation", "812ft"},
		{"setup", "add", "--weight", "3450lb", "--power", "312hp", "--from", "2026-05-01"},
		{"air", "add", "--temp", "88F", "--rh", "42", "--station", "28.94inHg", "--at", "17:00"},
		{"slip", "add", "--1320", "13.212@105.84", "--at", "17:05"},
		{"slip", "add", "--1320", "13.187@105.91", "--at", "17:40"},
		{"forecast"},
		{"correct"},
		{"slip", "list"},
		{"check"},
		{"backup", filepath.Join(dir, "day.zip")},
		{"restore", filepath.Join(dir, "day.zip"), filepath.Join(dir, "copy")},
		{"merge", filepath.Join(dir, "copy")},
		{"demo"},
	} {
		c := child(t, env, args...)
		c.Args = append([]string{unshare, "-n", c.Path}, args...)
		c.Path = unshare
		if out, err := c.CombinedOutput(); err != nil {
			t.Errorf("%v: %v\n%s", args, err, out)
		}
	}
}
