package picture

import (
	"context"
	"errors"
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/weather/units"
)

// nextRounds are as many as a day's picture looks ahead.
const nextRounds = 3

func dayChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	if err != nil || len(g.Runs) == 0 {
		return s.Page.DayChart(g, crew.DaySeen{}), err
	}
	day := g.LastDay()
	if len(s.Of) > 0 {
		day = s.Of[0]
	}
	if g = g.On(day); len(g.Runs) == 0 {
		return s.Page.Nothing("day", fmt.Sprintf("no run of %s on %s", s.Vehicle.Name(), day)), nil
	}
	d, err := s.Log.SeeDay(g, nextRounds)
	return s.Page.DayChart(g, d), err
}

func reactionChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	return s.Page.ReactionChart(g), err
}

func roundsChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	return s.Page.RoundsChart(g), err
}

func lanesChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	if err != nil {
		return page.Chart{}, err
	}
	alike, none := s.Log.Alike(s.Vehicle, crew.AlikeAsk{By: crew.ByLane, RedPct: 5})
	return s.Page.LanesChart(g, alike, none), nil
}

func twoChart(ctx context.Context, s *Source) (page.Chart, error) {
	var both [2]crew.Run
	for i, ref := range s.Of {
		slip, err := s.Log.Slip(ref)
		if err != nil {
			return page.Chart{}, err
		}
		join, err := s.Log.Joiner(slip.Vehicle)
		if err != nil {
			return page.Chart{}, err
		}
		both[i] = join.Run(slip)
	}
	if both[0].Vehicle.ID != both[1].Vehicle.ID {
		return s.Page.TwoChart(both[0], both[1], nil), nil
	}
	g, err := s.Log.Gather(ctx, both[0].Vehicle, func(*crew.Run) bool { return true })
	return s.Page.TwoChart(both[0], both[1], g.Runs), err
}

func againstChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	if err != nil {
		return page.Chart{}, err
	}
	figure := ""
	if len(s.Of) > 1 {
		if figure = s.Of[1]; figure != "60" {
			return page.Chart{}, fmt.Errorf("%q: want 60, for the 60 ft time, or nothing", figure)
		}
	}
	column, err := s.Log.SlipColumn(s.Of[0])
	if err != nil {
		return page.Chart{}, err
	}
	return s.Page.AgainstChart(g, column, figure), nil
}

func dynoChart(_ context.Context, s *Source) (page.Chart, error) {
	sheets, err := s.Log.CompareSheets(s.Of, "", crew.Shift{})
	if err != nil {
		return page.Chart{}, err
	}
	return s.Page.DynoChart(sheets), nil
}

func planChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	if err != nil {
		return page.Chart{}, err
	}
	ask := crew.NextAsk{Vehicle: s.Vehicle.ID, At: s.Log.Now()}
	if n := len(g.Runs); n > 0 {
		ask.Track = g.Runs[n-1].Run.Slip.Track
	}
	next, err := s.Log.Next(ask)
	if err != nil {
		return page.Chart{}, err
	}
	prospect, err := next.Prospect()
	if err != nil {
		return page.Chart{}, err
	}
	ranked, err := s.Log.Rank(prospect, crew.RankAsk{By: "et"})
	var none *crew.NothingToRank
	switch {
	case errors.As(err, &none):
		return s.Page.Nothing("plan", none.Error()), nil
	case err != nil:
		return page.Chart{}, err
	}
	return s.Page.PlanChart(ranked), nil
}

func changeChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	if err != nil {
		return page.Chart{}, err
	}
	setups, some, err := s.bothSetups(g)
	if err != nil || !some {
		return s.Page.Nothing("change", s.Vehicle.Name()+" has no runs with two setups: nothing to draw"), err
	}
	told, err := s.Log.Compare(setups, units.Number{})
	if err != nil {
		return s.Page.Nothing("change", err.Error()), nil
	}
	return s.Page.ChangeChart(g, setups, told), nil
}

// bothSetups are the two named, or the last two that have runs.
func (s *Source) bothSetups(g crew.Gathered) (setups [2]crew.Setup, some bool, err error) {
	if len(s.Of) == 2 {
		for i, name := range s.Of {
			if setups[i], err = s.Log.Setup(s.Vehicle.ID, name); err != nil {
				return setups, false, err
			}
		}
		return setups, setups[0].ID != setups[1].ID, nil
	}
	for i := len(g.Runs) - 1; i >= 0; i-- {
		setup := g.Runs[i].Run.Setup
		switch {
		case setup.ID == "" || setup.ID == setups[1].ID:
		case setups[1].ID == "":
			setups[1] = setup
		default:
			setups[0] = setup
			return setups, true, nil
		}
	}
	return setups, false, nil
}
