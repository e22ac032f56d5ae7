package predict

import "fmt"

// threshold is one item of added safety equipment and from where it is usual.
type threshold struct {
	item            string
	quarter, eighth float64 // s: this or quicker
	mph             float64 // this or faster at any mark; 0: speed does not matter
	applies         func(Machine) bool
}

// ladders holds the thresholds as remembered in November 2026, from no rulebook
// at hand. In each, mildest first, an item takes in those before it. An open car
// has the body "open".
var ladders = [][]threshold{
	{
		{"a helmet", 13.99, 8.59, 0, isCar},
	},
	{
		{"a driveshaft loop on slicks", 13.99, 8.59, 0, hasDriveshaft},
		{"a driveshaft loop, on street tyres too", 11.49, 7.35, 0, hasDriveshaft},
	},
	{
		{"a roll bar in an open car", 13.49, 8.25, 0, isOpen},
		{"a roll bar", 11.49, 7.35, 0, isCar},
		{"a roll cage and a competition licence (newer factory-built cars differ)", 9.99, 6.39, 135, isCar},
	},
}

const (
	slicksLadder = 1 // the one of the driveshaft loop

	riderGear = "a motorcycle's rider wears helmet, leathers, boots and gloves, whatever the time"
	// CautionsDefer ends every list of cautions.
	CautionsDefer = "thresholds from memory, November 2026: the rulebook in force and the technical inspector decide; testing is for a closed track"
)

func isCar(m Machine) bool         { return m.Kind != Motorcycle }
func isOpen(m Machine) bool        { return isCar(m) && m.Body == "open" }
func hasDriveshaft(m Machine) bool { return isCar(m) && m.Drive != FrontDrive }

// Cautions names the safety equipment that is usual at the times and speeds that
// may be run: quick is the quick end of a forecast. It says each item once, the
// ones that another takes in not at all, and ends by deferring to the rulebook;
// nil when no threshold is crossed.
func Cautions(m Machine, quick Splits) []string {
	var said []string
	if m.Kind == Motorcycle {
		said = append(said, riderGear)
	}
	for _, ladder := range ladders {
		highest := ""
		for _, t := range ladder {
			if t.applies(m) && t.crossed(quick) {
				highest = t.String()
			}
		}
		if highest != "" {
			said = append(said, highest)
		}
	}
	if said != nil {
		said = append(said, CautionsDefer)
	}
	return said
}

// crossed counts the whole hundredth in: 13.998 is a 13.99 on the scoreboard.
func (t threshold) crossed(quick Splits) bool {
	const hundredth = 0.01
	for m, limit := range map[Mark]float64{At1320: t.quarter, At660: t.eighth} {
		if et := quick.ETs[m]; et.Known() && et.Value() < limit+hundredth {
			return true
		}
	}
	for _, mph := range quick.MPHs {
		if t.mph > 0 && mph.Known() && mph.Value() >= t.mph {
			return true
		}
	}
	return false
}

func (t threshold) String() string {
	text := fmt.Sprintf("%s is usual from %.2f s at the quarter mile, %.2f at the eighth", t.item, t.quarter, t.eighth)
	if t.mph > 0 {
		text += fmt.Sprintf(", or %.0f mph", t.mph)
	}
	return text
}
