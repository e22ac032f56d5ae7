package logbook

import (
	"cmp"
	"fmt"

	"slipcase/weather/units"
)

// Slip is one time slip as printed, with what the racer noted beside it.
type Slip struct {
	Entry
	Time              Time         `csv:"time"                json:"time"                         required:"yes"`
	Vehicle           string       `csv:"vehicle"             json:"vehicle"                      required:"yes"`
	Setup             string       `csv:"setup"               json:"setup,omitzero"` // empty: the one in force
	Track             string       `csv:"track"               json:"track,omitzero"`
	Meet              string       `csv:"meet"                json:"meet,omitzero"`
	Lane              string       `csv:"lane"                json:"lane,omitzero"                               oneof:"left right"`
	Round             string       `csv:"round"               json:"round,omitzero"`
	ReactionS         units.Number `csv:"reaction_s"          json:"reaction_s,omitzero"`
	ET60S             units.Number `csv:"et_60_s"             json:"et_60_s,omitzero"`
	ET330S            units.Number `csv:"et_330_s"            json:"et_330_s,omitzero"`
	ET660S            units.Number `csv:"et_660_s"            json:"et_660_s,omitzero"`
	MPH660            units.Number `csv:"mph_660"             json:"mph_660,omitzero"`
	ET1000S           units.Number `csv:"et_1000_s"           json:"et_1000_s,omitzero"`
	MPH1000           units.Number `csv:"mph_1000"            json:"mph_1000,omitzero"`
	ET1320S           units.Number `csv:"et_1320_s"           json:"et_1320_s,omitzero"`
	MPH1320           units.Number `csv:"mph_1320"            json:"mph_1320,omitzero"`
	DialS             units.Number `csv:"dial_s"              json:"dial_s,omitzero"`
	Result            string       `csv:"result"              json:"result,omitzero"                             oneof:"won lost dq"`
	OpponentReactionS units.Number `csv:"opponent_reaction_s" json:"opponent_reaction_s,omitzero"`
	OpponentETS       units.Number `csv:"opponent_et_s"       json:"opponent_et_s,omitzero"`
	OpponentDialS     units.Number `csv:"opponent_dial_s"     json:"opponent_dial_s,omitzero"`
	OpponentMPH       units.Number `csv:"opponent_mph"        json:"opponent_mph,omitzero"`
	Air               string       `csv:"air"                 json:"air,omitzero"` // empty: what the air was at that minute
	LaunchRPM         units.Number `csv:"launch_rpm"          json:"launch_rpm,omitzero"`
	DelayS            units.Number `csv:"delay_s"             json:"delay_s,omitzero"`
	TyrePsi           units.Number `csv:"tyre_psi"            json:"tyre_psi,omitzero"`
	WaterTempF        units.Number `csv:"water_temp_f"        json:"water_temp_f,omitzero"`
	TrackTempF        units.Number `csv:"track_temp_f"        json:"track_temp_f,omitzero"`
	FullPower         string       `csv:"full_power"          json:"full_power,omitzero"                         oneof:"yes lifted braked spun broke"`
	FullPowerToFt     units.Number `csv:"full_power_to_ft"    json:"full_power_to_ft,omitzero"`
	Notes             string       `csv:"notes"               json:"notes,omitzero"`

	// Columns newer than the first files: a file gets each with its first value.
	Class     string       `csv:"class"          json:"class,omitzero"          oneof:"dial index heads-up test" later:"yes"`
	ClassName string       `csv:"class_name"     json:"class_name,omitzero"                                      later:"yes"`
	IndexS    units.Number `csv:"index_s"        json:"index_s,omitzero"                                         later:"yes"`
	Tree      units.Number `csv:"tree"           json:"tree,omitzero"                                            later:"yes"` // what the slip printed for a perfect light, s
	RacedFt   units.Number `csv:"raced_ft"       json:"raced_ft,omitzero"                                        later:"yes"` // how far the round was raced
	Driver    string       `csv:"driver"         json:"driver,omitzero"                                          later:"yes"`
	Bye       string       `csv:"bye"            json:"bye,omitzero"            oneof:"yes"                      later:"yes"`
	Buyback   string       `csv:"buyback"        json:"buyback,omitzero"        oneof:"yes"                      later:"yes"`
	Opponent  string       `csv:"opponent"       json:"opponent,omitzero"                                        later:"yes"`
	// OpponentBroke is yes, before it staged or, with its reaction, on the way; staged is on
	// the line, when both were.
	OpponentBroke string       `csv:"opponent_broke" json:"opponent_broke,omitzero" oneof:"yes staged"               later:"yes"`
	StopOnS       units.Number `csv:"stop_on_s"      json:"stop_on_s,omitzero"                                       later:"yes"` // throttle stop, from the launch
	StopOffS      units.Number `csv:"stop_off_s"     json:"stop_off_s,omitzero"                                      later:"yes"`
	StopRPM       units.Number `csv:"stop_rpm"       json:"stop_rpm,omitzero"                                        later:"yes"`
	TwoStepRPM    units.Number `csv:"two_step_rpm"   json:"two_step_rpm,omitzero"                                    later:"yes"`
	CrossoverS    units.Number `csv:"crossover_s"    json:"crossover_s,omitzero"                                     later:"yes"`
	Own           string       `csv:"own"            json:"own,omitzero"                                             later:"yes"` // cells of the racer's own columns, as jets=68; plug=ngk
	Source        string       `csv:"source"         json:"source,omitzero"                                          later:"yes"` // where the slip is from, when it was not typed
}

