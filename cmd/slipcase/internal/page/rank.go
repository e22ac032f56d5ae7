package page

import (
	"fmt"
	"io"
	"math"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

type worthJSON struct {
	Name     string       `json:"name"`
	ET       float64      `json:"et_s"`
	Low      float64      `json:"et_low80_s"`
	High     float64      `json:"et_high80_s"`
	MPH      float64      `json:"mph"`
	Cost     float64      `json:"cost"`
	PerTenth *needJSON    `json:"cost_per_tenth"` // null: not quicker
	Hours    units.Number `json:"hours,omitzero"`
	HoursPer *needJSON    `json:"hours_per_tenth,omitempty"`
	Tie      bool         `json:"tie_with_the_one_above"`
}

type stepJSON struct {
	Name  string  `json:"name"`
	Cost  float64 `json:"cost"`
	Spent float64 `json:"spent"`
	Most  float64 `json:"spent_at_most"`
	ET    float64 `json:"et_s"` // all up to here together
	Low   float64 `json:"et_low80_s"`
	High  float64 `json:"et_high80_s"`
}

// cheapestJSON is the cheapest set for a time; no names where none makes it.
type cheapestJSON struct {
	Target float64  `json:"target_s"`
	Names  []string `json:"changes"`
	Cost   float64  `json:"cost"`
	Chance float64  `json:"chance"` // that the next run after them is at the time or under
}

type rankJSON struct {
	Vehicle  string        `json:"vehicle"`
	Ft       float64       `json:"distance_ft"`
	Today    float64       `json:"today_s"`
	By       string        `json:"by"`
	Ranked   []worthJSON   `json:"ranked"`
	Order    []stepJSON    `json:"order"`
	Cheapest *cheapestJSON `json:"cheapest_for_target,omitempty"`
	Warnings []string      `json:"warnings"`
}

func newWorthJSON(w crew.Worth) worthJSON {
	out := worthJSON{
		Name: w.Name, ET: round4(w.ETGain.Likely), Low: round4(w.ETGain.Low), High: round4(w.ETGain.High),
		MPH: round4(w.MPHGain.Likely), Cost: w.Cost.Likely, Tie: w.Tie,
	}
	if !math.IsInf(w.CostPerTenth.Likely, 0) {
		out.PerTenth = newNeed(w.CostPerTenth)
	}
	if w.Hours != (crew.Range{}) {
		out.Hours = units.Some(w.Hours.Likely)
		if !math.IsInf(w.HoursPerTenth.Likely, 0) {
			out.HoursPer = newNeed(w.HoursPerTenth)
		}
	}
	return out
}

// Rank tells what each change of the plan is worth, and the best order.
func (p *Page) Rank(r crew.Ranked) error {
	notes, cautions := p.ChangeNotes(r.Notes), p.changeCautions(r.Cautions)
	for _, w := range r.Worth {
		for _, n := range w.Notes {
			notes = append(notes, w.Name+": "+Note(n, p.Units))
		}
	}
	out := rankJSON{
		r.Run.Vehicle.ID, r.Finish.Ft(), round4(r.Before.ETs[r.Finish].Centre), r.Ask.By,
		[]worthJSON{},
		[]stepJSON{},
		newCheapestJSON(r),
		list(notes, cautions),
	}
	for _, w := range r.Worth {
		out.Ranked = append(out.Ranked, newWorthJSON(w))
	}
	for _, o := range r.Order {
		g := o.ETGain
		out.Order = append(out.Order, stepJSON{
			o.Name, o.Cost, o.Spent, o.Most, round4(g.Likely), round4(g.Low), round4(g.High),
		})
	}
	t := p.rankTable(out)
	p.Aside(out.Warnings)
	return p.Answer(out, t, func(w io.Writer) {
		p.Wrap(w, p.rankHead(r))
		if c := out.Cheapest; c != nil {
			p.Wrap(w, p.cheapestText(*c))
		}
		p.Wrap(w, fmt.Sprintf("%s runs %.2f to %g ft now; each alone:", p.place(r.Prospect), out.Today, out.Ft))
		fmt.Fprintln(w)
		t.Render(w, table.Text, p.Width())
		if len(r.Order) > 0 {
			p.orderText(w, r.Order)
		}
		fmt.Fprintln(w)
		p.sayAll(w, "note", notes)
		p.sayAll(w, "caution", cautions)
	})
}

func newCheapestJSON(r crew.Ranked) *cheapestJSON {
	if !r.Ask.Target.Known() {
		return nil
	}
	out := &cheapestJSON{Target: r.Ask.Target.Value(), Names: []string{}}
	for _, s := range r.Cheapest.Steps {
		out.Names, out.Cost = append(out.Names, s.Name), s.Spent
	}
	out.Chance = round4(r.Cheapest.Chance)
	return out
}

// cheapestText says what makes a time for the least money.
func (p *Page) cheapestText(c cheapestJSON) string {
	if len(c.Names) == 0 {
		return fmt.Sprintf("%.3f: nothing on the plan makes it", c.Target)
	}
	return fmt.Sprintf("%.3f takes %s: %s; %.0f %% that the next run then makes it", c.Target, p.dollars(c.Cost),
		strings.Join(c.Names, ", "), 100*c.Chance)
}

// rankHead is the answer in a line: what to buy for a budget, what is best without.
func (p *Page) rankHead(r crew.Ranked) string {
	switch budget := r.Ask.Budget; {
	case budget.Known() && len(r.Order) > 0:
		last := r.Order[len(r.Order)-1]
		names := make([]string, len(r.Order))
		for i, o := range r.Order {
			names[i] = o.Name
		}
		return fmt.Sprintf("within %s: %s for %s: %s", p.dollars(budget.Value()), quicker(last.ETGain), p.dollars(last.Spent),
			strings.Join(names, ", "))
	case budget.Known():
		return fmt.Sprintf("within %s: nothing that is quicker", p.dollars(budget.Value()))
	}
	head := fmt.Sprintf("first %s: %s", r.Worth[0].Name, quicker(r.Worth[0].ETGain))
	if len(r.Worth) > 1 && r.Worth[1].Tie {
		head += fmt.Sprintf("; ~ a tie with %s", r.Worth[1].Name)
	}
	return head
}

func (p *Page) rankTable(out rankJSON) table.Table {
	per := table.Column{Head: "a tenth costs", Key: "cost_per_tenth", Right: true, Drop: 2}
	show := p.money
	if out.By == "hours" {
		per.Head, per.Key = "a tenth takes", "hours_per_tenth"
		show = func(h float64) string { return fmt.Sprintf("%.1f", h) }
	}
	speed := "speed_" + p.Suffix(units.Speed)
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "tie"},
		{Head: "change", Key: "name"},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "8 of 10 from", Key: "et_low80_s", Right: true, Drop: 1},
		{Head: "to", Key: "et_high80_s", Right: true, Drop: 1},
		{Head: units.Speed.Symbol(p.Units), Key: speed, Right: true, Drop: 4},
		{Head: "cost", Key: "cost", Right: true},
		per,
		{Head: "from", Key: per.Key + "_low80", Right: true, Drop: 5},
		{Head: "to", Key: per.Key + "_high80", Right: true, Drop: 5},
		{Head: "hours", Key: "hours", Right: true, Drop: 3},
	}}
	for _, w := range out.Ranked {
		row := table.Cells{
			"name": w.Name, "et_s": hundredth(w.ET), "et_low80_s": hundredth(w.Low), "et_high80_s": hundredth(w.High),
			speed: fmt.Sprintf("%+.1f", units.Speed.In(p.Units, w.MPH)), "cost": p.money(w.Cost), per.Key: "-",
			"hours": w.Hours.String(),
		}
		if w.Tie {
			row["tie"] = "~"
		}
		need := w.PerTenth
		if out.By == "hours" {
			need = w.HoursPer
		}
		if need != nil {
			row[per.Key], row[per.Key+"_low80"] = show(need.Likely), show(need.Low)
			if need.High.Known() {
				row[per.Key+"_high80"] = show(need.High.Value())
			}
		}
		t.AddCells(row)
	}
	return t
}

