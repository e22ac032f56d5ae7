package predict

import (
	"errors"
	"fmt"
	"math"

	"slipcase/weather/units"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// UsualRisk is the chance of breaking out that a dial is usually chosen for: common
// practice, no source.
const UsualRisk = 0.15

// Spread is a figure that varies from run to run by a normal law.
type Spread struct{ Mean, SD float64 }

// Reactions are those of a lane, after the perfect light, s: a normal law and, where they
// are written down, themselves. The law of the next is what was seen, shrunk to the normal
// one as by usualReactions of it.
type Reactions struct {
	Spread
	Seen []float64
}

// usualReactions: a normal law's red lights come back to one who had none (common practice,
// no source).
const usualReactions = 8

// Opponent is the other lane as far as it is known. Reactions are after the perfect
// light, s: 0 is perfect, less is red.
type Opponent struct {
	DialS    float64
	Reaction Reactions
	ET       Spread
}

// BreakoutChance is the chance that the next run is quicker than the dial, s, at a
// mark: the forecast's law of ln ET. A dial equalled is no breakout.
func (f *Forecast) BreakoutChance(m Mark, dialS float64) float64 {
	if !(dialS > 0) {
		return 0
	}
	return f.etLaw(m).CDF(math.Log(dialS))
}

// ETFor is the time, s, that the next run is quicker than with the wanted chance (0 to
// 1): the quantile of the law of BreakoutChance.
func (f *Forecast) ETFor(m Mark, chance float64) (float64, error) {
	if !(chance > 0 && chance < 1) {
		return 0, errors.New("a risk of breaking out is more than 0 and less than 100 in a hundred")
	}
	return math.Exp(f.etLaw(m).Quantile(chance)), nil
}

// DialFor is the dial, in whole hundredths as dials are given, whose chance to break out
// comes nearest to the wanted one (0 to 1): always the safer of the two about it would be
// half a hundredth too careful, a third of a steady car's spread.
func (f *Forecast) DialFor(m Mark, risk float64) (float64, error) {
	et, err := f.ETFor(m, risk)
	under := math.Floor(et*100+1e-9) / 100
	if over := under + 0.01; err == nil && f.BreakoutChance(m, over)-risk < risk-f.BreakoutChance(m, under) {
		under = math.Round(over*100) / 100
	}
	return under, err
}

// DeadOn is the dial that the forecast itself would be, in whole hundredths.
func (f *Forecast) DeadOn(m Mark) float64 { return math.Round(f.ETs[m].Centre*100) / 100 }

// sameWin is what two chances to win have in common that print as the same percent.
func sameWin(chance float64) float64 { return math.Round(100 * chance) }

// BestDial is the dial, in whole hundredths, that wins most by win, the chance to win
// with a dial, of those that all but one run in a hundred lies about. Where many win as
// much, to the percent, it is the one nearest to usual, s: against a lane that always
// loses a dial far too quick is no better.
func (f *Forecast) BestDial(m Mark, usual float64, win func(dialS float64) (float64, error)) (float64, error) {
	const most = 120 // are tried one by one, of more only some and those about the best
	low := max(1, int(100*math.Exp(f.etLaw(m).Quantile(0.005))))
	high := int(100*math.Exp(f.etLaw(m).Quantile(0.995))) + 1
	wins, best := map[int]float64{}, low
	try := func(from, to, step int) error {
		for k := max(1, from); k <= to; k += step {
			chance, err := win(float64(k) / 100)
			if err != nil {
				return err
			}
			if wins[k] = chance; chance > wins[best] {
				best = k
			}
		}
		return nil
	}
	near := int(math.Round(usual * 100))
	step := 1 + (high-low)/most
	err := errors.Join(try(near, near, 1), try(low, high, step))
	if err == nil && step > 1 {
		err = try(best-step, best+step, 1)
	}
	for k, chance := range wins {
		if sameWin(chance) == sameWin(wins[best]) && distance(k, near) < distance(best, near) {
			best = k
		}
	}
	return float64(best) / 100, err
}

// distance is how far two dials are apart; of two as far on both sides the quicker is
// taken for the nearer.
func distance(dial, from int) int {
	if dial > from {
		return 2*(dial-from) + 1
	}
	return 2 * (from - dial)
}

// mostDials is about how many dials are worth a look.
const mostDials = 9

// DialsAround are dials worth a look, s: from hardly any risk to one time in two, by
// even steps of hundredths, the wanted one among them.
func (f *Forecast) DialsAround(m Mark, wanted float64) (dials []float64) {
	law := f.etLaw(m)
	low, high := math.Exp(law.Quantile(0.02)), math.Exp(law.Quantile(0.5))
	// A far tail, as of an only run that may have been spoiled, does not widen the steps: of a
	// normal law 2 % lie nearer than this.
	low = math.Max(low, high-2.2*(high-math.Exp(law.Quantile(0.15))))
	low, high = math.Min(low, wanted), math.Max(high, wanted)
	step := math.Max(1, math.Ceil((high-low)*100/(mostDials-1)))
	middle := math.Round(wanted * 100)
	for k := -mostDials; k <= mostDials; k++ {
		if s := (middle + float64(k)*step) / 100; s > 0 && s > low-step/100 && s < high+step/100 {
			dials = append(dials, s)
		}
	}
	return dials
}

// TimeOver is how long, s, a length in ft takes at the speed over a mark; false where
// no speed is read there.
func (f *Forecast) TimeOver(m Mark, ft float64) (float64, bool) {
	mph := f.MPHs[m].Centre
	return ft / (mph * units.FtPerSPerMPH), mph > 0
}

// SlowerFor is by how much, s, every run must be slower for the wanted chance (0 to 1)
// of going under an index, s: 0 where it need not be.
func (f *Forecast) SlowerFor(m Mark, indexS, risk float64) (float64, error) {
	// Slower by a time is the same as an index lower by it.
	et, err := f.ETFor(m, risk)
	return math.Max(0, indexS-et), err
}

// ETSpread is the ET at a mark as a normal law that holds as much in the middle 80 %.
func (f *Forecast) ETSpread(m Mark) Spread {
	b := f.ETs[m]
	return Spread{Mean: b.Centre, SD: (b.High80 - b.Low80) / 2 / distuv.UnitNormal.Quantile(0.9)}
}

func (f *Forecast) etLaw(m Mark) marginal { return f.law.marginal(timeAt[m]) }

// WinChance is the chance to win a round at a mark with a dial, s (the index where
// the rules say so; heads-up it is not looked at), when neither lane lifts, brakes
// or crosses a boundary and the four figures vary on their own. It is Adjudicate
// averaged over the laws of the two reactions and the two ETs, by Gauss-Legendre
// quadrature in the probabilities, cut where a breakout begins; good to 0.001.
func (f *Forecast) WinChance(
	m Mark,
	rules RoundRules,
	reaction Reactions,
	dialS float64,
	other Opponent,
) (float64, error) {
	for _, s := range []Spread{reaction.Spread, other.Reaction.Spread, other.ET} {
		if !(s.SD > 0) || math.IsInf(s.SD, 0) || math.IsNaN(s.Mean) {
			return 0, fmt.Errorf("a spread of %g s is impossible: want a standard deviation above 0", s.SD)
		}
	}
	own := f.etLaw(m)
	d := duel{
		rules: rules, own: newLights(reaction), other: newLights(other.Reaction),
		x: limitedET{
			cdf:      func(et float64) float64 { return own.CDF(math.Log(math.Max(et, 1e-9))) },
			quantile: func(p float64) float64 { return math.Exp(own.Quantile(p)) },
			limit:    dialS,
		},
	}
	et := distuv.Normal{Mu: other.ET.Mean, Sigma: other.ET.SD}
	d.y = limitedET{cdf: et.CDF, quantile: et.Quantile, limit: other.DialS}
	if rules.Format == HeadsUp {
		d.x.limit, d.y.limit = 0, 0
	}
	return d.chance(), nil
}

// nodes of the quadrature on each piece of each law.
const nodes = 24

// duel is one lane's figures against the other's.
type duel struct {
	rules      RoundRules
	own, other lights
	x, y       limitedET
}

// limitedET is the law of an ET with its limit.
type limitedET struct {
	cdf, quantile func(float64) float64
	limit         float64
}

// over lists the amounts over the limit, or under it where under, as points with
// weights that sum to the chance of that side.
func (g limitedET) over(under bool) (amount, weight []float64) {
	cut := g.cdf(g.limit)
	from, to := cut, 1.
	if under {
		from, to = 0, cut
	}
	amount, weight = make([]float64, nodes), make([]float64, nodes)
	if to-from < 1e-12 {
		return nil, nil
	}
	quad.Legendre{}.FixedLocations(amount, weight, from, to)
	for i, p := range amount {
		amount[i] = g.quantile(p) - g.limit
	}
	return amount, weight
}

func (d duel) chance() float64 {
	win := (1 - d.own.red) * d.other.red
	if both := d.own.red * d.other.red; both > 1e-9 {
		win += both * d.bothRed()
	}
	if green := (1 - d.own.red) * (1 - d.other.red); green > 1e-9 {
		win += green * d.bothGreen()
	}
	return win
}

// bothRed is the chance to win when both are red: the less red wins, or the later
// to leave.
func (d duel) bothRed() float64 {
	behind := 0.
	if !d.rules.WorstRed && d.rules.Format != HeadsUp {
		behind = d.x.limit - d.y.limit // a longer dial leaves earlier
	}
	at, w := d.own.points(true)
	sum := 0.
	for i, r := range at {
		sum += w[i] * math.Min(d.other.before(math.Min(r-behind, 0)), d.other.red)
	}
	return sum / (d.own.red * d.other.red)
}

// bothGreen is the chance to win when both are green.
func (d duel) bothGreen() float64 {
	xo, wxo := d.x.over(false)
	yo, wyo := d.y.over(false)
	yu, wyu := d.y.over(true)
	sum := 0.
	for _, w := range wxo {
		for _, v := range wyu {
			sum += w * v // only the other lane breaks out
		}
	}
	for j, y := range yu {
		// Both break out, the lesser wins: own ET between its limit and as far
		// under it as the other lane.
		sum += wyu[j] * (d.x.cdf(d.x.limit) - d.x.cdf(d.x.limit+y))
	}
	first := d.firstGreen()
	for i, x := range xo {
		for j, y := range yo {
			sum += wxo[i] * wyo[j] * first(x-y)
		}
	}
	return sum
}

// firstGreen gives the chance that this lane's reaction is quicker than the other's
// by more than a lead, both green.
func (d duel) firstGreen() func(lead float64) float64 {
	at, w := d.own.points(false)
	return func(lead float64) float64 {
		sum := 0.
		for i, r := range at {
			sum += w[i] * (1 - math.Max(d.other.before(math.Max(r+lead, 0)), d.other.red))
		}
		return sum / ((1 - d.own.red) * (1 - d.other.red))
	}
}
