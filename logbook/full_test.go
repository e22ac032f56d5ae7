//go:build linux

package logbook

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func init() {
	// fill records until a file may grow no more, and says what was acknowledged.
	children["fill"] = func(args []string) error {
		var limit uint64
		if _, err := fmt.Sscan(args[1], &limit); err != nil {
			return err
		}
		err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: limit, Max: limit})
		if err != nil {
			return err
		}
		lb, err := Open(args[0], Options{})
		if err != nil {
			return err
		}
		for _, mark := range recordUntilFull(lb) {
			fmt.Println(mark)
		}
		return nil
	}
}

// recordUntilFull gives the slips that were acknowledged, and last, behind a dash,
// what the error said.
func recordUntilFull(lb *Logbook) (acknowledged []string) {
	for n := range 100_000 {
		batch := []*Slip{marked(fmt.Sprintf("%d ", n)+strings.Repeat("x", n%300), n)}
		if n%4 == 3 {
			batch = append(batch, marked(fmt.Sprintf("%d b", n), n), marked(fmt.Sprintf("%d c", n), n))
		}
		if err := lb.AddSlips(batch...); err != nil {
			return append(acknowledged, "-"+strings.ReplaceAll(err.Error(), "\n", " "))
		}
		for _, s := range batch {
			acknowledged = append(acknowledged, s.Notes)
		}
	}
	return append(acknowledged, "-never full")
}

// The disk is full: a mounted tmpfs where that is allowed, else a limit on the
// size of files in a process of its own.
func TestFullDisk(t *testing.T) {
	fills := campaign(5, 50)
	for n := range fills {
		dir := filepath.Join(t.TempDir(), "disk")
		must(t, os.Mkdir(dir, 0o700))
		r := rand.New(rand.NewPCG(uint64(n), 3))
		err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=128k")
		mounted := err == nil
		if err != nil && !errors.Is(err, syscall.EPERM) {
			t.Fatal(err)
		}
		if n == 0 {
			t.Logf("%d fills, on a mounted tmpfs: %v (else a limit on file size)", fills, mounted)
		}
		lb := startIn(t, filepath.Join(dir, "log"))
		lb.newID = NewID
		var acknowledged []string
		room := func() {}
		if mounted {
			defer syscall.Unmount(dir, syscall.MNT_DETACH)
			ballast := filepath.Join(dir, "ballast")
			must(t, os.WriteFile(ballast, make([]byte, r.IntN(60_000)), 0o600))
			acknowledged = recordUntilFull(lb)
			room = func() { must(t, os.Remove(ballast)) }
			// A racer also tries again while it is full.
			if err := lb.AddSlips(marked(strings.Repeat("y", 9000), 1)); err == nil {
				acknowledged = append([]string{strings.Repeat("y", 9000)}, acknowledged...)
			}
		} else {
			out, err := childProcess("fill", lb.Dir(), fmt.Sprint(2000+r.IntN(30_000))).Output()
			must(t, err)
			acknowledged = strings.Split(strings.TrimRight(string(out), "\n"), "\n")
		}
		said := acknowledged[len(acknowledged)-1]
		acknowledged = acknowledged[:len(acknowledged)-1]
		if !strings.Contains(said, "not recorded") ||
			!(strings.Contains(said, "no space") || strings.Contains(said, "too large")) {
			t.Errorf("fill %d: the error is %q", n, said)
		}
		room()
		fresh, err := Open(lb.Dir(), heldOptions())
		must(t, err)
		fresh.newID = NewID
		there := marks(t, fresh)
		for _, mark := range acknowledged {
			if there[mark] != 1 {
				t.Errorf("fill %d: slip %s was acknowledged and is there %d times", n, clip(mark), there[mark])
			}
		}
		if len(there) != len(acknowledged) {
			t.Errorf("fill %d: %d slips are there, %d were acknowledged", n, len(there), len(acknowledged))
		}
		must(t, fresh.AddSlips(marked("next", 1)))
		for _, f := range grave(t, fresh) {
			if f.Kind != Twice { // the slips of a batch have one time
				t.Errorf("fill %d: %s", n, f)
			}
		}
		if len(fresh.Problems()) > 0 || t.Failed() {
			t.Fatalf("fill %d: %v", n, fresh.Problems())
		}
	}
}
