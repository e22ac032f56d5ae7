package notebook

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// Role is what a column holds, by the word that its column has in the log.
type Role string

// The roles that are no column of a slip. Those with a question mark are settled by the
// values before anything is read.
const (
	Skip     Role = "skip"
	Note     Role = "note" // behind its heading in the notes of the slip
	Date     Role = "date" // with or without the time of day
	Clock    Role = "clock"
	Vehicle  Role = "vehicle"
	Track    Role = "track"
	WeightLb Role = "weight_lb"
	PowerHP  Role = "power_hp"
	RowMark  Role = "source_row" // what a row left out of an import was known by
	ownCells Role = "own"        // the racer's own columns, as an export has them: jets=68; plug=ngk
	anyET    Role = "et?"
	anyMPH   Role = "mph?"
	anyTime  Role = "time?" // a date, a time of day or an ET
	anyPress Role = "pressure?"
)

// roleField is a role with what its values can be, and where they go.
type roleField struct {
	role      Role
	kind      *units.Kind
	low, high float64 // of a figure, in the US unit
	slip      func(*crew.Slip) *units.Number
	air       func(*crew.Reading) *units.Number
	word      func(*crew.Slip) *string
}

func (f roleField) figure() bool {
	return f.slip != nil || f.air != nil || f.role == WeightLb || f.role == PowerHP
}

// what wheels, hands and instruments can have written down: wide, only to tell one column
// from another (common practice, no source).
var fields = []roleField{
	{role: "reaction_s", low: -2, high: 5, slip: func(s *crew.Slip) *units.Number { return &s.ReactionS }},
	{role: "et_60_s", low: 0.7, high: 5, slip: func(s *crew.Slip) *units.Number { return &s.ET60S }},
	{role: "et_330_s", low: 2, high: 14, slip: func(s *crew.Slip) *units.Number { return &s.ET330S }},
	{role: "et_660_s", low: 3, high: 22, slip: func(s *crew.Slip) *units.Number { return &s.ET660S }},
	{role: "mph_660", kind: &units.Speed, low: 25, high: 250, slip: func(s *crew.Slip) *units.Number { return &s.MPH660 }},
	{role: "et_1000_s", low: 3.6, high: 28, slip: func(s *crew.Slip) *units.Number { return &s.ET1000S }},
	{
		role: "mph_1000",
		kind: &units.Speed,
		low:  30,
		high: 340,
		slip: func(s *crew.Slip) *units.Number { return &s.MPH1000 },
	},
	{role: "et_1320_s", low: 4.2, high: 35, slip: func(s *crew.Slip) *units.Number { return &s.ET1320S }},
	{
		role: "mph_1320",
		kind: &units.Speed,
		low:  35,
		high: 340,
		slip: func(s *crew.Slip) *units.Number { return &s.MPH1320 },
	},
	{role: "dial_s", low: 3, high: 35, slip: func(s *crew.Slip) *units.Number { return &s.DialS }},
	{role: "index_s", low: 3, high: 35, slip: func(s *crew.Slip) *units.Number { return &s.IndexS }},
	{
		role: "opponent_reaction_s",
		low:  -2,
		high: 5,
		slip: func(s *crew.Slip) *units.Number { return &s.OpponentReactionS },
	},
	{role: "opponent_et_s", low: 3, high: 60, slip: func(s *crew.Slip) *units.Number { return &s.OpponentETS }},
	{role: "opponent_dial_s", low: 3, high: 35, slip: func(s *crew.Slip) *units.Number { return &s.OpponentDialS }},
	{
		role: "opponent_mph",
		kind: &units.Speed,
		low:  15,
		high: 340,
		slip: func(s *crew.Slip) *units.Number { return &s.OpponentMPH },
	},
	{role: "launch_rpm", low: 500, high: 20000, slip: func(s *crew.Slip) *units.Number { return &s.LaunchRPM }},
	{role: "two_step_rpm", low: 500, high: 20000, slip: func(s *crew.Slip) *units.Number { return &s.TwoStepRPM }},
	{role: "delay_s", low: 0, high: 5, slip: func(s *crew.Slip) *units.Number { return &s.DelayS }},
	{
		role: "tyre_psi",
		kind: &units.TyrePressure,
		low:  2,
		high: 60,
		slip: func(s *crew.Slip) *units.Number { return &s.TyrePsi },
	},
	{
		role: "water_temp_f",
		kind: &units.Temperature,
		low:  20,
		high: 280,
		slip: func(s *crew.Slip) *units.Number { return &s.WaterTempF },
	},
	{
		role: "track_temp_f",
		kind: &units.Temperature,
		low:  20,
		high: 200,
		slip: func(s *crew.Slip) *units.Number { return &s.TrackTempF },
	},

	{
		role: "temp_f",
		kind: &units.Temperature,
		low:  10,
		high: 130,
		air:  func(r *crew.Reading) *units.Number { return &r.TempF },
	},
	{
		role: "rh_pct",
		kind: &units.Percent,
		low:  1,
		high: 100,
		air:  func(r *crew.Reading) *units.Number { return &r.RHPct },
	},
	{
		role: "dew_point_f",
		kind: &units.Temperature,
		low:  -20,
		high: 90,
		air:  func(r *crew.Reading) *units.Number { return &r.DewPointF },
	},
	{
		role: "wet_bulb_f",
		kind: &units.Temperature,
		low:  0,
		high: 95,
		air:  func(r *crew.Reading) *units.Number { return &r.WetBulbF },
	},
	{
		role: "station_inhg",
		kind: &units.Pressure,
		low:  20,
		high: 31.5,
		air:  func(r *crew.Reading) *units.Number { return &r.StationInHg },
	},
	{
		role: "altimeter_inhg",
		kind: &units.Pressure,
		low:  28,
		high: 31.5,
		air:  func(r *crew.Reading) *units.Number { return &r.AltimeterInHg },
	},
	{
		role: "sea_level_inhg",
		kind: &units.Pressure,
		low:  28,
		high: 31.5,
		air:  func(r *crew.Reading) *units.Number { return &r.SeaLevelInHg },
	},
	{
		role: "wind_mph",
		kind: &units.Speed,
		low:  0,
		high: 60,
		air:  func(r *crew.Reading) *units.Number { return &r.WindMPH },
	},
	{
		role: "wind_from_deg",
		kind: &units.Degrees,
		low:  0,
		high: 360,
		air:  func(r *crew.Reading) *units.Number { return &r.WindFromDeg },
	},
	{
		role: "density_altitude_ft", kind: &units.Length, low: -5000, high: 16000,
		air: func(r *crew.Reading) *units.Number { return &r.DensityAltitudeFt },
	},

	{role: WeightLb, kind: &units.Weight, low: 200, high: 8000},
	{role: PowerHP, kind: &units.Power, low: 10, high: 5000},

	{role: "meet", word: func(s *crew.Slip) *string { return &s.Meet }},
	{role: "lane", word: func(s *crew.Slip) *string { return &s.Lane }},
	{role: "round", word: func(s *crew.Slip) *string { return &s.Round }},
	{role: "result", word: func(s *crew.Slip) *string { return &s.Result }},
	{role: "class_name", word: func(s *crew.Slip) *string { return &s.ClassName }},
	{role: "driver", word: func(s *crew.Slip) *string { return &s.Driver }},
	{role: "opponent", word: func(s *crew.Slip) *string { return &s.Opponent }},
	{role: ownCells, word: func(s *crew.Slip) *string { return &s.Own }},
	{role: "notes", word: func(s *crew.Slip) *string { return &s.Notes }},
	{role: Date},
	{role: Clock},
	{role: Vehicle},
	{role: Track},
	{role: Note},
	{role: Skip},
	{role: RowMark},
}

