package predict_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"slipcase/predict"
	"slipcase/predict/season"
)

// followed is a clean run of a season, its forecast and what else could have been known.
type followed struct {
	season uint64
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
}

// follow forecasts the clean runs of a season from those entered before them. The hand
// methods are given the clean ones alone. out is the share of the clean runs that the last
// forecast leaves out.
func follow(t testing.TB, s season.Season) (fs []followed, out float64) {
	t.Helper()
	var all, clean []predict.Pass
	ideal := newFloor(s, false)
	at, visits, day, changed := s.Finish, map[string]int{}, "", 0
	runs := s.Entered()
	for i, r := range runs {
		ideal.open(r.Pass.Day)
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
				season: s.Seed, noise: s.NoiseSD, run: r, at: at, nth: i, since: i - changed,
				visit: visits[r.Pass.Track] - 1, et: r.Pass.Splits.ETs[at].Value(), got: f,
			}
			x.hand, x.handed = predict.ByHandTimes(clean, r.Pass, at)
			m, _ := ideal.forecast()
			x.ideal = r.Mean[at] * math.Exp(m)
			fs = append(fs, x)
			ideal.learn(math.Log(x.et / r.Mean[at]))
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

// part is the row, beside that of all runs from the third on, in which a run counts.
func (x *followed) part(g season.Regime) string {
	pick := func(i int, names ...string) string { return names[min(i, len(names)-1)] }
	r := &x.run
	switch {
	case x.nth == 0 && (g == season.Regime{} || g.Eighth):
		return "before any run"
	case !x.handed:
		return ""
	case g.SlowDays > 0 && !r.SlowDay:
		return "ordinary days"
	case g.SlowDays > 0:
		return pick(r.Round, "slow day, 1st run", "slow day, 2nd run", "slow day, from the 3rd")
	case g.Hidden != season.Change{} && !r.Hidden || g.Said > 0 && r.Setup == 0:
		return "before"
	case g.Hidden != season.Change{}:
		return pick(x.since/4, "its first 4 runs", "later")
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
	case g == season.Regime{} && x.nth >= 3:
		return pick(int((x.noise-0.002)/0.004*3), "steady third", "middle third", "noisy third")
	case x.nth < 3 && (g == season.Regime{} || g.BadFirst):
		return "after one or two"
	case g.Eighth:
		return pick(x.nth/5, "runs 2 to 5", "from the sixth")
	}
	return ""
}

// risks are those that a dial is asked for.
var risks = [...]float64{0.05, 0.1, 0.15, 0.2, 0.3}

// tally is a row of the table of regimes: sums over runs.
type tally struct {
	n                 int
	miss, apart, bias float64
	ideal, gap        float64 // gap: from the forecast to the dial of 15 %
	hand              [4]float64
	held              [3]int
	under             [len(risks)]int
	bySeason          map[uint64]*[2]float64 // n, and held of the 80 % interval
}

func (y *tally) add(x *followed) {
	b := x.got.ETs[x.at]
	y.n++
	y.miss += math.Abs(b.Centre - x.et)
	y.apart += math.Abs(b.Centre - x.run.Today[x.at])
	y.bias += b.Centre - x.et
	y.ideal += math.Abs(x.ideal - x.et)
	for i, h := range x.hand {
		y.hand[i] += math.Abs(h - x.et)
	}
	if y.bySeason == nil {
		y.bySeason = map[uint64]*[2]float64{}
	}
	s := y.bySeason[x.season]
	if s == nil {
		s = new([2]float64)
		y.bySeason[x.season] = s
	}
	s[0]++
	for i, in := range [...]bool{
		b.Low50 <= x.et && x.et <= b.High50, b.Low80 <= x.et && x.et <= b.High80, b.Low95 <= x.et && x.et <= b.High95,
	} {
		if in {
			y.held[i]++
			if i == 1 {
				s[1]++
			}
		}
	}
	for i, risk := range risks {
		dial, err := x.got.DialFor(x.at, risk)
		if err == nil && x.et < dial-1e-9 {
			y.under[i]++
		}
		if risk == predict.UsualRisk {
			y.gap += b.Centre - dial
		}
	}
}

func (y *tally) percent(n int) float64 { return 100 * float64(n) / float64(y.n) }

// se is the standard error of the share held at 80 %, in points, seasons as the unit.
func (y *tally) se() float64 {
	p, v := float64(y.held[1])/float64(y.n), 0.
	for _, s := range y.bySeason {
		d := s[1] - p*s[0]
		v += d * d
	}
	return 100 * math.Sqrt(v) / float64(y.n)
}

func (y *tally) row(what string, tail string) string {
	n := float64(y.n)
	ms := func(v float64) float64 { return 1000 * v / n }
	var out strings.Builder
	fmt.Fprintf(
		&out,
		"%-30s %6d %4d | %6.1f %6.1f %+7.1f | %5.2f | %6.0f %6.0f | %2.0f/%2.0f/%3.0f ± %3.1f |",
		what,
		y.n,
		len(y.bySeason),
		ms(y.miss),
		ms(y.apart),
		ms(y.bias),
		y.miss/y.ideal,
		ms(y.hand[0]),
		ms(slices.Min(y.hand[:])),
		y.percent(y.held[0]),
		y.percent(y.held[1]),
		y.percent(y.held[2]),
		y.se(),
	)
	for _, u := range y.under {
		fmt.Fprintf(&out, " %4.1f", y.percent(u))
	}
	fmt.Fprintf(&out, " | %4.0f", ms(y.gap))
	return out.String() + tail + "\n"
}

const regimeHead = `thousandths of a second; apart: from the run's truth, its own noise apart; ideal: times who knows car, noise and day;
n: seasons; ± standard error of the 80 %, seasons as the unit; dial: share under a dial for 5, 10, 15, 20, 30 %; gap: from forecast to the dial of 15 %; out: clean runs left out in the end
regime, from the third run on     runs    n |   miss  apart    bias | ideal |   last  byhand | 50/80/95        | dial                     |  gap | out
`

// regimeTable prints one regime on n seasons.
func regimeTable(t *testing.T, by season.Simulator, g season.NamedRegime, first, n uint64) (string, map[string]*tally) {
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
			if p := x.part(g.Regime); p != "" {
				if rows[p] == nil {
					rows[p] = &tally{}
					parts = append(parts, p)
				}
				rows[p].add(x)
			}
		}
	}
	out := rows[""].row(g.Name, fmt.Sprintf(" | %4.1f %%", 100*left))
	for _, p := range parts {
		out += rows[p].row("    "+p, "")
	}
	return out, rows
}
