package predict_test

import "slipcase/weather/units"

func numb(v float64) units.Number { return units.Some(v) }
