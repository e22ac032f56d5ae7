package predict

import (
	"time"

	"slipcase/weather/units"
)

// Note is something to know beside the numbers.
type Note struct {
	Kind                NoteKind
	Runs                int       // AirlessRuns
	DaysA, DaysB        int       // NoSharedDay: with runs of each setup
	Share               float64   // MuchPower, MuchWeight: of today's; GainNotSeen: of that before; BoostDecides: left
	AirFt               float64   // density altitude: AirUncertain, its standard deviation; AirUnlike
	RacedFt, OtherRaced Span      // density altitudes, ft: AirUnlike; AirsApart, of each setup
	Since               time.Time // the first run of it: ChangedSince, DayUnlike
	ByS                 float64   // s at the finish, slower above 0: the same; LaunchKept: at 60 ft
	Held                Hold      // BoostDecides
	Psi                 units.Number
}

// Span is from the least to the most of something.
type Span struct{ Low, High float64 }

// NoteKind says what a note is about.
type NoteKind string

// What a forecast had to do without.
const (
	NoWeight     NoteKind = "no-weight"     // an ordinary one is taken
	NoPower      NoteKind = "no-power"      // and no run to tell it
	NewSetup     NoteKind = "new-setup"     // no run with it yet
	NewForPower  NoteKind = "new-for-power" // nor its power, nor what else differs: a tenth more is taken
	FirstStop    NoteKind = "first-stop"    // no run with a throttle stop yet
	FirstFree    NoteKind = "first-free"    // none without one yet
	AirAssumed   NoteKind = "air-assumed"   // none known
	AirOfRuns    NoteKind = "air-of-runs"   // none known: that of the runs is taken
	AirUncertain NoteKind = "air-uncertain" // by AirFt
	AirUnlike    NoteKind = "air-unlike"    // AirFt is far from RacedFt
	BoostDecides NoteKind = "boost-decides" // of a turbo, in such air: what its wastegate is said to hold
	BoostUntold  NoteKind = "boost-untold"  // of a turbo, in air that is not the runs': 12 psi above ambient are taken
	AirlessRuns  NoteKind = "airless-runs"  // Runs of those before count for less
)

// What the runs say that nobody entered.
const (
	DayUnlike    NoteKind = "day-unlike"    // this day's runs differ from other days' by ByS
	ChangedSince NoteKind = "changed-since" // by ByS from Since on
	GainNotSeen  NoteKind = "gain-not-seen" // Share, as the setups state it
)

// What was assumed of a power figure.
const (
	PowerPlaceUntold    NoteKind = "power-place-untold"    // taken as at the wheels
	PowerAsStated       NoteKind = "power-as-stated"       // whatever the air, which is not known
	PowerUncorrected    NoteKind = "power-uncorrected"     // in air not known: taken as SAE's
	PowerStandardUntold NoteKind = "power-standard-untold" // taken as SAE
)

// What a change goes beyond.
const (
	LaunchUntold NoteKind = "launch-untold" // no run yet: an ordinary one is taken
	MuchPower    NoteKind = "much-power"    // Share is more than MostTried
	MuchWeight   NoteKind = "much-weight"   // Share is more than MostWeightTried
	LaunchKept   NoteKind = "launch-kept"   // more power, and nothing said of the grip
)

// What can pass for the difference of two setups.
const (
	NoSharedDay NoteKind = "no-shared-day" // the luck of days
	AirsApart   NoteKind = "airs-apart"    // the law of the air
)
