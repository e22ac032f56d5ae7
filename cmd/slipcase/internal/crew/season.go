package crew

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"slipcase/predict"
)

// Season is what became of a year, or of as many runs as a filter keeps.
type Season struct {
	Year      int // 0 where another time was asked for
	All       Score
	Parts     []Score // by vehicle where there are several, track, class and month
	Opponents []Score // the one met most first
	Nameless  int     // rounds against who has no name
}

// Score counts the runs of a part of a season, and how their rounds ended. A round that
// was run twice, by a double entry, counts twice.
type Score struct {
	Of, Name  string // vehicle, track, class, month or opponent, and which; "" for all
	Month     time.Time
	Runs      int
	Won, Lost Ends
	Untold    int // rounds that do not tell how they ended
	Byes      int
	Buybacks  int
	Doubles   int // one car once more in a round, without a buyback
	Red       int // lights of the racer's own

	// Of an opponent: his reactions after the perfect light and how far he ran over his dial.
	Lights, Over predict.Steady
	Broke        int // times that he ran under his dial

	lights, over []float64
}

// Ends counts ends of rounds by what decided them.
type Ends map[End]int

// N is how many there are.
func (e Ends) N() (n int) {
	for _, k := range e {
		n += k
	}
	return n
}

// End is what decided a round: what the loser did, or that he had the slower package.
type End string

// The ends.
const (
	EndRed      End = "red"
	EndBreakout End = "breakout"
	EndPackage  End = "package" // behind at the finish
	EndBroke    End = "broke"
	EndLine     End = "crossed_line"
	EndDQ       End = "dq"
	EndBye      End = "bye"
	EndUntold   End = "untold" // the racer's word alone, or against the figures
)

// AllEnds lists them as they are told.
var AllEnds = []End{EndRed, EndBreakout, EndPackage, EndBroke, EndLine, EndDQ, EndBye, EndUntold}

// endBy is what a decision says of the end of a round.
func endBy(why Decision) End {
	switch why.Kind {
	case predict.RedLight, predict.WorseRed, predict.FirstRed, predict.FirstRedUntold:
		return EndRed
	case predict.BrokeOut:
		return EndBreakout
	case predict.AtFinish:
		return EndPackage
	case predict.NoFinish, predict.NeverStaged, predict.NeverLeft:
		return EndBroke
	case predict.CrossedLine:
		return EndLine
	case predict.ByBye:
		return EndBye
	}
	return EndUntold
}

// EndOf is how the round of a slip ended, won, lost or "", and what decided it. Where the
// racer says who won and the other lane does not tell why, his own lane may.
func EndOf(s Slip, t Track) (result string, why End) {
	result, _ = TellResult(s, t)
	if result == "dq" {
		return "lost", EndDQ
	}
	if result == "" {
		return "", ""
	}
	r := RoundOf(s, t, RulesOf(s, t))
	r.Judge()
	switch end := endBy(r.Why); {
	case s.Bye != "":
		return result, EndBye
	case ResultOf(r.Winner) == result && end != EndUntold:
		return result, end
	case result == "lost" && Red(s, t):
		return result, EndRed
	case result == "lost" && s.FullPower == string(predict.Broke):
		return result, EndBroke
	case result == "lost" && Over(Run{Slip: s, Track: t}).Or(0) < -0.0005:
		return result, EndBreakout
	case result == "won" && s.OpponentBroke != "":
		return result, EndBroke
	}
	return result, EndUntold
}

