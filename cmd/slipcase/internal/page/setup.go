package page

import (
	"fmt"
	"io"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Setups lists setups.
func (p *Page) Setups(ss []crew.Setup) error { return p.Answer(ss, p.setupTable(ss...), nil) }

// Setup shows one.
func (p *Page) Setup(s crew.Setup) error { return p.Answer(s, p.setupTable(s), nil) }

// SetupFrom asks since when a setup is in, of a vehicle that has run today without it.
func (p *Page) SetupFrom(s crew.Setup, ran int) []string {
	name := s.Name
	if name == "" {
		name = "it"
	}
	question := fmt.Sprintf("%d %s of %s today: is %s in from now on, or was it this morning?",
		ran, Plural(ran, "slip", "slips"), s.Vehicle, name)
	return append(Lines(question, p.Room()), "  [n] from now on")
}

// SetupAdded tells that a setup is recorded, and what of it came from the plan; ran are
// the slips of its day from before it.
func (p *Page) SetupAdded(s crew.Setup, b crew.Built, ran int) error {
	return p.Answer(s, p.setupTable(s), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  setup %s of %s from %s: %s, %s%s\n", OrDash(s.Name), s.Vehicle, When(s.From.Time),
			p.Show(units.Weight, s.WeightLb), p.Show(units.Power, s.PowerHP), atPlace(s))
		if ran > 0 {
			fmt.Fprintf(
				w,
				"  from now on, the %s of today %s from before it   slipcase setup amend %s --from %s\n",
				fmt.Sprintf(
					"%d %s",
					ran,
					Plural(ran, "slip", "slips"),
				),
				Plural(ran, "is", "are"),
				s.ID,
				s.From.Format(time.DateOnly),
			)
		}
		p.builtText(w, b)
		p.powerUntold(w, s)
	})
}

// powerUntold says what is assumed of a power, and what to type where it is otherwise.
func (p *Page) powerUntold(w io.Writer, s crew.Setup) {
	var assumed []string
	flags := ""
	if s.PowerAt == "" {
		assumed, flags = append(assumed, "at the wheels"), flags+" --power-at wheels"
	}
	if s.PowerStandard == "" {
		assumed, flags = append(assumed, "SAE"), flags+" --standard sae"
	}
	if s.PowerHP.Known() && flags != "" {
		fmt.Fprintf(w, "  %s assumed, not said   slipcase setup amend %s%s\n", strings.Join(assumed, " and "), s.ID, flags)
	}
}

// SetupAmended tells what an amendment changed, and what of it came from the plan.
func (p *Page) SetupAmended(s crew.Setup, b crew.Built, changed []crew.CellChange) error {
	return p.Answer(s, p.setupTable(s), func(w io.Writer) {
		fmt.Fprintf(w, "recorded  setup %s, revision %d\n", s.ID, s.Rev)
		p.builtText(w, b)
		p.Changes(w, changed)
	})
}

// SetupSame tells that a further setup says again what holds, and what it added to that.
func (p *Page) SetupSame(same *crew.SameSetup, err error) error {
	if err != nil {
		return err
	}
	s, changed := same.Setup, same.Changed
	return p.Answer(s, p.setupTable(s), func(w io.Writer) {
		if len(changed) == 0 {
			p.Wrap(w, fmt.Sprintf("nothing new: the setup of %s has these figures and holds on", When(s.From.Time)))
			return
		}
		fmt.Fprintf(w, "recorded  setup %s, revision %d\n", s.ID, s.Rev)
		p.Wrap(w, fmt.Sprintf("  the weight and power of the setup of %s, so the same car: this is said of that one",
			When(s.From.Time)))
		p.Changes(w, changed)
	})
}

// SetupStatus tells of a setup taken out or put back.
func (p *Page) SetupStatus(s crew.Setup) error {
	return p.status(s, p.setupTable(s), "setup", SetupCalled(s), "setup", s.Entry)
}

// SetupCalled names a setup in full: carb of heron (u2f7...).
func SetupCalled(s crew.Setup) string {
	return fmt.Sprintf("%s of %s (%s)", OrDash(s.Name), s.Vehicle, s.ID)
}

func (p *Page) builtText(w io.Writer, b crew.Built) {
	if b.Hidden != nil {
		fmt.Fprintf(w, "  %s begins at the same time as %s, which holds; %[1]s is for no run   slipcase setup void %[3]s\n",
			OrDash(b.Hidden.Name), OrDash(b.Holds.Name), b.Hidden.ID)
	}
	var steps []string
	for _, f := range []struct {
		what string
		kind units.Kind
		of   crew.Stepped
	}{{"power", units.Power, b.PowerHP}, {"weight", units.Weight, b.WeightLb}} {
		if f.of.Is.Known() {
			steps = append(steps, fmt.Sprintf("%s %s to %s", f.what, p.Show(f.kind, f.of.Was), p.Show(f.kind, f.of.Is)))
		}
	}
	if len(steps) > 0 {
		p.Wrap(w, "  "+strings.Join(steps, ", ")+", from the plan, not measured; --power and --weight set yours")
	}
	if len(b.Strange) > 0 {
		p.Wrap(w, "  "+strings.Join(b.Strange, ", ")+": not on the plan, kept as words")
	}
	const kept = "  %s stays as you recorded it, not as planned; --%[1]s changes it"
	if b.KeptPower {
		p.Wrap(w, fmt.Sprintf(kept, "power"))
	}
	if b.KeptWeight {
		p.Wrap(w, fmt.Sprintf(kept, "weight"))
	}
}

func (p *Page) setupTable(ss ...crew.Setup) table.Table {
	weight, power := "weight_"+p.Suffix(units.Weight), "power_"+p.Suffix(units.Power)
	t := table.Table{Columns: []table.Column{
		{Head: "id", Key: "id", Drop: 3},
		{Head: "vehicle", Key: "vehicle"},
		{Head: "from", Key: "from"},
		{Head: "setup", Key: "name"},
		{Head: "weight", Key: weight, Right: true},
		{Head: "power", Key: power, Right: true},
		{Head: "at", Key: "power_at", Drop: 1},
		{Head: "standard", Key: "power_standard", Drop: 1},
		{Head: "cost", Key: "cost", Right: true, Drop: 4},
		{Head: "change", Key: "change", Drop: 5},
		{Head: "notes", Key: "notes", Drop: 6},
	}}
	for _, s := range ss {
		t.AddCells(table.Cells{
			"id": s.ID, "vehicle": s.Vehicle, "from": p.Stamp(s.From.Time), "name": s.Name,
			weight: p.Cell(units.Weight, s.WeightLb), power: p.Cell(units.Power, s.PowerHP),
			"power_at": s.PowerAt, "power_standard": s.PowerStandard, "cost": s.Cost.String(),
			"change": s.Change, "notes": s.Notes,
		})
	}
	return t
}

// atPlace says where a setup's power was measured and in which standard, where it is
// said.
func atPlace(s crew.Setup) string {
	var parts []string
	if s.PowerAt != "" {
		parts = append(parts, "at the "+s.PowerAt)
	}
	if s.PowerStandard != "" {
		parts = append(parts, s.PowerStandard)
	}
	if len(parts) == 0 {
		return ""
	}
	return " " + strings.Join(parts, ", ")
}
