package crew

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/predict"
	invented "slipcase/predict/season"
	"slipcase/weather/units"
)

// finger mistypes digits as a hand in a glove does: on the row of digits or the
// number pad, a digit is hit beside, exchanged with the next, dropped or doubled.
func finger(r *rand.Rand, digits string) string {
	pad := map[byte]string{
		'0': "12",
		'1': "024",
		'2': "0135",
		'3': "26",
		'4': "157",
		'5': "2468",
		'6': "359",
		'7': "48",
		'8': "579",
		'9': "68",
	}
	k := r.IntN(len(digits))
	switch u := r.Float64(); {
	case u < 0.45:
		keys := pad[digits[k]]
		if r.IntN(2) == 0 {
			const row = "1234567890"
			at := strings.IndexByte(row, digits[k])
			keys = row[max(at-1, 0):min(at+2, 10)]
		}
		return digits[:k] + string(keys[r.IntN(len(keys))]) + digits[k+1:]
	case u < 0.65:
		if k+1 < len(digits) {
			return digits[:k] + digits[k+1:k+2] + digits[k:k+1] + digits[k+2:]
		}
		return digits
	case u < 0.85:
		return digits[:k] + digits[k+1:]
	default:
		return digits[:k+1] + digits[k:]
	}
}

// cell is a figure of a slip.
type cell struct {
	m     predict.Mark
	speed bool
}

func (c cell) of(s *predict.Splits) *units.Number {
	if c.speed {
		return &s.MPHs[c.m]
	}
	return &s.ETs[c.m]
}

// cells are the figures that a slip has.
func cells(s predict.Splits) (list []cell) {
	for m := range predict.Marks {
		for _, c := range []cell{{m, false}, {m, true}} {
			if c.of(&s).Known() {
				list = append(list, c)
			}
		}
	}
	return list
}

// mistype makes one typing error in a slip that moves a time by more than 0.15 s or
// a speed by more than 3 mph, and reads it as the program does. Half of the racers
// type the point; to some of their errors it belongs.
func mistype(r *rand.Rand, s predict.Splits) (wrong predict.Splits, ok bool) {
	list := cells(s)
	for range 200 {
		c := list[r.IntN(len(list))]
		wrong = s
		format, most := "%.3f", 0.15
		if c.speed {
			format, most = "%.2f", 3
		}
		v := c.of(&s).Value()
		whole, decimals, _ := strings.Cut(fmt.Sprintf(format, v), ".")
		text := finger(r, whole+decimals)
		if r.IntN(2) == 0 {
			at := len(whole)
			if longer := len(text) - len(whole) - len(decimals); longer != 0 && r.IntN(len(whole)+len(decimals)) < len(whole) {
				at += longer // the digit that is missing or double stood before the point
			}
			if at <= 0 || at > len(text) {
				continue
			}
			text = text[:at] + "." + text[at:]
		}
		read, err := typed.Time(text, c.m.Ft())
		if c.speed {
			read, err = typed.Speed(units.US, text, s.ETs[c.m], c.m.Ft())
		}
		if err == nil && math.Abs(read.Value()-v) > most && read.Value() > 0 {
			*c.of(&wrong) = read
			return wrong, true
		}
	}
	return s, false
}

// mistypeAlone makes one typing error in a figure that stands alone, with or without its
// point, that moves it by more than so much.
func mistypeAlone(
	r *rand.Rand,
	n units.Number,
	format string,
	most float64,
	parse func(string) (units.Number, error),
) (units.Number, bool) {
	for range 200 {
		whole, decimals, _ := strings.Cut(fmt.Sprintf(format, math.Abs(n.Value())), ".")
		whole = strings.TrimPrefix(whole, "0")
		text := finger(r, whole+decimals)
		if at := len(whole) + max(len(text)-len(whole+decimals), 0)*r.IntN(2); r.IntN(2) == 0 && at < len(text) {
			text = text[:at] + "." + text[at:]
		}
		if n.Value() < 0 {
			text = "-" + text
		}
		if read, err := parse(text); err == nil && math.Abs(read.Value()-n.Value()) > most {
			return read, true
		}
	}
	return n, false
}

