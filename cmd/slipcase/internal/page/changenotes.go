package page

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// ChangeNotes say what there is to say beside what changes are worth.
func (p *Page) ChangeNotes(notes []crew.ChangeNote) (said []string) {
	for _, n := range notes {
		said = append(said, p.changeNote(n)...)
	}
	return said
}

func (p *Page) changeNote(n crew.ChangeNote) []string {
	names := strings.Join(n.Names, ", ")
	hp := p.Show(units.Power, units.Some(n.HP))
	say := func(format string, a ...any) []string { return []string{fmt.Sprintf(format, a...)} }
	switch n.Kind {
	case crew.PowerImplied:
		return say("power not entered: gains count from the %s at the wheels that its runs show", hp)
	case crew.PowerOrdinary:
		return say("power not entered and no run yet: gains count from %s at the wheels, "+
			"ordinary for its kind", hp)
	case crew.LossTaken:
		return say("%.0f %% driveline loss assumed between wheels and clutch", 100*n.Share)
	case crew.StripeTurns:
		return say("%.0f rpm at the finish then, %.0f now: the gear there taken for 1:1, 4 %% slip", n.RPM, n.WasRPM)
	case crew.GainDoubted:
		return say("range of the gain: two dyno sheets of ±2 %%; low/likely/high gives your own")
	case crew.SheetRead:
		return say("%s: %s", names, strings.Join(p.PulledNotes(*n.Pulled), "; "))
	case crew.SheetAirless:
		return say("%s as measured, in air that nobody noted: weather alone makes ±%.0f %%, counted; "+
			"slipcase power amend NAME --temp %s --station %s", strings.Join(n.Names, " and "), 100*n.Share,
			p.typed(units.Temperature, 70), p.typed(units.Pressure, 29.2))
	case crew.SheetUntold:
		return say("correction of %s not given: taken as the other's, else SAE", strings.Join(n.Names, " and "))
	case crew.SheetEndsEarly:
		return say("the power of %s still rises where the sheet ends: what it makes beyond is not counted",
			strings.Join(n.Names, " and "))
	case crew.PeakMoved:
		return say("%s peaks %+.0f rpm from %s: each is taken where it is shifted best", n.Names[0], n.RPM, n.Names[1])
	case crew.BuiltInNow:
		return say("%s is in already: slipcase plan show %[1]s", names)
	case crew.NotRanked:
		return say("%v, left out: slipcase plan amend %s", n.Err, names)
	case crew.MadeByBoost:
		return p.boostNotes(names)
	case crew.OneByBoost:
		return say("boost counts from what there is today: only one of these fits in the order: %s", names)
	case crew.NothingFits:
		return say("%v", n.Err)
	case crew.SafetyOwed:
		return say("today's times call for %s already: that comes before anything quicker", names)
	case crew.SafetyOverBudget:
		return say("today's times call for %s already, which is over the budget: that comes before anything quicker", names)
	case crew.PlanCutShort:
		return say("too many ways to put this plan together to try them all: there may be a better one")
	case crew.StopTakesBack:
		return say("at index %.2f the throttle stop takes a gain back: more stop, the same ET, more speed", n.IndexS)
	case crew.IndexTakesBack:
		return say("at index %.2f a gain is to be slowed down again", n.IndexS)
	case crew.OverBudget:
		return say("over the budget alone: %s", names)
	case crew.AtDearest:
		return say("at their highest these cost %s", p.dollars(n.Dollars))
	}
	return nil
}

func (p *Page) boostNotes(names string) (said []string) {
	for _, caution := range BoostCautions {
		said = append(said, names+": "+caution)
	}
	return append(said, names+": gain for the air given with plan add, else for standard air; "+
		"a turbo gains more where the air is thin")
}

// changeCautions say what a change calls for.
func (p *Page) changeCautions(c crew.ChangeCautions) (said []string) {
	said = Cautions(c.Cautions, p.Units)
	mph := func(n units.Number) string { return plain(units.Speed, p.Units, n.Value(), 0) }
	if c.TyresMPH.Known() {
		said = append(said, fmt.Sprintf("%s may be run, the tires are rated for %s: no run on them; "+
			"the tire's maker and the rulebook in force say which may be used", mph(c.FastestMPH), mph(c.TyresMPH)))
	}
	if c.Alone != "" {
		for i := range said {
			said[i] = c.Alone + ": " + said[i]
		}
	}
	return said
}

// list joins lists; one of nothing is no null in JSON.
func list(parts ...[]string) []string { return append([]string{}, slices.Concat(parts...)...) }

// place says where and in what air a vehicle is about to run, for a headline.
func (p *Page) place(s *crew.Prospect) string {
	text := s.Run.Vehicle.Name()
	if s.Run.Track.ID != "" {
		text += " at " + s.Run.Track.Name()
	}
	if s.Run.Air.Known {
		return text + ", density altitude " + p.Show(units.Length, units.Some(s.Run.Air.Air.DensityAltitudeFt()))
	}
	return text + ", no air"
}

// quicker says a difference in time in words, with the digits its doubt deserves.
func quicker(g crew.Range) string {
	word, likely, low, high := "quicker", -g.Likely, -g.High, -g.Low
	if g.Likely > 0 {
		word, likely, low, high = "slower", g.Likely, g.Low, g.High
	}
	if max(likely, -low, high) < 0.005 {
		return "no difference"
	}
	if low < 0 {
		return fmt.Sprintf("~ no sure difference: %.2f %s, 8 of 10 in %.2f to %.2f", likely, word, low, high)
	}
	return fmt.Sprintf("%.2f %s, 8 of 10 in %.2f-%.2f", likely, word, low, high)
}

// dollars are whole: the plan's figures deserve no cents.
func (p *Page) dollars(v float64) string {
	return units.Money.Symbol(p.Units) + units.Group(fmt.Sprintf("%.0f", v))
}
