package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"slipcase/logbook"
)

// ending is a context that ends when it has been asked so often.
type ending struct {
	context.Context
	left atomic.Int64
}

func (c *ending) Err() error {
	if c.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

// TestCancelled ends the context of a long command while it works: it ends with the
// status of an interrupt, nothing is recorded, and the program can go on.
func TestCancelled(t *testing.T) {
	dir, other := filepath.Join(t.TempDir(), "log"), filepath.Join(t.TempDir(), "other")
	for _, d := range []string{dir, other} {
		if status, _, said := runLine(t, "init", "--logbook", d); status != exitDone {
			t.Fatal(said)
		}
		if status, _, said := runLine(t, "vehicle", "add", "heron", "--logbook", d); status != exitDone {
			t.Fatal(said)
		}
		writeSlips(t, d, 1, 3)
	}
	before, err := contents(dir)
	if err != nil {
		t.Fatal(err)
	}
	const lines = "14:25 1.912 . 8.412@83.77 . 13.212@105.84\n14:35 1.915 . 8.415@83.77 . 13.215@105.84\n"
	for _, line := range []string{"slip add --vehicle heron -", "slip list", "backtest --vehicle heron", "merge " + other} {
		var out, said bytes.Buffer
		a := &app{in: strings.NewReader(lines), out: &out, errOut: &said, now: time.Now, newID: logbook.NewID}
		ctx := &ending{Context: t.Context()}
		ctx.left.Store(2) // once before the command begins, once within
		if status := a.run(ctx, append(strings.Fields(line), "--logbook", dir)); status != exitInterrupted || out.Len() > 0 {
			t.Errorf("%s: status %d, %q, %q", line, status, out.String(), said.String())
		}
		if !strings.Contains(said.String(), "interrupted") {
			t.Errorf("%s: said %q", line, said.String())
		}
	}
	after, err := contents(dir)
	if err != nil {
		t.Fatal(err)
	}
	for name, sum := range merged(before, after) {
		if before[name] != sum {
			t.Errorf("%s was changed", name)
		}
	}
	if status, _, said := runLine(t, "slip", "list", "--logbook", dir); status != exitDone {
		t.Error(said)
	}
}