// timeTrials are so many runs of a day before the eliminations (common practice, no
// source).
const timeTrials = 2

// pit is what the racer has: his Slips so far, and how he leaves and dials. One launch
// in twenty is asleep, dials are within two tenths of the car's ordinary run (common
// practice, no source).
type pit struct {
	history   []predict.Pass
	slips     []Slip
	late, far float64 // of his reactions, s: where they lie and how far apart
}

// slip is a run as it is typed, with his reaction and his dial.
func (p *pit) slip(r *rand.Rand, run invented.Run) Slip {
	light := p.late + p.far*r.NormFloat64()
	if r.IntN(20) == 0 {
		light += 0.1 * r.ExpFloat64()
	}
	s := Slip{
		Vehicle: "any", Track: run.Pass.Track, Time: logbook.Time{Time: run.Pass.Time},
		FullPower: string(run.Pass.Effort), FullPowerToFt: run.Pass.FullFt,
		ReactionS: units.Some(math.Round(1000*light) / 1000), Round: fmt.Sprintf("T%d", run.Round+1),
	}
	if run.Round >= timeTrials {
		s.Round = fmt.Sprintf("E%d", run.Round-timeTrials+1)
	}
	SetSplits(&s, run.Pass.Splits)
	if m, some := run.Pass.Splits.Finish(); some {
		s.DialS = units.Some(math.Round(100*(run.Mean[m]+0.02+0.07*r.NormFloat64())) / 100)
	}
	return s
}

// asked looks at a slip as slip add does; one that cannot be is caught too.
func (p *pit) asked(run predict.Pass, s Slip) (bool, []predict.Splits) {
	asked, readings, _ := p.noticed(run, s)
	return asked, readings
}

// noticed says too whether it is remarked on where it is not asked about.
func (p *pit) noticed(run predict.Pass, s Slip) (asked bool, readings []predict.Splits, remarked *Doubt) {
	m := &among{car: &car{}, run: Run{Slip: s}, pass: run, before: p.history, others: p.slips}
	ds := m.doubts(run.Time)
	for _, d := range ds {
		for _, r := range d.Readings {
			meant := s
			r.Apply(&meant)
			readings = append(readings, PrintedSplits(meant))
		}
	}
	if asked = len(ds) > 0 || s.Check() != nil; !asked {
		remarked = m.perhaps()
	}
	return asked, readings, remarked
}

type caughtOf struct{ of, hit int }

func (t *caughtOf) add(hit bool) {
	t.of++
	if hit {
		t.hit++
	}
}

func (t caughtOf) pct() float64 { return 100 * float64(t.hit) / float64(max(t.of, 1)) }

// TestTypos makes typing errors in the clean slips of invented seasons, one a
// slip, and asks after every true one: one season in an ordinary test run, 60
// with SLIPCASE_CAMPAIGN=1, those for tuning with SLIPCASE_CAMPAIGN=tune.
func TestTypos(t *testing.T) {
	if testing.Short() {
		t.Skip("left to the run without -short")
	}
	t.Parallel()
	first, n := uint64(200_001), uint64(1)
	how := os.Getenv("SLIPCASE_CAMPAIGN")
	switch how {
	case "1":
		n = 60
	case "tune":
		first, n = 1, 40
	}
	b := proofBoard{}
	for seed := first; seed < first+n; seed++ {
		b.try(seed)
	}
	for _, k := range slices.Sorted(maps.Keys(b)) {
		t.Logf("%-32s %5d of %5d  %5.1f %%", k, b[k].hit, b[k].of, b[k].pct())
	}
	for _, bound := range []struct {
		what  string
		share float64
		least bool // at least so many, else fewer
	}{
		{"typo caught", 0.95, true},
		{"typo caught, light", 0.95, true},
		{"typo caught, dial", 0.95, true},
		{"typo, right reading first", 0.80, true},
		{"clean", 0.01, false},
		{"clean, remarked on", 0.01, false},
		{"gone wrong", 0.10, false},
	} {
		if n := b[bound.what]; n.broken(bound.share, bound.least, how != "") {
			t.Errorf("%s: %d of %d, %.1f %%, want %.0f", bound.what, n.hit, n.of, n.pct(), 100*bound.share)
		}
	}
}

