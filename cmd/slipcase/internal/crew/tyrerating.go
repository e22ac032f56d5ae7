package crew

import "slipcase/weather/units"

// What a tire is rated for, mph: from the least that makers state to above the fastest run of
// anything on wheels that races a quarter mile (common practice, no source).
const leastTyresMPH, mostTyresMPH = 50, 350

// CheckTyres refuses a speed that no tire is rated for; one that is not known is none.
func CheckTyres(mph units.Number) error {
	if mph.Known() && !(mph.Value() >= leastTyresMPH && mph.Value() <= mostTyresMPH) {
		return outside("tire-rating", "want %s, as the tire's maker says it",
			units.InWholes{Span: units.Speed.Between(leastTyresMPH, mostTyresMPH)})
	}
	return nil
}
