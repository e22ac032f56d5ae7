package crew

import (
	"fmt"
	"math"
	"slices"

	"slipcase/predict"
	"slipcase/weather/units"
)

// RankAsk is how the plan is to be ranked.
type RankAsk struct {
	By       string       // et, cost or hours
	Budget   units.Number // dollars
	Target   units.Number // a time at the finish, s
	TyresMPH units.Number // what they are rated for
}

// Ranked is the plan of a vehicle, what each change is worth at its next run, and
// which of them are best bought in which order.
type Ranked struct {
	*Prospect
	Ask      RankAsk
	Worth    []Worth
	Order    []Step
	Cheapest predict.Cheapest // for the target
	Notes    []ChangeNote
	Cautions ChangeCautions
}

// Rank tries every change of the plan that is not built in yet.
func (s *Session) Rank(p *Prospect, ask RankAsk) (r Ranked, err error) {
	r = Ranked{Prospect: p, Ask: ask}
	if !(ask.Budget.Or(0) >= 0) {
		return r, outside("budget", "want 0 or more")
	}
	candidates, err := r.candidates(s)
	if err != nil {
		return r, err
	}
	if r.Worth, err = p.car.Rank(candidates, predict.RankBy(ask.By)); err != nil {
		return r, markImpossible("", err)
	}
	budget := ask.Budget.Or(math.Inf(1))
	bought, err := p.car.Together(r.Worth, budget)
	if r.Order = bought.Steps; err != nil {
		r.Notes = append(r.Notes, ChangeNote{Kind: NothingFits, Err: err})
	}
	if o := bought.Owed; o != nil {
		r.Notes = append(r.Notes, ChangeNote{Kind: SafetyOwed, Names: o.Names})
		if o.Cost > budget {
			r.Notes[len(r.Notes)-1].Kind = SafetyOverBudget
		}
	}
	if t := ask.Target; t.Known() && err == nil {
		if r.Cheapest, err = p.car.Reaching(r.Worth, t.Value(), budget); err != nil {
			return r, markImpossible("target", err)
		}
	}
	if bought.CutShort || r.Cheapest.CutShort {
		r.Notes = append(r.Notes, ChangeNote{Kind: PlanCutShort})
	}
	r.noteBudget()
	r.Notes = append(r.Notes, p.takenBack()...)
	return r, r.caution()
}

// NothingToRank is the error of a plan of which nothing can be ranked, and why.
type NothingToRank struct {
	Vehicle string
	Notes   []ChangeNote // none: there is nothing on it
}

func (e *NothingToRank) Error() string {
	return "nothing on the plan of " + e.Vehicle + " can be ranked"
}

// candidates are the changes of the plan that are not built in yet; what there is to
// say of them is noted.
func (r *Ranked) candidates(s *Session) (all []predict.Candidate, err error) {
	vehicle := r.Run.Vehicle.ID
	parts, err := s.Plan(vehicle)
	if err != nil {
		return nil, err
	}
	built, err := s.builtIn(vehicle, r.Run.Slip.Time.Time)
	if err != nil {
		return nil, err
	}
	today, notes := r.Stated()
	var boosted []string
	loss := false
	for _, p := range parts {
		if built[p.Name] {
			notes = append(notes, ChangeNote{Kind: BuiltInNow, Names: []string{p.Name}})
			continue
		}
		c, crossed, err := candidateOf(p, today)
		if err != nil {
			notes = append(notes, ChangeNote{Kind: NotRanked, Names: []string{p.Name}, Err: err})
			continue
		}
		if crossed && !loss {
			loss = true
			notes = append(notes, ChangeNote{Kind: LossTaken, Share: today.Loss})
		}
		if c.Boosted {
			boosted = append(boosted, p.Name)
		}
		c.Needs = slices.DeleteFunc(c.Needs, func(name string) bool { return built[name] })
		all = append(all, c)
	}
	all, notes = needing(all, notes)
	boosted = slices.DeleteFunc(boosted, func(name string) bool { return !onPlan(all, name) })
	if len(boosted) > 0 {
		notes = append(notes, ChangeNote{Kind: MadeByBoost, Names: boosted})
	}
	if len(boosted) > 1 {
		notes = append(notes, ChangeNote{Kind: OneByBoost, Names: boosted})
	}
	if r.Notes = notes; len(all) > 0 {
		return all, nil
	}
	if len(parts) == 0 {
		notes = nil
	}
	return nil, &NothingToRank{vehicle, notes}
}

// needing leaves out, and notes, what needs a change that is not there.
func needing(all []predict.Candidate, notes []ChangeNote) ([]predict.Candidate, []ChangeNote) {
	for {
		var out []string
		for _, c := range all {
			at := slices.IndexFunc(c.Needs, func(name string) bool { return !onPlan(all, name) })
			if at >= 0 {
				out = append(out, c.Name)
				err := fmt.Errorf("%s needs %s, which is not on the plan", c.Name, c.Needs[at])
				notes = append(notes, ChangeNote{Kind: NotRanked, Names: []string{c.Name}, Err: err})
			}
		}
		if out == nil {
			return all, notes
		}
		all = slices.DeleteFunc(all, func(c predict.Candidate) bool { return slices.Contains(out, c.Name) })
	}
}

func onPlan(all []predict.Candidate, name string) bool {
	return slices.ContainsFunc(all, func(c predict.Candidate) bool { return c.Name == name })
}

// noteBudget says what is over the budget alone, and what could come to be.
func (r *Ranked) noteBudget() {
	budget := r.Ask.Budget
	if !budget.Known() {
		return
	}
	var over []string
	for _, w := range r.Worth {
		if w.Cost.Likely > budget.Value() {
			over = append(over, w.Name)
		}
	}
	if over != nil {
		r.Notes = append(r.Notes, ChangeNote{Kind: OverBudget, Names: over})
	}
	if n := len(r.Order); n > 0 && r.Order[n-1].Most > budget.Value() {
		r.Notes = append(r.Notes, ChangeNote{Kind: AtDearest, Dollars: r.Order[n-1].Most})
	}
}

// caution takes the cautions of the quickest that the ranking comes to: the order as a
// whole, or one change within the budget that alone does more.
func (r *Ranked) caution() error {
	var quickest predict.Change
	gain, alone := 0., ""
	for _, w := range r.Worth {
		if slices.ContainsFunc(r.Order, func(o Step) bool { return o.Name == w.Name }) {
			quickest = quickest.With(w.Change)
			gain = r.Order[len(r.Order)-1].ETGain.Likely
		}
	}
	for _, w := range r.Worth {
		if w.ETGain.Likely < gain && w.Cost.Likely <= r.Ask.Budget.Or(math.Inf(1)) {
			quickest, gain, alone = w.Change, w.ETGain.Likely, w.Name
		}
	}
	u, err := r.tryChange(quickest, r.Ask.TyresMPH)
	r.Cautions = u.Cautions
	r.Cautions.Alone = alone
	return err
}