// Split is the time and speed printed at one distance.
type Split struct {
	Ft    float64
	ETS   units.Number
	MPH   units.Number
	Label string
}

// Splits lists the five timed distances in order, whether printed or not.
func (s Slip) Splits() []Split {
	return []Split{
		{60, s.ET60S, units.Number{}, "60 ft"},
		{330, s.ET330S, units.Number{}, "330 ft"},
		{660, s.ET660S, s.MPH660, "660 ft"},
		{1000, s.ET1000S, s.MPH1000, "1000 ft"},
		{1320, s.ET1320S, s.MPH1320, "1320 ft"},
	}
}

// Finish is the farthest split with a time; false when the slip has none.
func (s Slip) Finish() (Split, bool) {
	splits := s.Splits()
	for i := len(splits) - 1; i >= 0; i-- {
		if splits[i].ETS.Known() {
			return splits[i], true
		}
	}
	return Split{}, false
}

// Check refuses a slip that cannot be, judged alone: no run has such numbers.
func (s Slip) Check() error {
	if err := cmp.Or(s.possible(), refuseImpossible(&s)); err != nil {
		return err
	}
	return checkRecord(&s)
}

func (s Slip) possible() error {
	if s.Vehicle == "" {
		return fmt.Errorf("a slip needs its vehicle")
	}
	if s.Time.IsZero() {
		return fmt.Errorf("a slip needs its time")
	}
	var before Split
	for _, p := range s.Splits() {
		if p.ETS.Known() && !(p.ETS.Value() > 0) {
			return fmt.Errorf("%s time %v: want seconds, more than 0", p.Label, p.ETS)
		}
		if p.MPH.Known() && !(p.MPH.Value() > 0) {
			return fmt.Errorf("%s speed %v: want mph, more than 0", p.Label, p.MPH)
		}
		if p.ETS.Known() {
			if before.ETS.Known() && p.ETS.Value() <= before.ETS.Value() {
				return fmt.Errorf("%s %v is not later than %s %v: the times of a slip grow with the distance",
					p.Label, p.ETS, before.Label, before.ETS)
			}
			before = p
		}
	}
	if !before.ETS.Known() && !s.ReactionS.Known() {
		return fmt.Errorf("a slip needs at least one time: a reaction or a split")
	}
	for _, n := range []struct {
		what string
		v    units.Number
	}{
		{"dial", s.DialS},
		{"opponent's ET", s.OpponentETS},
		{"opponent's dial", s.OpponentDialS},
		{"opponent's speed", s.OpponentMPH},
	} {
		if n.v.Known() && !(n.v.Value() > 0) {
			return fmt.Errorf("%s %v: want more than 0", n.what, n.v)
		}
	}
	if f := s.FullPowerToFt; f.Known() && (f.Value() < 0 || f.Value() > 1320) {
		return units.Errorf("full power to %v: want 0 to %v", units.Length.Of(f.Value()), units.Length.Of(1320))
	}
	return nil
}
