package page

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// The rulebook is deferred to wherever a caution or a result is said.
const (
	deferShort = "the rulebook in force decides"
	// RoundCaution goes with every result of a round.
	RoundCaution = "boundary before red before breakout is common practice: " + deferShort
)

// BoostCautions go with every boost figure.
var BoostCautions = []string{
	"detonation first: make fuel, timing and mixture safe before you raise the boost; a licensed shop if in doubt",
	"the makers of engine, blower and driveline say what their parts can take",
}

var equipment = map[crew.Equipment]string{
	crew.Helmet:         "a helmet",
	crew.LoopOnSlicks:   "a driveshaft loop on slicks",
	crew.LoopAlways:     "a driveshaft loop, street tires included",
	crew.RollBarIfOpen:  "a roll bar in an open car",
	crew.RollBar:        "a roll bar",
	crew.RollCage:       "a roll cage (newer factory-built cars differ)",
	crew.Licence:        "a competition license",
	crew.ChassisPapers:  "a chassis certificate",
	crew.DrivelineGuard: "axles that cannot come out and a shield around clutch or flexplate",
	crew.Parachute:      "a parachute",
	crew.FireJacket:     "a fire jacket",
	crew.FireSuit:       "a fire suit with gloves and shoes",
	crew.ArmRestraints:  "arm restraints in an open car",
	crew.NeckRestraint:  "a neck restraint",
	crew.FireSystem:     "a fire system",
	crew.TetherCutOff:   "a tether that cuts the engine off",
	crew.Leathers:       "full leathers, not a jacket and pants apart",
	crew.TyreRating:     "tires rated for the speed",
	crew.RiderGear:      "a motorcycle's rider wears helmet, leathers, boots and gloves, whatever the time",
	crew.DrivelineRear:  "clutch, transmission, driveshaft and axles",
	crew.DrivelineFront: "clutch, transmission and axles",
	crew.DrivelineBike:  "clutch, transmission and chain",
}

// caution says what is usual, and from which time or speed on: of cautions that have the
// same ones, all at once.
func caution(alike []crew.Caution, sys units.System) string {
	c := alike[0]
	var items []string
	for _, one := range alike {
		items = append(items, equipment[one.What])
	}
	text := strings.Join(items, ", ")
	switch {
	case c.Source == "":
		return text + " are good for what their makers say, not for what engine and tires put through them: a licensed shop if in doubt; test on a closed track"
	case c.QuarterS == 0 && c.MPH == 0:
		return text
	case c.QuarterS == 0:
		return plain(units.Speed, sys, c.MPH, 0) + ": " + text
	case c.IfSlicks:
		text += ", if slicks bring the grip"
	}
	from := fmt.Sprintf("%.2f and quicker (%.2f in the eighth)", c.QuarterS, c.EighthS)
	if c.MPH > 0 {
		from += ", or " + plain(units.Speed, sys, c.MPH, 0)
	}
	return from + ": " + text
}

// Cautions says them all, those of one threshold together, and whose word counts: behind
// the last that has a source.
func Cautions(list []crew.Caution, sys units.System) (words []string) {
	for i, c := range list {
		like := func(o crew.Caution) bool { o.What, o.At = c.What, c.At; return o == c && c.QuarterS+c.MPH > 0 }
		if !slices.ContainsFunc(list[:i], like) {
			alike := []crew.Caution{c}
			for _, o := range list[i+1:] {
				if like(o) {
					alike = append(alike, o)
				}
			}
			words = append(words, caution(alike, sys))
		}
		if c.Source != "" && (i == len(list)-1 || list[i+1].Source == "") {
			words = append(words, fmt.Sprintf("thresholds %s: the rulebook in force and the technical inspector decide; "+
				"test on a closed track", c.Source))
		}
	}
	return words
}

// ShortCautions are the cautions without their thresholds.
func ShortCautions(list []crew.Caution) string {
	var items []string
	for _, c := range list {
		if c.QuarterS > 0 || c.MPH > 0 {
			items = append(items, equipment[c.What])
		}
	}
	return strings.Join(append(items, deferShort), "; ")
}
