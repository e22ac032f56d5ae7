package predict_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

// followed is a clean run of a season, its forecast and what else could have been known.
type followed struct {
	season uint64
	kind   predict.Kind
	noise  float64 // the car's own, in logs
	run    season.Run
	at     predict.Mark
	nth    int // of the runs entered, from 0
	since  int // runs since the upgrade, or the hidden change
	visit  int // of the track, from 0
	et     float64
	got    predict.Forecast
	hand   [4]float64
	handed bool
	ideal  float64 // of one who knows the car, its noise, and the day as far as it has gone
	taught float64 // of one who is told as much as can be, and has to learn the car (learner)
	sure   float64 // his standard deviation, s
	doubts believed
}

// follow forecasts the clean runs of a season from those entered before them. The hand
// methods are given the clean ones alone. out is the share of the clean runs that the last
// forecast leaves out.
func follow(t testing.TB, s season.Season) (fs []followed, out float64) {
	t.Helper()
	var all, clean []predict.Pass
	ideal := newFloor(s, false)
	shares, size := things(s)
	taught, doubter := newLearner(s, size), newDoubter(s, size)
	at, visits, day, changed := s.Finish, map[string]int{}, "", 0
	runs := s.Entered()
	for i, r := range runs {
		ideal.open(r.Pass.Day)
		taught.open(r)
		doubter.open(r)
		if r.Pass.Day != day {
			day = r.Pass.Day
			visits[r.Pass.Track]++
		}
		if i > 0 && (r.Setup != runs[i-1].Setup || r.Hidden != runs[i-1].Hidden) {
			changed = i
		}
		if r.Clean {
			f, err := predict.Expect(all, r.Pass)
			if err != nil {
				t.Fatalf("season %d run %s: %v", s.Seed, r.Pass.ID, err)
			}
			x := followed{
				season: s.Seed, kind: s.Kind, noise: s.NoiseSD, run: r, at: at, nth: i, since: i - changed,
				visit: visits[r.Pass.Track] - 1, et: r.Pass.Splits.ETs[at].Value(), got: f,
			}
			x.hand, x.handed = predict.ByHandTimes(clean, r.Pass, at)
			of, _ := ideal.forecast()
			x.ideal = r.Mean[at] * math.Exp(of)
			shows := lesson(s, r, shares[r.Pass.ID])
			m, sd := taught.forecast(shows)
			x.taught, x.sure = r.Mean[at]*math.Exp(m), r.Mean[at]*sd
			x.doubts = doubter.forecast(s, r, shows)
			fs = append(fs, x)
			y := math.Log(x.et / r.Mean[at])
			ideal.learn(y)
			taught.learn(shows, y)
			doubter.learn(s, r, shows, y)
			clean = append(clean, r.Pass)
		}
		all = append(all, r.Pass)
	}
	if len(fs) == 0 {
		return nil, 0
	}
	for _, l := range fs[len(fs)-1].got.LeftOut {
		if slices.ContainsFunc(clean, func(p predict.Pass) bool { return p.ID == l.ID }) {
			out += 1 / float64(len(clean))
		}
	}
	return fs, out
}

// ordinaryParts are the rows of an ordinary season.
func (x *followed) ordinaryParts() (names []string) {
	r, kind := &x.run, "cars"
	if x.kind == predict.Motorcycle {
		kind = "bikes"
	}
	if x.nth < 2 {
		return nil
	}
	names = append(names, kind, pick(r.Round, "first of the day", "later in the day"))
	names = append(names, pick(int((x.noise-0.002)/0.004*3), "steady third", "middle third", "noisy third"))
	if r.NewTrack {
		names = append(names, "new track")
	}
	if r.Setup == 1 {
		names = append(names, pick(x.since/2, "upgrade, first two", "upgrade, later"))
	}
	return names
}

func pick(i int, names ...string) string { return names[min(i, len(names)-1)] }

// parts are the rows, beside that of all runs from the third on, in which a run counts.
func (x *followed) parts(g season.Regime) []string {
	p := x.part(g)
	switch {
	case g == season.Regime{}:
		return x.ordinaryParts()
	case p == "":
		return nil
	case g.LaneS > 0 && x.nth >= 40:
		return []string{p, p + ", from run 13", p + ", from run 41"}
	case g.LaneS > 0 && x.nth >= 12:
		return []string{p, p + ", from run 13"}
	case p == "away, first day" && x.run.Round >= 3:
		return []string{p, "away, from its 4th run"}
	}
	return []string{p}
}

// part is the row of a regime.
func (x *followed) part(g season.Regime) string {
	r := &x.run
	switch {
	case !x.handed:
		return ""
	case g.SlowDays > 0 && !r.SlowDay:
		return "ordinary days"
	case g.SlowDays > 0:
		return pick(r.Round, "slow day, 1st run", "slow day, 2nd run", "slow day, from the 3rd")
	case g.Hidden != season.Change{} && !r.Hidden || g.Said > 0 && r.Setup == 0:
		return "before"
	case g.Hidden != season.Change{}:
		return pick((x.since+2)/3, "its first run", "runs 2 to 4", "later")
	case g.Said > 0:
		return pick((x.since+1)/2, "first run with it", "2nd and 3rd", "later")
	case g.AwayGrip != 0 && r.Pass.Track == "away":
		return pick(2*x.visit+min(r.Round, 1), "away, 1st run", "away, first day", "away, 2nd visit")
	case g.AwayGrip != 0:
		return "home"
	case g.HeatRun != 0:
		return pick(r.Round/3, "runs 1-3 of the day", "runs 4-6", "later")
	case g.LaneS > 0:
		return r.Pass.Lane
	case g.WearS > 0 && r.Round == 0:
		return "first of the day"
	case g.OtherDriver:
		return r.Driver + " driver"
	case x.nth < 3 && g.BadFirst:
		return "after one or two"
	case g.Eighth:
		return pick(x.nth/5, "runs 2 to 5", "from the sixth")
	}
	return ""
}

// regimeTable prints one regime on n seasons.
func regimeTable(t *testing.T, by season.Simulator, g season.NamedRegime, first, n uint64) (string, map[string]*tally) {
	t.Helper()
	rows := map[string]*tally{"": {}}
	var parts []string
	left := 0.
	for seed := first; seed < first+n; seed++ {
		fs, out := follow(t, season.Make(by, seed, g.Regime))
		left += out / float64(n)
		for i := range fs {
			x := &fs[i]
			if x.nth >= 2 {
				rows[""].add(x)
			}
			for _, p := range x.parts(g.Regime) {
				if rows[p] == nil {
					rows[p] = &tally{}
					parts = append(parts, p)
				}
				rows[p].add(x)
			}
		}
	}
	rows[""].out = left
	out := rows[""].row(g.Name, fmt.Sprintf(" | %4.1f %%", 100*left))
	for _, p := range parts {
		out += rows[p].row("    "+p, "")
	}
	return out, rows
}
