package predict

import "slices"

// Caution is something that a time, a speed or a change calls for.
type Caution struct {
	What     Equipment
	QuarterS float64 // usual from this time at the quarter mile, 0 where no time matters
	EighthS  float64 // and from this at the eighth
	MPH      float64 // and from this speed at any mark, 0 where none matters
	At       Mark    // the mark at which it is crossed
	Source   string  // of the threshold, empty where there is none
	IfSlicks bool    // only where slicks bring the grip
}

// Equipment is what is called for.
type Equipment string

// The equipment, and what a change loads.
const (
	Helmet         Equipment = "helmet"
	LoopOnSlicks   Equipment = "driveshaft-loop-on-slicks"
	LoopAlways     Equipment = "driveshaft-loop" // on street tyres too
	RollBarIfOpen  Equipment = "roll-bar-in-an-open-car"
	RollBar        Equipment = "roll-bar"
	RollCage       Equipment = "roll-cage" // newer factory-built cars differ
	Licence        Equipment = "competition-licence"
	ChassisPapers  Equipment = "chassis-certificate"
	DrivelineGuard Equipment = "driveline-guards" // axles held in, clutch or flexplate shielded
	Parachute      Equipment = "parachute"
	FireJacket     Equipment = "fire-jacket"
	FireSuit       Equipment = "fire-suit"      // with gloves and shoes
	ArmRestraints  Equipment = "arm-restraints" // in an open car
	NeckRestraint  Equipment = "neck-restraint"
	FireSystem     Equipment = "fire-system"
	RiderGear      Equipment = "rider-gear"
	TetherCutOff   Equipment = "tether-cut-off"
	Leathers       Equipment = "full-leathers"
	TyreRating     Equipment = "tyre-rating"
	DrivelineRear  Equipment = "driveline-with-driveshaft"
	DrivelineFront Equipment = "driveline-without-driveshaft"
	DrivelineBike  Equipment = "driveline-with-chain"
)

// fromMemory is the source of all thresholds: no rulebook was at hand.
const fromMemory = "from memory, November 2026"

// threshold is one item of added safety equipment and from where it is usual.
type threshold struct {
	item            Equipment
	quarter, eighth float64 // s: this or quicker
	mph             float64 // this or faster at any mark; 0: speed does not matter
	applies         func(Machine) bool
}

// ladders holds the thresholds. In each, mildest first, an item takes in those before
// it. An open car has the body "open".
var ladders = [][]threshold{
	{
		{Helmet, 13.99, 8.59, 0, isCar},
	},
	{
		slicksLoop,
		{LoopAlways, 11.49, 7.35, 0, hasDriveshaft},
	},
	{
		{RollBarIfOpen, 13.49, 8.25, 0, isOpen},
		{RollBar, 11.49, 7.35, 0, isCar},
		{RollCage, 9.99, 6.39, 135, isCar},
	},
	{{DrivelineGuard, 10.99, 6.99, 0, isCar}},
	{{Licence, 9.99, 6.39, 135, always}},
	{{ChassisPapers, 9.99, 6.39, 135, isCar}},
	{
		{FireJacket, 11.49, 7.35, 0, isCar},
		{FireSuit, 9.99, 6.39, 135, isCar},
	},
	{{ArmRestraints, 11.49, 7.35, 0, isOpen}},
	{{NeckRestraint, 9.99, 6.39, 135, isCar}},
	{{Parachute, 0, 0, 150, isCar}},
	{{FireSystem, 0, 0, 200, isCar}},
	{{TetherCutOff, 10.99, 6.99, 120, isMotorcycle}},
	{{Leathers, 10.99, 6.99, 120, isMotorcycle}},
	{{TyreRating, 0, 0, 120, isMotorcycle}},
}

var slicksLoop = threshold{LoopOnSlicks, 13.99, 8.59, 0, hasDriveshaft}

func always(Machine) bool          { return true }
func isMotorcycle(m Machine) bool  { return m.Kind == Motorcycle }
func isCar(m Machine) bool         { return m.Kind != Motorcycle }
func isOpen(m Machine) bool        { return isCar(m) && m.Body == "open" }
func hasDriveshaft(m Machine) bool { return isCar(m) && m.Drive != FrontDrive }

// Cautions names the safety equipment that is usual at the times and speeds that
// may be run: quick is the quick end of a forecast. It says each item once, the
// ones that another takes in not at all.
func Cautions(m Machine, quick Splits) (said []Caution) {
	if m.Kind == Motorcycle {
		said = append(said, Caution{What: RiderGear, Source: fromMemory})
	}
	for _, ladder := range ladders {
		for _, t := range slices.Backward(ladder) {
			if c, crossed := t.crossed(m, quick); crossed {
				said = append(said, c)
				break
			}
		}
	}
	return said
}

// callsFor reports whether the times and speeds call for an item of equipment, or for one
// that takes it in.
func callsFor(m Machine, quick Splits, item Equipment) bool {
	for _, ladder := range ladders {
		for _, t := range ladder {
			if _, crossed := t.crossed(m, quick); crossed && t.item == item {
				return true
			}
		}
	}
	return false
}

// rung is how far up its ladder an item of equipment stands.
func rung(item Equipment) int { _, at := ladderOf(item); return at }

// ladderOf is the ladder of an item of equipment, and its place there; -1 for one on none.
func ladderOf(item Equipment) (ladder, at int) {
	for i, l := range ladders {
		if at := slices.IndexFunc(l, func(t threshold) bool { return t.item == item }); at >= 0 {
			return i, at
		}
	}
	return -1, -1
}

// takesIn reports whether an item of equipment is another, or takes it in.
func takesIn(item, other Equipment) bool {
	a, i := ladderOf(item)
	b, j := ladderOf(other)
	return item == other || a >= 0 && a == b && i >= j
}

// NewCautions are those of a run that no earlier run of the vehicle earned.
func NewCautions(run Pass, history []Pass) []Caution {
	fresh := Cautions(run.Machine, run.Splits)
	for i := range history {
		if len(fresh) == 0 {
			break
		}
		fresh = without(fresh, Cautions(run.Machine, history[i].Splits))
	}
	return fresh
}

// without leaves out the cautions that there were before.
func without(cautions, had []Caution) []Caution {
	return slices.DeleteFunc(cautions, func(c Caution) bool {
		return slices.ContainsFunc(had, func(h Caution) bool { return h.What == c.What })
	})
}

// crossed counts the whole hundredth in: 13.998 is a 13.99 on the scoreboard.
func (t threshold) crossed(m Machine, quick Splits) (Caution, bool) {
	const hundredth = 0.01
	c := Caution{What: t.item, QuarterS: t.quarter, EighthS: t.eighth, MPH: t.mph, Source: fromMemory}
	for _, l := range [...]struct {
		at    Mark
		limit float64
	}{{At1320, t.quarter}, {At660, t.eighth}} {
		if et := quick.ETs[l.at]; et.Known() && et.Value() < l.limit+hundredth {
			c.At = max(c.At, l.at)
		}
	}
	for at, mph := range quick.MPHs {
		if t.mph > 0 && mph.Known() && mph.Value() >= t.mph {
			c.At = max(c.At, Mark(at))
		}
	}
	return c, t.applies(m) && c.At > At60
}