// hundredth is a difference in time with the digits that a change's worth deserves.
func hundredth(s float64) string { return fmt.Sprintf("%+.2f", s) }

// money is bare in CSV, as all figures are.
func (p *Page) money(v float64) string {
	if p.Format == table.CSV {
		return fmt.Sprintf("%.0f", v)
	}
	return p.dollars(v)
}

// orderText says what to buy first, and what all of it does together.
func (p *Page) orderText(w io.Writer, order []crew.Step) {
	last := order[len(order)-1]
	fmt.Fprintln(w)
	p.Wrap(w, fmt.Sprintf("in this order: %s for %s", quicker(last.ETGain), p.dollars(last.Spent)))
	fmt.Fprintln(w)
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "place", Right: true},
		{Head: "change", Key: "name"},
		{Head: "cost", Key: "cost", Right: true},
		{Head: "spent", Key: "spent", Right: true},
		{Head: "together", Key: "et_s", Right: true},
		{Head: "8 of 10 from", Key: "et_low80_s", Right: true, Drop: 1},
		{Head: "to", Key: "et_high80_s", Right: true, Drop: 1},
	}}
	for i, o := range order {
		t.AddCells(table.Cells{
			"place": fmt.Sprint(i + 1), "name": o.Name, "cost": p.dollars(o.Cost), "spent": p.dollars(o.Spent),
			"et_s": hundredth(o.ETGain.Likely), "et_low80_s": hundredth(o.ETGain.Low), "et_high80_s": hundredth(o.ETGain.High),
		})
	}
	t.Render(w, table.Text, p.Width())
}
