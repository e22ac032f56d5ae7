package weather

import "time"

// Note is something to know of a reading or of an estimate.
type Note struct {
	Kind        NoteKind
	ElevationFt float64 // StandardPressure and RaceDay: of the track
	StationInHg float64 // FromSeaLevel and StandardPressure: what was worked out,
	DoubtInHg   float64 // and its standard deviation
	TempF       float64 // RaceDay; DensityAlone: what makes it
	RHPct       float64 // RaceDay
	DoubtFt     float64 // RaceDay: standard deviation of the density altitude; DensityAlone: of what is not known
	DoubtPct    float64 // DensityAlone: of power, by SAE J1349
	ReadingID   string  // Impossible
	Err         error   // Impossible: what is wrong with it
	Groups      string  // Unread: of the report
	Doubt       Doubt   // Doubted
}

// doubtFt is what the note leaves open of the density altitude of air, ft: one standard
// deviation, common to all readings of a place that bear it.
func (n Note) doubtFt(a Air) float64 {
	switch {
	case n.Kind == DensityAlone:
		return n.DoubtFt
	case n.DoubtInHg == 0:
		return 0
	}
	return n.DoubtInHg * a.ftPerInHg()
}

// NoteKind says what a note is about.
type NoteKind string

// The kinds.
const (
	FromSeaLevel     NoteKind = "from-sea-level"    // station pressure, from a sea-level one
	PressureTaken    NoteKind = "pressure-taken"    // none was given: StationInHg of the nearest reading
	StandardPressure NoteKind = "standard-pressure" // none was given: that of the elevation
	RaceDay          NoteKind = "race-day"          // no reading: the air is assumed
	DensityAlone     NoteKind = "density-alone"     // density altitude was read, temperature and water were not
	Impossible       NoteKind = "impossible"        // a reading that is left out
	Unread           NoteKind = "unread"            // groups of a report not understood
	Doubted          NoteKind = "doubted"           // taken all the same
)

// How says how the air of an estimate is known, or why it is not.
type How struct {
	Kind      HowKind
	At        time.Time // of the reading; ByTwo: of the one before; NotNear: asked for
	To        time.Time // ByTwo: of the one after
	Minutes   int       // ByOne: how long after the reading; before it below 0
	ReadingID string    // the nearest one of a log; NotInLog: the one named
}

// HowKind is a way to know the air, or not to.
type HowKind string

// The ways. What an estimate of a log, or of a command, rests on is theirs to say.
const (
	ByTwo            HowKind = "between"    // two readings
	ByOne            HowKind = "one"        // reading, carried along its trend
	ByName           HowKind = "named"      // by the slip
	Given            HowKind = "given"      // with the question
	NotNear          HowKind = "not-near"   // no reading is near enough in time
	NotInLog         HowKind = "not-in-log" // the reading that the slip names
	SlipWithoutTrack HowKind = "slip-without-track"
	NoTrack          HowKind = "no-track" // named
)
