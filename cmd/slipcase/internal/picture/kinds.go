package picture

import (
	"context"
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
)

// Source is what pictures are of: what they need of the log is looked up once.
type Source struct {
	Log     *crew.Session
	Page    *page.Page
	Vehicle crew.Vehicle
	Keep    func(*crew.Run) bool // which of its runs are meant
	Of      []string             // what else the kind is of, as it was typed

	gathered *crew.Gathered
	line     *crew.AirLine
	judged   []crew.Judged
	newest   int // so many are judged,
	meant    int // of so many
}

// Kind is a kind of picture.
type Kind struct {
	Name  string
	Words string // what it shows
	chart func(context.Context, *Source) (page.Chart, error)
	of    []string // what may be named beside

	least       int  // so many of them at least
	allOrNone   bool // or none of them
	ofNoVehicle bool // what is named says it all
}

// Kinds are those that there are.
var Kinds = []Kind{
	{Name: "air", Words: "ET over density altitude: the car's own line beside the formula's", chart: airChart},
	{Name: "forecasts", Words: "each run against the range of its forecast", chart: forecastChart},
	{Name: "splits", Words: "where each run picked up or gave up", chart: splitsChart},
	{Name: "trend", Words: "speed and ET in standard air over the season: is it getting tired", chart: trendChart},
	{
		Name: "day", Words: "a day's air and runs, and the next rounds; the last day, or DAY as 2026-05-02",
		chart: dayChart, of: []string{"DAY"},
	},
	{Name: "reaction", Words: "lights after the perfect one, by lane, reds", chart: reactionChart},
	{Name: "rounds", Words: "over and under the dial, packages, why rounds were lost", chart: roundsChart},
	{Name: "lanes", Words: "ET in standard air by lane", chart: lanesChart},
	{
		Name: "two", Words: "run B less run A, by distance",
		chart: twoChart, of: []string{"A", "B"}, least: 2, ofNoVehicle: true,
	},
	{
		Name: "against", Words: "ET in standard air, or the 60 ft time with 60, against a COLUMN of the slips",
		chart: againstChart, of: []string{"COLUMN", "60"}, least: 1,
	},
	{
		Name: "dyno", Words: "a dyno SHEET, or two over each other",
		chart: dynoChart, of: []string{"SHEET", "AFTER"}, least: 1, ofNoVehicle: true,
	},
	{Name: "plan", Words: "what each change of the plan should bring", chart: planChart},
	{
		Name: "change", Words: "before and after a change of setup: the last one, or setups A and B",
		chart: changeChart, of: []string{"A", "B"}, allOrNone: true,
	},
}

// Chart is the chart of a kind.
func (k *Kind) Chart(ctx context.Context, s *Source) (page.Chart, error) { return k.chart(ctx, s) }

// CheckOf refuses names that the kind has no use for, or too few of them.
func (k *Kind) CheckOf(names []string) error {
	switch {
	case len(names) > len(k.of):
		return fmt.Errorf("%q: picture %s", names[len(k.of)], strings.Join(append([]string{k.Name}, k.of...), " "))
	case len(names) < k.least || k.allOrNone && len(names) > 0 && len(names) < len(k.of):
		return fmt.Errorf("picture %s: want %s named", k.Name, strings.Join(k.of, " and "))
	}
	return nil
}

// OfVehicle reports a kind that is of a vehicle.
func (k *Kind) OfVehicle() bool { return !k.ofNoVehicle }

// Gather tells the runs that are meant.
func (s *Source) Gather(ctx context.Context) (crew.Gathered, error) {
	if s.gathered == nil {
		g, err := s.Log.Gather(ctx, s.Vehicle, s.Keep)
		if err != nil {
			return g, err
		}
		s.gathered = &g
	}
	return *s.gathered, nil
}

// Judge judges the newest n of the runs that are meant; all is how many are meant.
func (s *Source) Judge(ctx context.Context, n int) (js []crew.Judged, all int, err error) {
	if s.newest < n {
		if s.judged, s.meant, err = s.Log.JudgeNewest(ctx, s.Vehicle.ID, s.Keep, n); err != nil {
			return nil, 0, err
		}
		s.newest = n
	}
	return s.judged, s.meant, nil
}

// AirLine is that of the runs that are meant.
func (s *Source) AirLine(g crew.Gathered) (crew.AirLine, error) {
	if s.line == nil {
		line, err := s.Log.AirLine(g, page.LinePoints)
		if err != nil {
			return line, err
		}
		s.line = &line
	}
	return *s.line, nil
}

func airChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	if err != nil {
		return page.Chart{}, err
	}
	line, err := s.AirLine(g)
	if err != nil {
		return page.Chart{}, err
	}
	return s.Page.AirChart(g, line), nil
}

func forecastChart(ctx context.Context, s *Source) (page.Chart, error) {
	js, all, err := s.Judge(ctx, page.MostMarks/2)
	if err != nil {
		return page.Chart{}, err
	}
	return s.Page.ForecastChart(s.Vehicle, js, all), nil
}

func splitsChart(ctx context.Context, s *Source) (page.Chart, error) {
	js, all, err := s.Judge(ctx, page.MostMarks/3)
	if err != nil {
		return page.Chart{}, err
	}
	return s.Page.SplitsChart(s.Vehicle, js, all), nil
}

func trendChart(ctx context.Context, s *Source) (page.Chart, error) {
	g, err := s.Gather(ctx)
	if err != nil {
		return page.Chart{}, err
	}
	t, err := s.Log.Trend(s.Vehicle.ID)
	if err != nil {
		return page.Chart{}, err
	}
	return s.Page.TrendChart(g, t), nil
}