// Season tells a year of a vehicle, of all when it is "", or what a filter keeps.
func (s *Session) Season(vehicle string, year int, f RunFilter) (Season, error) {
	runs, err := s.Runs(vehicle)
	if err != nil {
		return Season{}, err
	}
	out := Season{Year: year}
	parts, opponents := newScores(), newScores()
	vehicles := map[string]bool{}
	entries := map[string]int{}
	runs = slices.DeleteFunc(f.Of(runs), func(r Run) bool { return year != 0 && r.Slip.Time.Year() != year })
	for _, r := range runs {
		vehicles[r.Slip.Vehicle] = true
	}
	for _, r := range runs {
		double := isDouble(entries, r.Slip)
		out.All.add(r, double)
		if len(vehicles) > 1 {
			parts.of("vehicle", r.Slip.Vehicle).add(r, double)
		}
		parts.of("track", r.Slip.Track).add(r, double)
		parts.of("class", ClassOf(r.Slip)).add(r, double)
		month := parts.of("month", r.Slip.Time.Format("2006-01"))
		month.Month = r.Slip.Time.Time
		month.add(r, double)
		switch name := strings.TrimSpace(r.Slip.Opponent); {
		case name != "":
			one := opponents.of("opponent", name)
			one.add(r, double)
			one.meet(r)
		case HasOther(r.Slip):
			out.Nameless++
		}
	}
	out.Parts, out.Opponents = parts.sorted(), opponents.sorted()
	slices.SortStableFunc(out.Opponents, func(a, b Score) int { return cmp.Compare(b.Runs, a.Runs) })
	for i := range out.Opponents {
		o := &out.Opponents[i]
		o.Lights, _ = predict.NewSteady(o.lights)
		o.Over, _ = predict.NewSteady(o.over)
	}
	return out, nil
}

// isDouble reports that a car is once more in a round of a day and class, without a
// buyback.
func isDouble(entries map[string]int, s Slip) bool {
	if s.Buyback != "" || KindOf(s) != Elimination {
		return false
	}
	key := strings.Join([]string{
		s.Vehicle, s.Time.Format(time.DateOnly), s.Track, strings.ToUpper(s.Round), strings.ToLower(ClassOf(s)),
	}, "\x00")
	entries[key]++
	return entries[key] > 1
}

func (c *Score) add(r Run, double bool) {
	c.Runs++
	s := r.Slip
	if s.Buyback != "" {
		c.Buybacks++
	}
	if s.Bye != "" {
		c.Byes++
	}
	if double {
		c.Doubles++
	}
	if s.Bye == "" && Red(s, r.Track) {
		c.Red++
	}
	if c.Won == nil {
		c.Won, c.Lost = Ends{}, Ends{}
	}
	switch result, why := EndOf(s, r.Track); {
	case result == "won":
		c.Won[why]++
	case result == "lost":
		c.Lost[why]++
	case Raced(s):
		c.Untold++
	}
}

// meet takes in what the other lane ran.
func (c *Score) meet(r Run) {
	round := RoundOf(r.Slip, r.Track, RulesOf(r.Slip, r.Track))
	other := round.Lanes[1]
	if other.ReactionS.Known() {
		c.lights = append(c.lights, other.ReactionS.Value()-round.Rules.PerfectS)
	}
	if round.Rules.Format != HeadsUp && other.ETS.Known() && other.DialS.Known() {
		over := other.ETS.Value() - other.DialS.Value()
		c.over = append(c.over, over)
		if over < -0.0005 {
			c.Broke++
		}
	}
}

// scores are parts of a season by what they are of.
type scores struct {
	list []*Score
	at   map[[2]string]*Score
}

func newScores() *scores { return &scores{at: map[[2]string]*Score{}} }

func (c *scores) of(of, name string) *Score {
	key := [2]string{of, strings.ToLower(name)}
	if c.at[key] == nil {
		c.at[key] = &Score{Of: of, Name: name}
		c.list = append(c.list, c.at[key])
	}
	return c.at[key]
}

// sorted are the scores by what they are of, each by its name.
func (c *scores) sorted() (list []Score) {
	order := []string{"vehicle", "track", "class", "month", "opponent"}
	for _, s := range c.list {
		list = append(list, *s)
	}
	slices.SortStableFunc(list, func(a, b Score) int {
		return cmp.Or(
			cmp.Compare(slices.Index(order, a.Of), slices.Index(order, b.Of)),
			cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)),
		)
	})
	return list
}

// Meets are the latest slips of the meets, one of each, the last meet first.
func (s *Session) Meets() ([]Slip, error) {
	all, err := s.Slips("")
	seen := map[string]bool{"": true}
	slices.Reverse(all)
	return slices.DeleteFunc(all, func(slip Slip) bool {
		was := seen[slip.Meet]
		seen[slip.Meet] = true
		return was
	}), err
}
