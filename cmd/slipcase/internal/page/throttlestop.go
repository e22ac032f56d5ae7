package page

import (
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// stopSets says how to set a throttle stop for the risk and dead on, and what that rests on.
func (p *Page) stopSets(m crew.StopMove) string {
	why := fmt.Sprintf("a second costs %s, the usual till your runs tell", short(m.CostS, 2))
	if m.Learned {
		why = fmt.Sprintf("a second costs %s +/- %s, by your runs", short(m.CostS, 2), short(m.SDS, 2))
	}
	if m.DeadOn.OnS == 0 {
		return "off is still over the index; " + why
	}
	set := func(s crew.StopSet) string {
		return fmt.Sprintf("%.2f for %.2f, %s", s.OnS, s.ETS, p.shareUnder(s.Under))
	}
	text := set(m.DeadOn)
	if m.ForRisk.OnS > m.DeadOn.OnS {
		text = set(m.ForRisk) + " | " + text
	}
	return text + "; " + why
}

// stopTurn says how the stop is to be turned for the risk.
func (p *Page) stopTurn(m crew.StopMove) string {
	switch by := m.ForRisk.OnS - m.NowS; {
	case m.ForRisk.OnS == 0:
		return "turn the stop off"
	case by > 0.005 && m.DeadOn.OnS < m.NowS: // over the index, and yet too likely under it
		return fmt.Sprintf("put %s on, %.2f -> %.2f, for %s", short(by, 2), m.NowS, m.ForRisk.OnS, p.shareUnder(m.ForRisk.Under))
	case by > 0.005:
		return fmt.Sprintf("put %s on the stop, %.2f -> %.2f", short(by, 2), m.NowS, m.ForRisk.OnS)
	case by < -0.005:
		return fmt.Sprintf("take %s off the stop, %.2f -> %.2f", short(-by, 2), m.NowS, m.ForRisk.OnS)
	}
	return fmt.Sprintf("leave the stop at %.2f", m.NowS)
}

// atIndex says where the forecast is from an index, and what to do about it.
func (p *Page) atIndex(d crew.OneDial, etS, slowerS, riskPct float64, stop *crew.StopMove) string {
	if stop == nil {
		return p.underIndex(d, slowerS, riskPct)
	}
	over := fmt.Sprintf("%s over", short(etS-d.DialS, 3))
	if etS < d.DialS {
		over = fmt.Sprintf("%s under", short(d.DialS-etS, 3))
	}
	return fmt.Sprintf("forecast %.3f, %s: %s", etS, over, p.stopTurn(*stop))
}

// shareUnder is a chance to go under an index.
func (p *Page) shareUnder(chance float64) string {
	return strings.Replace(p.Share(chance), "under", "less than", 1) + " under"
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
