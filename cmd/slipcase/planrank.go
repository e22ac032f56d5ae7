package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/predict"
	"slipcase/weather/units"
)

func (a *app) planRankCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "rank", Short: "rank the plan by time, cost or hours, and find the best order within a budget",
		Long: `Tries every change of the plan alone on the vehicle as its runs show it, at the track and in
the air chosen, and ranks them; ~ marks one whose 8-in-10 interval overlaps that of the one
above it: a tie. With --budget, which to buy, in which order, and what they do together.
Changes that the setup in force has built in are left out.`,
		Example: `  slipcase plan rank --vehicle heron --track saltgrass --temp 84F --rh 50 --station 28.90inHg
  slipcase plan rank --vehicle heron --track saltgrass --by cost --budget 1500`,
		Args: cobra.NoArgs, RunE: a.reads(a.rankPlan),
	}
	registerSubject(c)
	c.Flags().String("by", "et", "et, cost or hours")
	c.Flags().String("budget", "", "what may be spent, as 1500")
	c.Flags().String("tyre-rating", "", "the speed that the tyres are rated for, as 149mph")
	return c
}

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

type rankJSON struct {
	Vehicle  string      `json:"vehicle"`
	Ft       float64     `json:"distance_ft"`
	Today    float64     `json:"today_s"`
	By       string      `json:"by"`
	Ranked   []worthJSON `json:"ranked"`
	Order    []stepJSON  `json:"order"`
	Warnings []string    `json:"warnings"`
}

func (a *app) rankPlan(c *cobra.Command, _ []string, lb *crew.Session) error {
	by, err := oneOf(c, "by", "et", "cost", "hours")
	if err != nil {
		return err
	}
	budget, err := numberFlag(c, "budget", units.Money)
	if err != nil {
		return err
	}
	if budget.Known() && !(budget.Value() > 0) {
		return usagef("--budget %s: want more than 0", budget)
	}
	s, err := a.subject(c, lb)
	if err != nil {
		return err
	}
	candidates, notes, err := s.candidates(lb)
	if err != nil {
		return err
	}
	ranked, err := s.prospect.Rank(candidates, predict.RankBy(by))
	if err != nil {
		return usage(err)
	}
	order, err := s.prospect.Together(ranked, budget.Or(math.Inf(1)))
	if err != nil {
		notes = append(notes, err.Error())
	}
	notes = append(notes, budgetNotes(budget, ranked, order)...)
	cautions, err := a.planCautions(c, s, ranked, order, budget.Or(math.Inf(1)))
	if err != nil {
		return err
	}
	out := rankJSON{s.next.Vehicle.ID, s.prospect.Finish.Ft(), round4(s.prospect.Before.ETs[s.prospect.Finish].Centre), by, []worthJSON{}, []stepJSON{}, append(append([]string{}, notes...), cautions...)}
	for _, w := range ranked {
		out.Ranked = append(out.Ranked, newWorthJSON(w))
	}
	for _, o := range order {
		out.Order = append(out.Order, stepJSON{o.Name, o.Cost, o.Spent, o.Most, round4(o.ETGain.Likely), round4(o.ETGain.Low), round4(o.ETGain.High)})
	}
	t := a.rankTable(out)
	a.aside(out.Warnings)
	return a.answer(out, t, func(w io.Writer) {
		a.wrapped(w, rankHead(budget, ranked, out.Order))
		a.wrapped(w, fmt.Sprintf("%s runs %.2f to %g ft now; each alone:", a.place(s), out.Today, out.Ft))
		fmt.Fprintln(w)
		t.Render(w, table.Text, a.width())
		if len(order) > 0 {
			a.orderText(w, out.Order)
		}
		fmt.Fprintln(w)
		for _, n := range notes {
			a.say(w, "note", n)
		}
		for _, n := range cautions {
			a.say(w, "caution", n)
		}
	})
}