// broken reports that a count is on the wrong side of a share; of a small sample, that
// one which keeps the share would be so far off less than once in a hundred.
func (t caughtOf) broken(share float64, least, large bool) bool {
	if large {
		off := t.pct()/100 >= share
		return off != least
	}
	law := distuv.Binomial{N: float64(t.of), P: share}
	if least {
		return law.CDF(float64(t.hit)) < 0.01
	}
	return 1-law.CDF(float64(t.hit)-1) < 0.01
}

// proofBoard counts by kind of slip how many were questioned.
type proofBoard map[string]*caughtOf

func (b proofBoard) add(key string, hit bool) {
	if b[key] == nil {
		b[key] = &caughtOf{}
	}
	b[key].add(hit)
}

func (b proofBoard) try(seed uint64) {
	r := rand.New(rand.NewPCG(seed, 7))
	driver := rand.New(rand.NewPCG(seed, 11))
	p := pit{late: 0.02 + 0.12*driver.Float64(), far: 0.01 + 0.04*driver.Float64()}
	for i, run := range invented.New(seed).Runs {
		s := p.slip(driver, run)
		asked, _, remarked := p.noticed(run.Pass, s)
		switch {
		case run.Clean:
			b.add("clean", asked)
			b.add("clean, remarked on", remarked != nil)
		default:
			b.add("gone wrong", asked)
		}
		switch {
		case run.Clean && i == 0:
			b.add("clean, first ever", asked)
		case run.Clean && run.Setup == 1 && run.Nth == 0:
			b.add("clean, first after the upgrade", asked)
		case run.Clean && run.NewTrack:
			b.add("clean, new track", asked)
		case run.Clean:
		case run.Pass.Effort != "":
			b.add("gone wrong, noted", asked)
		case run.CleanFt > 0:
			b.add("gone wrong, lifted and not noted", asked)
		default:
			b.add("gone wrong, spoiled and not noted", asked)
		}
		if wrong, ok := mistype(r, run.Pass.Splits); ok && run.Clean {
			b.mistyped(&p, s, run.Pass, wrong)
		}
		if run.Clean {
			b.mistypedAlone(&p, driver, s, run.Pass)
		}
		p.history, p.slips = append(p.history, run.Pass), append(p.slips, s)
	}
}

func (b proofBoard) mistyped(p *pit, s Slip, run predict.Pass, wrong predict.Splits) {
	meant := run.Splits
	run.Splits = wrong
	SetSplits(&s, wrong)
	asked, readings, remarked := p.noticed(run, s)
	b.add("typo caught", asked)
	if !asked {
		b.add("typo not asked about, remarked on", remarked != nil)
	}
	if remarked != nil {
		b.add("typo remarked on, rightly", remarked.Readings[0].splits == meant)
	}
	if len(cells(meant)) <= 2 {
		b.add("typo caught, finish alone", asked)
	}
	if asked {
		b.add("typo, right reading first", len(readings) > 0 && readings[0] == meant)
	}
}

// mistypedAlone mistypes the light of a race by more than 0.2 s, and the dial by more than
// half a second: nobody can tell less from how he leaves and dials.
func (b proofBoard) mistypedAlone(p *pit, r *rand.Rand, s Slip, run predict.Pass) {
	for _, of := range []struct {
		what, format string
		most         float64
		races        bool
		cell         *units.Number
		parse        func(string) (units.Number, error)
	}{
		{"light", "%.3f", 0.2, true, &s.ReactionS, typed.Reaction},
		{"dial", "%.2f", 0.5, false, &s.DialS, typed.Dial},
	} {
		meant := *of.cell
		wrong, ok := mistypeAlone(r, meant, of.format, of.most, of.parse)
		if !meant.Known() || !ok || of.races && !Raced(s) {
			continue
		}
		*of.cell = wrong
		asked, _ := p.asked(run, s)
		*of.cell = meant
		b.add("typo caught, "+of.what, asked)
	}
}
