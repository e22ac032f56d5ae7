package logbook

import (
	"fmt"
	"os/exec"
	"strconv"
	"sync/atomic"
	"testing"
	"time"
)

func init() {
	children["crowd"] = func(args []string) error {
		lb, err := Open(args[0], Options{})
		if err != nil {
			return err
		}
		// A crowd that no racer has, on a machine that may have more to do: whether all that is
		// recorded is there is asked, not how long one of them waits.
		lb.patience = time.Hour
		n, err := strconv.Atoi(args[2])
		if err != nil {
			return err
		}
		for i := range n {
			if err := lb.AddSlips(marked(args[1]+"-"+fmt.Sprint(i), i)); err != nil {
				return err
			}
		}
		return nil
	}
}

// Four programs record at once while two read.
func TestWritersAtOnce(t *testing.T) {
	const writers = 4
	each := campaign(40, 2500)
	lb := start(t)
	var procs []*exec.Cmd
	for w := range writers {
		c := childProcess("crowd", lb.Dir(), fmt.Sprint(w), fmt.Sprint(each))
		must(t, c.Start())
		procs = append(procs, c)
	}
	var done atomic.Bool
	reads := make(chan error, 2)
	for range cap(reads) {
		go func() {
			for !done.Load() {
				lb, err := Open(lb.Dir(), Options{})
				if err == nil {
					_, err = lb.Slips("")
				}
				if err == nil && len(lb.Problems()) > 0 {
					err = fmt.Errorf("a reader met %v", lb.Problems())
				}
				if err != nil {
					reads <- err
					return
				}
				time.Sleep(5 * time.Millisecond)
			}
			reads <- nil
		}()
	}
	for _, c := range procs {
		if err := c.Wait(); err != nil {
			t.Errorf("a writer failed: %v", err)
		}
	}
	done.Store(true)
	for range cap(reads) {
		if err := <-reads; err != nil {
			t.Error(err)
		}
	}
	all, err := lb.Slips("")
	must(t, err)
	ids, notes := map[string]bool{}, map[string]bool{}
	for _, s := range all {
		ids[s.ID], notes[s.Notes] = true, true
	}
	if want := writers * each; len(all) != want || len(ids) != want || len(notes) != want {
		t.Errorf("%d slips with %d ids and %d notes, want %d", len(all), len(ids), len(notes), want)
	}
	if n := len(lb.Problems()); n > 0 {
		t.Errorf("%d problems, the first: %s", n, lb.Problems()[0])
	}
	t.Logf("%d of %d slips", len(all), writers*each)
}
