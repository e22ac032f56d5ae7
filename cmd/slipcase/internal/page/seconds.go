package page

import (
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
)

// short is a time as it is said at the track: .097, -.012, 12.43.
func short(s float64, decimals int) string {
	text := fmt.Sprintf("%.*f", decimals, s)
	if rest, under := strings.CutPrefix(text, "-0."); under {
		return "-." + rest
	}
	if rest, under := strings.CutPrefix(text, "0."); under {
		return "." + rest
	}
	return text
}

// eightOf10 is the 80 % interval of a time, in hundredths.
func eightOf10(b crew.Band) string { return fmt.Sprintf("8 of 10 in %.2f-%.2f", b.Low80, b.High80) }
