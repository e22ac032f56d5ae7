package season

import (
	"math"

	"slipcase/predict"
	"slipcase/predict/season/powertrain"
)

// Limit is what holds a vehicle back in the launch.
type Limit int

// The limits. A converter is told apart from torque through a clutch or a gear.
const (
	Tires     = Limit(powertrain.TireLimit)
	Wheelie   = Limit(powertrain.WheelieLimit)
	Torque    = Limit(powertrain.TorqueLimit)
	Converter = Limit(powertrain.ConverterLimit)
	// AnyLimit leaves it to the draw.
	AnyLimit Limit = -1
)

func (l Limit) String() string {
	if l == AnyLimit {
		return "any"
	}
	return [...]string{"tires", "wheelie", "torque", "converter"}[l]
}

// limitOf tells it of a vehicle of the first simulator, by what its 60 ft time answers
// to: its grip, its torque, or neither.
func limitOf(m *machine) Limit {
	const by = 0.02
	base := m.run(standardAir, effects{}).et[predict.At60]
	grip := math.Log(m.run(standardAir, effects{grip: -by}).et[predict.At60]/base) / by
	torque := math.Log(m.run(standardAir, effects{power: -by}).et[predict.At60]/base) / by
	switch {
	case grip > torque && grip > 0.2:
		return Tires
	case torque < 0.2:
		return Wheelie
	case m.multiply > 1:
		return Converter
	}
	return Torque
}
