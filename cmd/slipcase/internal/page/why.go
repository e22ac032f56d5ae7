package page

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
)

// whyJSON is what a forecast is made of; the pieces add up to the time and to half the
// range of 8 in 10, to the thousandth.
type whyJSON struct {
	CarS    float64        `json:"car_s"`
	Pieces  []whyPieceJSON `json:"pieces"`
	Runs    []runCountJSON `json:"runs"`
	OddDay  float64        `json:"chance_odd_day"`
	Changed float64        `json:"chance_changed"`
	NotCome float64        `json:"chance_gain_did_not_come"`
}

type whyPieceJSON struct {
	Kind   crew.WhyKind `json:"kind"`
	ETS    float64      `json:"et_s"`
	RangeS float64      `json:"range_s"`
}

type runCountJSON struct {
	ID      string  `json:"id"`
	Share   float64 `json:"share"`
	SoundFt float64 `json:"sound_ft"`
}

// whyRow is a piece in thousandths.
type whyRow struct {
	crew.WhyPiece
	et, reach int
}

// whyRows are the pieces in thousandths that add up, and those of the car alone.
func whyRows(x crew.Forecasted) (rows []whyRow, car int) {
	moves, reaches := []float64{x.Why.CarS}, []float64{}
	for _, k := range x.Why.Pieces {
		moves, reaches = append(moves, k.ETS), append(reaches, k.RangeS)
	}
	inET, inReach := thousandths(moves), thousandths(reaches)
	for i, k := range x.Why.Pieces {
		rows = append(rows, whyRow{k, inET[i+1], inReach[i]})
	}
	return rows, inET[0]
}

// thousandths rounds figures such that they add up to their rounded sum: those furthest
// from being round give way.
func thousandths(values []float64) []int {
	out, order := make([]int, len(values)), make([]int, len(values))
	sum, whole := 0., 0
	for i, v := range values {
		out[i], order[i] = int(math.Floor(1000*v)), i
		sum, whole = sum+1000*v, whole+out[i]
	}
	rest := func(i int) float64 { return 1000*values[i] - float64(out[i]) }
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case rest(a) > rest(b):
			return -1
		case rest(a) < rest(b):
			return 1
		}
		return 0
	})
	for _, i := range order[:min(max(int(math.Round(sum))-whole, 0), len(order))] {
		out[i]++
	}
	return out
}

func (p *Page) newWhyJSON(x crew.Forecasted) *whyJSON {
	if x.Why == nil {
		return nil
	}
	rows, car := whyRows(x)
	out := &whyJSON{
		CarS: rounded(float64(car)/1000, ToS), Pieces: []whyPieceJSON{}, Runs: []runCountJSON{},
		OddDay: rounded(
			x.Why.OddDay,
			ToShare,
		), Changed: rounded(x.Why.Changed, ToShare), NotCome: rounded(x.Why.NotCome, ToShare),
	}
	for _, r := range rows {
		out.Pieces = append(
			out.Pieces,
			whyPieceJSON{r.Kind, rounded(float64(r.et)/1000, ToS), rounded(float64(r.reach)/1000, ToS)},
		)
	}
	for _, r := range x.Why.Counts {
		out.Runs = append(out.Runs, runCountJSON{r.ID, rounded(r.Share, ToShare), r.SoundFt})
	}
	return out
}

var whyWords = map[crew.WhyKind]string{
	crew.WhyNoise: "the run's own luck",
	crew.WhyAir:   "the air: reading, effect",
	crew.WhyWind:  "wind",
	crew.WhyLane:  "lane",
	crew.WhyHeat:  "heat of earlier runs",
	crew.WhyTrack: "the track's own level",
	crew.WhyDrift: "wear, upkeep",
	crew.WhyCar:   "how well the car is known",
	crew.WhyDay:   "the day's luck",
	crew.WhyOdd:   "odd day, unnoted change",
}

// whyTable has a row for each piece that is worth a thousandth, and their sum.
func whyTable(x crew.Forecasted) table.Table {
	t := table.Table{Columns: []table.Column{
		{Head: fmt.Sprintf("why, at %g ft", x.Forecast.Finish.Ft()), Key: "piece"},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "range +/-", Key: "range_s", Right: true},
	}}
	s := func(n int) string { return fmt.Sprintf("%.3f", float64(n)/1000) }
	rows, car := whyRows(x)
	t.AddCells(table.Cells{"piece": "the car in this air", "et_s": s(car)})
	et, reach := car, 0
	for _, r := range rows {
		et, reach = et+r.et, reach+r.reach
		if r.et == 0 && r.reach == 0 {
			continue
		}
		cells := table.Cells{"piece": whyWords[r.Kind], "range_s": s(r.reach)}
		if r.et != 0 {
			cells["et_s"] = fmt.Sprintf("%+.3f", float64(r.et)/1000)
		}
		t.AddCells(cells)
	}
	t.AddCells(table.Cells{"piece": "together", "et_s": s(et), "range_s": s(reach)})
	return t
}

// why writes what the forecast is made of, where that was asked.
func (p *Page) why(w io.Writer, x crew.Forecasted) {
	if x.Why == nil {
		return
	}
	whyTable(x).Render(w, table.Text, p.Width())
	fmt.Fprintln(w)
	if says := runCounts(x.Why.Counts); says != "" {
		p.Say(w, "counts most", says)
	}
	for _, c := range []struct {
		chance float64
		of     string
	}{
		{x.Why.OddDay, "that this day is unlike the others"},
		{x.Why.Changed, "that a change is not in the log"},
		{x.Why.NotCome, "that the setup's gain did not come"},
	} {
		if c.chance >= 0.005 {
			p.Say(w, "chance", p.Share(c.chance)+" "+c.of)
		}
	}
}

// runCounts names the runs that count most.
func runCounts(list []crew.RunCount) string {
	const shown = 5
	var says []string
	for _, r := range list[:min(shown, len(list))] {
		if r.Share >= 0.005 {
			says = append(says, fmt.Sprintf("%s %.0f %%", r.ID, 100*r.Share))
		}
	}
	rest, others := 0., len(list)-len(says)
	for _, r := range list[len(says):] {
		rest += r.Share
	}
	if len(says) > 0 && others > 0 {
		says = append(says, fmt.Sprintf("the other %d together %.0f %%", others, 100*rest))
	}
	return strings.Join(says, ", ")
}
