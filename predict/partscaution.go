package predict

import (
	"fmt"
	"slices"
)

// DrivelineCaution goes with every added power.
const DrivelineCaution = "clutch, gearbox, driveshaft and axles bear what their makers say, not what the engine makes: a licensed shop if in doubt; testing is for a closed track"

// TyreCaution says that the fast end of a forecast is at or beyond the speed that
// a tyre is rated for, mph; "" when it is not.
func TyreCaution(ratingMPH float64, quick Splits) string {
	fastest := 0.
	for _, v := range quick.MPHs {
		fastest = max(fastest, v.Value())
	}
	if fastest < ratingMPH {
		return ""
	}
	return fmt.Sprintf("%.0f mph may be run, the tyres are rated for %.0f: no run on them; the tyre's maker and the rulebook in force say which may be used", fastest, ratingMPH)
}

// CautionsCrossed are the cautions of Cautions that a change brings: those for the
// quick splits after it that were not there before it.
func CautionsCrossed(m Machine, before, after Splits) []string {
	had := Cautions(m, before)
	fresh := slices.DeleteFunc(Cautions(m, after), func(c string) bool { return c != CautionsDefer && slices.Contains(had, c) })
	if len(fresh) == 1 {
		return nil // nothing but whom to defer to
	}
	return fresh
}
