package units

import "math"

// LbFtPerHPPerRPM turns power in hp into torque in lb-ft at an engine speed in
// rpm: torque = LbFtPerHPPerRPM x power / speed. It is 33,000/(2π), since a
// horsepower is 33,000 ft·lbf/min (NIST SP 811, B.8) and a turn 2π radians.
const LbFtPerHPPerRPM = 33000 / (2 * math.Pi)

// The kinds of quantity that are on dyno sheets and parts.
var (
	Torque = Kind{"torque", []unit{
		{"lb-ft", []string{"lbft", "ft-lb", "ftlb", "lb·ft", "ft·lb", "lbf-ft", "lbf·ft", "ft-lbs", "ftlbs"}, 1, 0, 0},
		{"Nm", []string{"n·m", "n-m"}, 1 / (newtonPerLbf * MetrePerFoot), 0, 0},
	}, true}
	Boost = Kind{"boost", []unit{
		{"psi", nil, 1, 0, 1},
		{"bar", nil, 1e5 / PascalPerPsi, 0, 2},
		{"kPa", nil, 1000 / PascalPerPsi, 0, 0},
		{"inHg", []string{"in"}, PascalPerInHg / PascalPerPsi, 0, 1},
	}, false}
	Diameter = Kind{"diameter", []unit{
		{"in", []string{`"`, "”", "″", "inch", "inches"}, 1, 0, 2},
		{"mm", nil, 1 / 25.4, 0, 0},
		{"cm", nil, 1 / 2.54, 0, 1},
	}, false}
	Ratio = Kind{"ratio", []unit{{":1", []string{"to1"}, 1, 0, 2}, {":1", nil, 1, 0, 2}}, false}
	Hours = Kind{"hours", []unit{{"h", []string{"hour", "hours"}, 1, 0, 1}, {"h", nil, 1, 0, 1}}, false}
)
