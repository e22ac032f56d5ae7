package crew

import (
	"fmt"
	"strings"
	"time"
)

// NextRound is the round that comes after that of the last slip: E2 after an E1 that was not
// lost, on the same day; "" where it does not tell.
func NextRound(last Slip, result string, at time.Time) string {
	letters := strings.TrimRight(last.Round, "0123456789")
	if letters == "" || letters == last.Round || result == "lost" || result == "dq" ||
		!sameDate(last.Time.Time, at) {
		return ""
	}
	var n int
	fmt.Sscan(last.Round[len(letters):], &n)
	return fmt.Sprintf("%s%d", letters, n+1)
}
