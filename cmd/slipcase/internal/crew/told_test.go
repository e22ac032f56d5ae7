package crew

import (
	"math"
	"slices"
	"testing"
	"time"

	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// TestTellerStepsForWhatItTells: of runs told in two parts, as an export to a file a year does,
// each steps once, and none of those that are left out.
func TestTellerStepsForWhatItTells(t *testing.T) {
	s, _ := begun(t)
	add(t, s, slipAt(10, 13.2), slipAt(11, 13.21), slipAt(12, 13.19))
	runs, err := s.Runs("heron")
	if err != nil {
		t.Fatal(err)
	}
	var steps []int
	teller, err := s.NewTeller(ToldAsk{Step: func(done int) { steps = append(steps, done) }}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, early := range []bool{true, false} {
		keep := func(r *Run) bool { return r.Slip.Time.Hour() < 11 == early }
		if err := teller.Tell(t.Context(), runs, keep, func(*Told) error { return nil }); err != nil {
			t.Fatal(err)
		}
	}
	if want := []int{1, 2, 3}; !slices.Equal(steps, want) {
		t.Errorf("it steps %v: want %v", steps, want)
	}
}

// TestOneStandardAir: a run is the same in standard air wherever it is shown: on its slip, last
// or not, of today or long ago, in a list of all vehicles and of one, corrected and exported.
func TestOneStandardAir(t *testing.T) {
	s, _ := begun(t)
	track := logbook.Track{Entry: logbook.Entry{ID: "saltgrass"}, ElevationFt: units.Some(812.)}
	if err := s.AddTrack(&track); err != nil {
		t.Fatal(err)
	}
	var last time.Time
	for i := range 45 { // so many that a run may count by its own forecast
		slip := slipAt(10+i%8, 13.2+float64(i*7%11)/300)
		slip.Time = Time{Time: slip.Time.AddDate(0, 0, i/8)}
		slip.Track, last = "saltgrass", slip.Time.Time
		air := weather.Reading{
			TempF: units.Some(60 + float64(i*13%29)), RHPct: units.Some(50.), StationInHg: units.Some(29 - float64(i%5)/10),
		}
		if err := s.AddReading(&logbook.Reading{Time: slip.Time, Track: "saltgrass", Reading: air}); err != nil {
			t.Fatal(err)
		}
		add(t, s, slip)
	}
	ids, shown := []string(nil), map[string][]float64{}
	show := func(j *Judged) {
		if !j.InAir {
			t.Fatalf("%s: no air", j.Run.Slip.ID)
		}
		shown[j.Run.Slip.ID] = append(shown[j.Run.Slip.ID], j.Standard.ETs[At1320].Value())
	}
	corrected, err := s.StandardAir("heron")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range corrected.Runs[30:] {
		ids = append(ids, r.Run.Slip.ID)
		shown[r.Run.Slip.ID] = append(shown[r.Run.Slip.ID], r.Own.ETs[At1320].Value())
	}
	for _, vehicle := range []string{"", "heron"} {
		for _, n := range []int{1, len(ids)} {
			js, _, err := s.JudgeLast(t.Context(), vehicle, n)
			if err != nil {
				t.Fatal(err)
			}
			for i := range js {
				show(&js[i])
			}
		}
	}
	for _, now := range []time.Time{last.Add(time.Hour), last.AddDate(1, 0, 0)} {
		s.Now = func() time.Time { return now }
		for _, r := range corrected.Runs[30:] {
			j, err := s.Judge(r.Run.Slip)
			if err != nil {
				t.Fatal(err)
			}
			show(&j)
		}
	}
	teller, err := s.NewTeller(ToldAsk{Learned: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	runs, err := s.Runs("heron")
	if err != nil {
		t.Fatal(err)
	}
	tell := func(told *Told) error {
		show(&told.Judged)
		return nil
	}
	keep := func(r *Run) bool { return slices.Contains(ids, r.Slip.ID) }
	if err := teller.Tell(t.Context(), runs, keep, tell); err != nil {
		t.Fatal(err)
	}
	for i, id := range ids {
		all, want := shown[id], 6
		if i == len(ids)-1 {
			want = 8
		}
		if spread := slices.Max(all) - slices.Min(all); len(all) != want || spread > 1e-9 || math.IsNaN(spread) {
			t.Errorf("%s: %v in standard air, want one figure %d times", id, all, want)
		}
	}
}
