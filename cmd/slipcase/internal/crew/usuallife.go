package crew

import (
	"slices"
	"time"
)

// UsualLife is how long rulebooks usually let a piece of safety equipment be used.
type UsualLife struct {
	Safety string
	Months int
	// QuickMonths is for the quickest vehicles, where it is shorter; 0 where it is not.
	QuickMonths int
}

// UsualLives are the usual ones: from memory, November 2026. The rulebook in force decides,
// and the label on the thing.
var UsualLives = []UsualLife{
	{"belts", 24, 0},
	{"window-net", 24, 0},
	{"fire-bottle", 24, 0},
	{"licence-physical", 24, 0},
	{"head-restraint", 60, 0},
	{"transmission-shield", 60, 0},
	{"bellhousing", 60, 0},
	{"helmet", 120, 0},
	{"chassis", 36, 12},
}

// UsualLifeOf is that of a piece of safety equipment.
func UsualLifeOf(safety string) (UsualLife, bool) {
	i := slices.IndexFunc(UsualLives, func(u UsualLife) bool { return u.Safety == safety })
	if i < 0 {
		return UsualLife{}, false
	}
	return UsualLives[i], true
}

// Ends is when it ends for what was made or certified at a moment.
func (u UsualLife) Ends(made time.Time) time.Time { return made.AddDate(0, u.Months, 0) }
