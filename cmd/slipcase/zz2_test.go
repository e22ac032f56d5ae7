//go:build linux

package main

import (
	"testing"
	"os"
	"strconv"
	"time"
	"fmt"
	"path/filepath"
)

// airlog has slips and readings.
func TestZZAirMake(t *testing.T) {
	dir := crowded(t, 10_000)
	addAir(t, dir, 10000)
	os.RemoveAll("/tmp/airlog")
	os.CopyFS("/tmp/airlog", os.DirFS(dir))
}

func addAir(t *testing.T, dir string, slips int) {
	air, err := os.OpenFile(filepath.Join(dir, "air.csv"), os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer air.Close()
	for i := range slips / 8 {
		at := time.Date(2024, 3, 1, 8, 0, 0, 0, time.UTC).Add(time.Duration(i) * 2 * time.Hour).Format(time.RFC3339)
		fmt.Fprintf(air, "abench%04d,1,fact,%s,,%s,saltgrass,80,45,,,28.94,,,,,,\n", i, at, at)
	}
}

func TestZZExport(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("ZZ"))
	for range n {
		out := filepath.Join(t.TempDir(), "x.csv")
		if status, _, said := runLine(t, "export", out, "--no-forecast", "--logbook", "/tmp/airlog"); status != exitDone {
			t.Fatal(said)
		}
	}
}
