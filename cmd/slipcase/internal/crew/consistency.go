package crew

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Grouping is what runs are told apart by.
type Grouping string

// The groupings; rounds go together by their letters.
const (
	ByLane  Grouping = "lane"
	ByRound Grouping = "round"
	ByMeet  Grouping = "meet"
)

// of is the group of a slip, "" when it has none.
func (g Grouping) of(s Slip) string {
	switch g {
	case ByRound:
		return strings.TrimRight(s.Round, "0123456789")
	case ByMeet:
		return s.Meet
	}
	return s.Lane
}

// AlikeAsk is what is asked of a vehicle's runs.
type AlikeAsk struct {
	By        Grouping
	Meet      string       // at this meet alone; "" for all
	Driver    string       // his runs alone; "" for all
	RedPct    float64      // how many times in 100 a red light is accepted
	ReactionS units.Number // the wanted one, as Track prints it
	Track     Track
}

// AlikeKind is one of the figures that are looked at.
type AlikeKind int

// The figures, s: the reaction after the perfect light, the 60 ft time, the ET in
// standard air at the usual finish.
const (
	AlikeReaction AlikeKind = iota
	Alike60
	AlikeET
	alikeKinds
)

// Alike is how alike a vehicle's runs are. Times are of the runs with the last run's
// setup.
type Alike struct {
	Vehicle     Vehicle
	Setup       string
	Mark        Mark
	Figures     [alikeKinds]AlikeFigure
	LeftOut     []LeftOut // of that setup's runs
	OtherSetups int       // runs whose times are left out for it
	Airless     int       // runs without known air
	Stops       Stops     // of the runs of that setup: what they cost is not taken out
	Launch      *LaunchMove
	NoLaunch    error // why there is no Launch
	RPM         RPMEffect
}

// AlikeFigure is one figure by its groups, all runs first, and the left lane's mean
// less the right one's.
type AlikeFigure struct {
	Groups        []AlikeGroup
	BothLanes     bool // both have runs
	LeftLessRight Figure
	Shown         bool // they do differ
}

// AlikeGroup is how alike the runs of a group are, "" being all; of its reactions how
// many are red too.
type AlikeGroup struct {
	Name string
	predict.Steady
	Reds     int
	RedShare Figure
}

// Alike tells how alike a vehicle's runs are, and how to move its launch.
func (s *Session) Alike(v Vehicle, ask AlikeAsk) (Alike, error) {
	runs, err := s.Runs(v.ID)
	if err != nil {
		return Alike{}, err
	}
	learned, err := learn(PassesOf(runs))
	if err != nil {
		return Alike{}, err
	}
	runs = RunFilter{Meet: ask.Meet, Driver: ask.Driver}.Of(runs)
	if len(runs) == 0 {
		return Alike{}, fmt.Errorf("no runs of %s to compare", v.ID)
	}
	k := Alike{Vehicle: v, Setup: runs[len(runs)-1].Setup.ID, Mark: predict.UsualFinish(PassesOf(runs))}
	k.Stops = StopsOf(RunFilter{Setup: k.Setup}.Of(runs), func(r Run) Slip { return r.Slip })
	g := k.gather(runs, learned, ask.By)
	for kind := range k.Figures {
		k.Figures[kind] = g.describe(AlikeKind(kind))
	}
	return k, k.move(g.groups[0].figures[AlikeReaction], runs, ask)
}

// sample is what the runs of a group made: of each run the figures that are known.
type sample struct {
	name    string
	figures [alikeKinds][]float64
}

func (s *sample) add(o sample) {
	for kind := range s.figures {
		s.figures[kind] = append(s.figures[kind], o.figures[kind]...)
	}
}

// samples are the groups in the order met, all runs first, and the lanes beside them.
type samples struct {
	groups      []sample
	left, right sample
}

func (g *samples) add(s Slip, by Grouping, one sample) {
	g.groups[0].add(one)
	switch s.Lane {
	case "left":
		g.left.add(one)
	case "right":
		g.right.add(one)
	}
	if name := by.of(s); name != "" {
		at := slices.IndexFunc(g.groups, func(s sample) bool { return s.name == name })
		if at < 0 {
			g.groups, at = append(g.groups, sample{name: name}), len(g.groups)
		}
		g.groups[at].add(one)
	}
}

// gather puts the runs into their groups: each with its reaction, those with the setup
// of the last run with the times that count.
func (k *Alike) gather(runs []Run, by learned, of Grouping) *samples {
	g, own := &samples{groups: make([]sample, 1)}, map[string]bool{}
	for _, r := range runs {
		one := sample{figures: [alikeKinds][]float64{AlikeReaction: list(LateBy(r.Slip, r.Track))}}
		if r.Setup.ID == k.Setup {
			own[r.Slip.ID] = true
			f := by.Figures(PassOf(r), k.Mark, by.Corrector)
			one.figures[Alike60], one.figures[AlikeET] = list(f.ET60), list(f.ETStandard)
			if f.AirNotKnown {
				k.Airless++
			}
		} else {
			k.OtherSetups++
		}
		g.add(r.Slip, of, one)
	}
	k.LeftOut = slices.DeleteFunc(by.LeftOut(), func(l LeftOut) bool { return !own[l.ID] })
	return g
}

// describe sums a figure up.
func (g *samples) describe(kind AlikeKind) (f AlikeFigure) {
	for _, s := range g.groups {
		values := s.figures[kind]
		steady, err := predict.NewSteady(values)
		if err != nil {
			continue // none
		}
		one := AlikeGroup{Name: s.name, Steady: steady}
		if kind == AlikeReaction {
			one.Reds = predict.Reds(values)
			one.RedShare = predict.Share(one.Reds, len(values))
		}
		f.Groups = append(f.Groups, one)
	}
	left, right := g.left.figures[kind], g.right.figures[kind]
	f.BothLanes = len(left) > 0 && len(right) > 0
	f.LeftLessRight, f.Shown = predict.Differ(left, right)
	return f
}

// list is a figure as a sample of at most one.
func list(n units.Number) []float64 {
	if !n.Known() {
		return nil
	}
	return []float64{n.Value()}
}