// candidates are the changes of the plan that are not built in yet.
func (s *subject) candidates(lb *crew.Session) (all []predict.Candidate, notes []string, err error) {
	parts, err := lb.Parts(s.next.Vehicle.ID)
	if err != nil {
		return nil, nil, err
	}
	built, err := builtIn(lb, s.next.Vehicle.ID, s.next.Slip.Time.Time)
	if err != nil {
		return nil, nil, err
	}
	today, note := s.stated()
	told := map[string]bool{"": true}
	tell := func(n string) {
		if !told[n] {
			told[n] = true
			notes = append(notes, n)
		}
	}
	tell(note)
	var boosted []string
	for _, p := range parts {
		if built[p.Name] {
			tell(p.Name + " is in already: slipcase plan show " + p.Name)
			continue
		}
		candidate, note, err := candidateOf(p, today)
		if err != nil {
			tell(err.Error() + ", left out: slipcase plan amend " + p.Name)
			continue
		}
		tell(note)
		if p.Boost != "" {
			boosted = append(boosted, p.Name)
		}
		all = append(all, candidate)
	}
	if names := strings.Join(boosted, ", "); names != "" {
		for _, caution := range page.BoostCautions {
			tell(names + ": " + caution)
		}
		tell(names + ": the gain is that of the air given with plan add, of standard air without; a turbo gains more where the air is thin")
	}
	if len(boosted) > 1 {
		tell("boost is worked out from what there is today, so at most one goes into the order of " + strings.Join(boosted, ", "))
	}
	if len(all) == 0 && len(parts) > 0 {
		return nil, nil, fmt.Errorf("no change of the plan of %s can be ranked: %s", s.next.Vehicle.ID, strings.Join(notes, "; "))
	}
	if len(all) == 0 {
		return nil, nil, fmt.Errorf("nothing on the plan of %s: slipcase plan add NAME --vehicle %s --gain 12hp --cost 450", s.next.Vehicle.ID, s.next.Vehicle.ID)
	}
	return all, notes, nil
}

// builtIn names the changes that the setups up to the one in force have.
func builtIn(lb *crew.Session, vehicle string, at time.Time) (map[string]bool, error) {
	setups, err := lb.Setups(vehicle)
	built := map[string]bool{}
	for _, u := range setups {
		if !u.From.After(at) {
			for _, name := range u.BuiltIn() {
				built[name] = true
			}
		}
	}
	return built, err
}

// planCautions are those of the quickest that the ranking comes to: the order as a
// whole, or one change within the budget that alone does more.
func (a *app) planCautions(c *cobra.Command, s *subject, ranked []predict.Worth, order []predict.Step, budget float64) ([]string, error) {
	var quickest predict.Change
	gain, alone := 0., ""
	for _, w := range ranked {
		for _, o := range order {
			if o.Name == w.Name {
				quickest = quickest.With(w.Change)
				gain = order[len(order)-1].ETGain.Likely
			}
		}
	}
	for _, w := range ranked {
		if w.ETGain.Likely < gain && w.Cost.Likely <= budget {
			quickest, gain, alone = w.Change, w.ETGain.Likely, w.Name+": "
		}
	}
	u, err := s.prospect.Try(quickest)
	if err != nil {
		return nil, usage(err)
	}
	cautions, err := a.changeCautions(c, s, quickest, u.Quick())
	for i := range cautions {
		cautions[i] = alone + cautions[i]
	}
	return cautions, err
}

// rankHead is the answer in a line: what to buy for a budget, what is best without.
func rankHead(budget units.Number, ranked []predict.Worth, order []stepJSON) string {
	if budget.Known() && len(order) > 0 {
		last := order[len(order)-1]
		names := make([]string, len(order))
		for i, o := range order {
			names[i] = o.Name
		}
		return fmt.Sprintf("within %s: %s for %s: %s", dollars(budget.Value()),
			quicker(predict.Range{Low: last.Low, Likely: last.ET, High: last.High}), dollars(last.Spent), strings.Join(names, ", "))
	}
	if budget.Known() {
		return fmt.Sprintf("within %s: nothing that is quicker", dollars(budget.Value()))
	}
	head := fmt.Sprintf("first %s: %s", ranked[0].Name, quicker(ranked[0].ETGain))
	if len(ranked) > 1 && ranked[1].Tie {
		head += fmt.Sprintf("; ~ a tie with %s", ranked[1].Name)
	}
	return head
}

// budgetNotes say what is over the budget alone, and what could come to be.
func budgetNotes(budget units.Number, ranked []predict.Worth, order []predict.Step) (notes []string) {
	if !budget.Known() {
		return nil
	}
	var over []string
	for _, w := range ranked {
		if w.Cost.Likely > budget.Value() {
			over = append(over, w.Name)
		}
	}
	if len(over) > 0 {
		notes = append(notes, "over the budget alone: "+strings.Join(over, ", "))
	}
	if n := len(order); n > 0 && order[n-1].Most > budget.Value() {
		notes = append(notes, "at their dearest these cost "+dollars(order[n-1].Most))
	}
	return notes
}