func fieldOf(r Role) roleField {
	i := slices.IndexFunc(fields, func(f roleField) bool { return f.role == r })
	if i < 0 {
		return roleField{role: r}
	}
	return fields[i]
}

// RoleNamed finds a role by its word, with or without its unit: et_1320 is et_1320_s. A column
// of the racer's own is own, or own:jets.
func RoleNamed(word string) (Role, error) {
	if r, own := ownRoleNamed(word); own {
		return r, r.checkOwn()
	}
	said := word
	word = strings.ToLower(strings.NewReplacer("-", "_", " ", "_").Replace(strings.TrimSpace(word)))
	switch word {
	case "reaction", "rt":
		return "reaction_s", nil
	case "time":
		return Clock, nil
	case "da", "density_altitude":
		return "density_altitude_ft", nil
	}
	for _, f := range fields {
		bare := string(f.role)
		for _, unit := range []string{"_s", "_f", "_pct", "_inhg", "_mph", "_deg", "_ft", "_lb", "_hp", "_psi", "_rpm"} {
			if cut, ok := strings.CutSuffix(bare, unit); ok && unit != "_mph" {
				bare = cut
			}
		}
		if word == string(f.role) || word == bare {
			return f.role, nil
		}
	}
	return "", fmt.Errorf("%q: want one of %s", said, strings.Join(roleNames(), ", "))
}

// roleNames are all roles, for messages.
func roleNames() (names []string) {
	for _, f := range fields {
		if f.role != RowMark {
			names = append(names, string(f.role))
		}
	}
	return names
}

// etMarks are the roles of the times down the strip, and those of their speeds.
var (
	etMarks    = []Role{"et_60_s", "et_330_s", "et_660_s", "et_1000_s", "et_1320_s"}
	speedMarks = map[Role]Role{"et_660_s": "mph_660", "et_1000_s": "mph_1000", "et_1320_s": "mph_1320"}
)
