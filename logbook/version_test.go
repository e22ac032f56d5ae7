package logbook

import (
	"bytes"
	"errors"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"slipcase/weather/units"
)

// Each bit of logbook.json is flipped: it is refused and mended, or means the same.
func TestVersionWithABitFlipped(t *testing.T) {
	t.Run("us", func(t *testing.T) { flipVersion(t, start(t), units.US) })
	t.Run("metric", func(t *testing.T) {
		lb := start(t)
		data, err := os.ReadFile(lb.path(metaFile))
		must(t, err)
		must(t, os.WriteFile(lb.path(metaFile), bytes.Replace(data, []byte("}"), []byte(`,"units":"metric"}`), 1), 0o600))
		flipVersion(t, lb, units.Metric)
	})
}

func flipVersion(t *testing.T, lb *Logbook, bare units.System) {
	good, err := os.ReadFile(lb.path(metaFile))
	must(t, err)
	mended := 0
	flips := 0
	for bit := 0; bit < 8*len(good); bit += campaign(5, 1) {
		flips++
		bad := slices.Clone(good)
		bad[bit/8] ^= 1 << (bit % 8)
		must(t, os.WriteFile(lb.path(metaFile), bad, 0o600))
		_, err := Open(lb.Dir(), Options{})
		if err == nil {
			if got := UnitsOf(lb.Dir()); got != bare {
				t.Errorf("bit %d, %s: bare numbers are %v", bit, bad, got)
			}
			continue
		}
		if !errors.Is(err, ErrNoVersion) && !errors.Is(err, ErrDamagedVersion) {
			t.Errorf("bit %d, %s: %v", bit, bad, err)
			continue
		}
		mended++
		must(t, RepairVersion(lb.Dir(), heldOptions()))
		again, err := Open(lb.Dir(), Options{})
		must(t, err)
		if again.ID() == "" || errors.Is(err, ErrDamagedVersion) && again.ID() != lb.ID() {
			t.Errorf("bit %d: the id is %q", bit, again.ID())
		}
		if got := UnitsOf(lb.Dir()); got != bare {
			t.Errorf("bit %d: mended, bare numbers are %v", bit, got)
		}
	}
	if mended < flips/4 {
		t.Errorf("only %d of %d were told", mended, flips)
	}
}

// A version that is not one flipped bit away, or whose files are not ours, stays.
func TestANewerVersionIsNotMended(t *testing.T) {
	for _, tc := range []struct {
		said   string
		damage func(lb *Logbook)
	}{
		{"2", func(*Logbook) {}},
		{"99", func(*Logbook) {}},
		{"9", func(lb *Logbook) {
			data, err := os.ReadFile(lb.path(vehicles.file))
			must(t, err)
			must(t, os.WriteFile(lb.path(vehicles.file), bytes.Replace(data, []byte("kind"), []byte("sort"), 1), 0o600))
		}},
		{"9", func(lb *Logbook) { must(t, os.Remove(lb.path(journalFile))) }},
	} {
		lb := start(t)
		data := []byte(`{"schema":` + tc.said + `,"created":"2026-05-02T15:00:00Z"}` + "\n")
		must(t, os.WriteFile(lb.path(metaFile), data, 0o600))
		tc.damage(lb)
		if _, err := Open(lb.Dir(), Options{}); !errors.Is(err, ErrVersion) {
			t.Errorf("version %s: %v", tc.said, err)
		}
		if err := RepairVersion(lb.Dir(), heldOptions()); !errors.Is(err, ErrVersion) {
			t.Errorf("mending version %s: %v", tc.said, err)
		}
		if now, err := os.ReadFile(lb.path(metaFile)); err != nil || !bytes.Equal(now, data) {
			t.Errorf("version %s: the file is now %q, %v", tc.said, now, err)
		}
	}
}

// The id is made with the logbook, goes with its copies, and comes to an old one with
// the next write.
func TestIDOfALogbook(t *testing.T) {
	lb := start(t)
	if !regexp.MustCompile(`^l[a-z2-7]{9}$`).MatchString(lb.ID()) {
		t.Errorf("the id is %q", lb.ID())
	}
	if c := onCopy(t, lb); c.ID() != lb.ID() {
		t.Errorf("a copy has the id %q, not %q", c.ID(), lb.ID())
	}
	dir := t.TempDir()
	must(t, os.CopyFS(dir, os.DirFS("testdata/v1")))
	old, err := Open(dir, Options{})
	must(t, err)
	_, err = old.Slips("")
	must(t, err)
	if data, err := os.ReadFile(old.path(metaFile)); err != nil || old.ID() != "" || strings.Contains(string(data), "id") {
		t.Errorf("reading gave it the id %q: %s, %v", old.ID(), data, err)
	}
	must(t, old.AddSlips(slipAt(20, 0, 13.4)))
	again, err := Open(dir, Options{})
	must(t, err)
	if again.ID() == "" || again.ID() != old.ID() {
		t.Errorf("the id is %q, read again %q", old.ID(), again.ID())
	}
	data, err := os.ReadFile(old.path(metaFile))
	must(t, err)
	if !strings.Contains(string(data), `"created":"2026-11-25T08:42:30-06:00"`) {
		t.Errorf("it forgot when it was made: %s", data)
	}
}
