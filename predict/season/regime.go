package season

// Regime is what is out of the ordinary in a season. The zero Regime is an ordinary
// one; the vehicle, its luck and the weather of a seed are the same in all of them.
type Regime struct {
	Eighth bool    // raced to 660 ft
	NoiseS float64 // standard deviation from run to run at the finish, s; 0: drawn

	BadFirst bool    // the first run of all was spoiled, and nobody noted it
	SlowDays float64 // share of the days that are slower by 2 to 6 %: a cold or slick track

	Hidden     Change // made at one of the meets 3 to 5, and not entered
	NoUpgrade  bool
	Said, Came float64 // the upgrade's gain as entered and as it is; 0: drawn, and both the same

	Meets    int     // 0: eight, nine a year when more
	WearS    float64 // slower at the finish by so much a month, s
	HeatRun  float64 // share of power added with each run of a day, to be taken off by the next
	AwayGrip float64 // share of grip added at the away track
	LaneS    float64 // the right lane is slower by so much at the finish, s

	Index bool // run with a throttle stop at an index

	Lifts   float64 // share of all runs lifted late, not noted; 0: as ordinary
	Sandbag float64 // share of all runs held back near the finish, not noted

	// OtherDriver takes over for two days in five, and launches and shifts worse;
	// OtherLb is how much heavier he is, entered in the weight or not.
	OtherDriver  bool
	OtherLb      float64
	OtherEntered bool

	AirEvery int     // runs of a day for each reading of the air, the first has one; 0: one each
	AirLateH float64 // readings are from so many hours after the run

	OnlyGood  bool    // spoiled runs, and those slower than was to be expected, are not entered
	Wrong1000 float64 // share of the 1000 ft times that are off by .1 to .3 s
}

// Change is what is done to a vehicle: shares of its power, weight and grip added.
type Change struct{ Gain, Weight, Grip float64 }

// NamedRegime is a regime and what to call it.
type NamedRegime struct {
	Name string
	Regime
}

// Regimes are those that the forecast is judged on, beginning with the ordinary one.
func Regimes() []NamedRegime {
	return []NamedRegime{
		{"ordinary", Regime{}},
		{"steady car to 660 ft", Regime{Eighth: true, NoiseS: 0.008}},
		{"bad first run, not noted", Regime{BadFirst: true}},
		{"a fifth of days 2-6 % slower", Regime{SlowDays: 0.2}},
		{"hidden +8 % power", Regime{NoUpgrade: true, Hidden: Change{Gain: 0.08}}},
		{"hidden +25 % power", Regime{NoUpgrade: true, Hidden: Change{Gain: 0.25}}},
		{"hidden -10 % power", Regime{NoUpgrade: true, Hidden: Change{Gain: -0.1}}},
		{"hidden -3 % weight", Regime{NoUpgrade: true, Hidden: Change{Weight: -0.03}}},
		{"+25 % said, +3 % came", Regime{Said: 0.25, Came: 0.03}},
		{"no upgrade", Regime{NoUpgrade: true}},
		{"wear .02 s a month", Regime{WearS: 0.02}},
		{"5 years of runs", Regime{Meets: 46, NoUpgrade: true}},
		{"wear, 5 years of runs", Regime{WearS: 0.02, Meets: 46, NoUpgrade: true}},
		{"away track 10 % less grip", Regime{AwayGrip: -0.1}},
		{"right lane .02 slower", Regime{LaneS: 0.02}},
		{"steady, lane .02 slower", Regime{LaneS: 0.02, NoiseS: 0.008}},
		{"heat, -.6 % power a run", Regime{HeatRun: -0.006}},
		{"throttle stop at an index", Regime{Index: true, NoUpgrade: true}},
		{"lifts in 70 %, not noted", Regime{Lifts: 0.7}},
		{"lifts in 90 %, not noted", Regime{Lifts: 0.9}},
		{"sandbagging in 40 %", Regime{Sandbag: 0.4}},
		{"two drivers", Regime{OtherDriver: true}},
		{"rider 40 lb heavier, entered", Regime{OtherDriver: true, OtherLb: 40, OtherEntered: true}},
		{"rider 40 lb heavier, not", Regime{OtherDriver: true, OtherLb: 40}},
		{"air every 4th run", Regime{AirEvery: 4}},
		{"air in the morning only", Regime{AirEvery: 100}},
		{"air read an hour late", Regime{AirLateH: 1}},
		{"only good runs entered", Regime{OnlyGood: true}},
		{"wrong 1000 ft in 12 %", Regime{Wrong1000: 0.12}},
	}
}
