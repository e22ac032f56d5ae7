package page

import (
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// stopMove says how to set a throttle stop, and what that rests on.
func stopMove(m crew.StopMove) string {
	why := fmt.Sprintf("a second of it costs %s, the usual till your runs tell", short(m.CostS, 2))
	if m.Learned {
		why = fmt.Sprintf("a second of it costs %s +/- %s, by your runs", short(m.CostS, 2), short(m.SDS, 2))
	}
	if m.ToS == 0 {
		return fmt.Sprintf("off is still over the index; %s", why)
	}
	return fmt.Sprintf("%.2f -> %.2f; %s", m.NowS, m.ToS, why)
}

// boxText is the delay as it was last set, by lane.
func boxText(box [2]units.Number) string {
	var said []string
	for i, lane := range []string{"L ", "R "} {
		if box[i].Known() {
			said = append(said, lane+Seconds(box[i]))
		}
	}
	return strings.Join(said, " ")
}
