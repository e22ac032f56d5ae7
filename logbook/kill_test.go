package logbook

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

func init() {
	// append records slips until it is killed; it says what it is about to record,
	// and that it is recorded once it is told so.
	children["append"] = func(args []string) error {
		lb, err := Open(args[0], Options{})
		if err != nil {
			return err
		}
		for n := 0; ; n++ {
			mark := fmt.Sprintf("%s-%d", args[1], n)
			fmt.Println("try", mark)
			// Every third is a batch of three; every fourth is amended.
			batch := []*Slip{marked(mark, n)}
			if n%3 == 2 {
				batch = append(batch, marked(mark+"b", n), marked(mark+"c", n))
			}
			if err := lb.AddSlips(batch...); err != nil {
				return err
			}
			fmt.Println("did", mark)
			if n%4 == 3 {
				_, err := lb.AmendSlip(batch[0].ID, func(s *Slip) error { s.Lane = "left"; return nil })
				if err != nil {
					return err
				}
			}
		}
	}
}

// A child that records is killed at a random moment, again and again: what it
// acknowledged must be there, and nothing that it did not try.
func TestKilledWhileRecording(t *testing.T) {
	const ofOne = 50 // kills of one logbook, before it grows long
	kills := campaign(25, 1000)
	var lb *Logbook
	var did, tried map[string]bool
	inFlight, torn := 0, 0 // slips that a kill met on their way; rows it tore
	for kill := range kills {
		if kill%ofOne == 0 {
			lb = start(t)
			lb.newID = NewID
			did, tried = map[string]bool{}, map[string]bool{}
		}
		c := childProcess("append", lb.Dir(), fmt.Sprint(kill))
		out, err := c.StdoutPipe()
		must(t, err)
		must(t, c.Start())
		lines := bufio.NewScanner(out)
		last := ""
		for first := true; lines.Scan(); first = false {
			what, mark, _ := strings.Cut(lines.Text(), " ")
			last = what
			all := []string{mark}
			if n := strings.LastIndexByte(mark, '-'); n > 0 && atoi(mark[n+1:])%3 == 2 {
				all = append(all, mark+"b", mark+"c")
			}
			for _, m := range all {
				tried[m] = true
				did[m] = did[m] || what == "did"
			}
			if first {
				time.AfterFunc(time.Duration(rand.IntN(12_000))*time.Microsecond, func() { c.Process.Kill() })
			}
		}
		if err := c.Wait(); err == nil {
			t.Fatal("the child ended by itself")
		}
		lb, err = Open(lb.Dir(), Options{})
		must(t, err)
		there := marks(t, lb)
		if last == "try" {
			inFlight++
		}
		torn += len(lb.Problems())
		for m, acknowledged := range did {
			if acknowledged && there[m] != 1 {
				t.Errorf("kill %d: slip %s was acknowledged and is there %d times", kill, m, there[m])
			}
		}
		for m := range there {
			if !tried[m] {
				t.Errorf("kill %d: slip %s was invented", kill, m)
			}
		}
		if t.Failed() {
			return
		}
		if kill%ofOne == ofOne-1 || kill == kills-1 {
			repair(t, lb)
			for _, f := range grave(t, lb) {
				if f.Kind != Twice { // the clock of the slips begins anew with each child
					t.Errorf("after %d kills and a repair: %s", kill, f)
				}
			}
			for m := range marks(t, lb) {
				if !tried[m] {
					t.Errorf("kill %d: slip %s was invented by the repair", kill, m)
				}
			}
		}
	}
	t.Logf("%d kills, %d while recording, %d torn rows", kills, inFlight, torn)
}

func atoi(s string) (n int) {
	fmt.Sscan(s, &n)
	return n
}