func newWorthJSON(w predict.Worth) worthJSON {
	out := worthJSON{
		Name: w.Name, ET: round4(w.ETGain.Likely), Low: round4(w.ETGain.Low), High: round4(w.ETGain.High),
		MPH: round4(w.MPHGain.Likely), Cost: w.Cost.Likely, Tie: w.Tie,
	}
	if !math.IsInf(w.CostPerTenth.Likely, 0) {
		out.PerTenth = newNeed(w.CostPerTenth)
	}
	if w.Hours != (predict.Range{}) {
		out.Hours = units.Some(w.Hours.Likely)
		if !math.IsInf(w.HoursPerTenth.Likely, 0) {
			out.HoursPer = newNeed(w.HoursPerTenth)
		}
	}
	return out
}

func (a *app) rankTable(out rankJSON) table.Table {
	spent := table.Column{Head: "a tenth costs", Key: "cost_per_tenth", Right: true, Drop: 2}
	if out.By == string(predict.ByHours) {
		spent.Head, spent.Key = "a tenth takes", "hours_per_tenth"
	}
	t := table.Table{Columns: []table.Column{
		{Head: "", Key: "tie"},
		{Head: "change", Key: "name"},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "8 in 10 from", Key: "et_low80_s", Right: true, Drop: 1},
		{Head: "to", Key: "et_high80_s", Right: true, Drop: 1},
		{Head: units.Speed.Symbol(a.units), Key: "speed_" + a.suffix(units.Speed), Right: true, Drop: 4},
		{Head: "cost", Key: "cost", Right: true},
		spent,
		{Head: "from", Key: spent.Key + "_low80", Right: true, Drop: 5},
		{Head: "to", Key: spent.Key + "_high80", Right: true, Drop: 5},
		{Head: "hours", Key: "hours", Right: true, Drop: 3},
	}}
	for _, w := range out.Ranked {
		tie, per, show := "", w.PerTenth, a.money
		if w.Tie {
			tie = "~"
		}
		if out.By == string(predict.ByHours) {
			per, show = w.HoursPer, func(h float64) string { return fmt.Sprintf("%.1f", h) }
		}
		likely, low, high := "-", "", ""
		if per != nil {
			likely, low = show(per.Likely), show(per.Low)
			if per.High.Known() {
				high = show(per.High.Value())
			}
		}
		t.Add(tie, w.Name, fmt.Sprintf("%+.2f", w.ET), fmt.Sprintf("%+.2f", w.Low), fmt.Sprintf("%+.2f", w.High),
			fmt.Sprintf("%+.1f", units.Speed.In(a.units, w.MPH)), a.money(w.Cost), likely, low, high, w.Hours.String())
	}
	return t
}

// money is bare in CSV, as all figures are.
func (a *app) money(v float64) string {
	if a.format == table.CSV {
		return fmt.Sprintf("%.0f", v)
	}
	return dollars(v)
}

// orderText says what to buy first, and what all of it does together.
func (a *app) orderText(w io.Writer, order []stepJSON) {
	last := order[len(order)-1]
	fmt.Fprintln(w)
	a.wrapped(w, fmt.Sprintf("in this order: %s for %s", quicker(predict.Range{Low: last.Low, Likely: last.ET, High: last.High}), dollars(last.Spent)))
	fmt.Fprintln(w)
	t := table.Table{Columns: []table.Column{
		{Head: "", Right: true},
		{Head: "change"},
		{Head: "cost", Right: true},
		{Head: "spent", Right: true},
		{Head: "together", Right: true},
		{Head: "8 in 10 from", Right: true, Drop: 1},
		{Head: "to", Right: true, Drop: 1},
	}}
	for i, o := range order {
		t.Add(fmt.Sprint(i+1), o.Name, dollars(o.Cost), dollars(o.Spent),
			fmt.Sprintf("%+.2f", o.ET), fmt.Sprintf("%+.2f", o.Low), fmt.Sprintf("%+.2f", o.High))
	}
	t.Render(w, table.Text, a.width())
}
