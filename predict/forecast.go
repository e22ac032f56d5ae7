package predict

import (
	"math"
	"slices"

	"slipcase/weather/units"
)

// Band is a forecast figure: its centre, and the intervals that should hold it
// in 50, 80 and 95 runs of a hundred.
type Band struct {
	Centre                                      float64
	Low50, High50, Low80, High80, Low95, High95 float64
}

// Forecast is what the next run of a vehicle should be at full power.
type Forecast struct {
	ETs      [Marks]Band // s
	MPHs     [Marks]Band // mph over the last 66 ft; zero at 60 and 330 ft
	Finish   Mark        // the distance that the vehicle usually races to
	RunsUsed int         // earlier runs that count, wholly or up to a mark
	LeftOut  []LeftOut
	Basis    Basis
	Notes    []Note

	law      runLaw
	fit      *fit
	accounts []account
	proof    *proof // the last slip that was held against it
	slips    *trueSlips
}

// Forget drops the runs that the forecast was made from, of which there can be megabytes;
// its figures and notes stay.
func (f *Forecast) Forget() { f.fit, f.accounts, f.proof, f.slips = nil, nil, nil, nil }

// Expect forecasts the next run of one vehicle from the runs made before it: by
// the run model, calibrated on them. Without any it rests on Fox's formula for
// weight and power, and widely. The order of history does not matter; runs at or
// after next.Time do not count. Splits that next may hold are not looked at.
//
// A change of setup is carried by the run model and the stated weight and power,
// and widens the intervals by its size; a day not raced before is wider than a
// later run of the same day; how strongly the air works on this car is learned.
// Runs noted as not at full power count as far as they were; of the others, those
// out of line count by the chance that they were sound.
func Expect(history []Pass, next Pass) (Forecast, error) {
	return expectBy(history, next, nextByRuns)
}

// expectBy is Expect by so many of the latest runs.
func expectBy(history []Pass, next Pass, most int) (Forecast, error) {
	next.Splits = Splits{}
	f, err := gather(history, next, most)
	if err != nil {
		return Forecast{}, err
	}
	t, err := newFit(f)
	if err != nil {
		return Forecast{}, err
	}
	accounts, err := weighAccounts(t)
	if err != nil {
		return Forecast{}, err
	}
	for _, a := range accounts {
		if err := a.average(); err != nil {
			return Forecast{}, err
		}
	}
	return forecastBy(accounts)
}

// Again is Expect of another run from the same runs, where that fits the same to them:
// at the same moment or later on a day that has begun, at the same place, with the same
// machine. ok is false where it does not.
func (f *Forecast) Again(next Pass) (out Forecast, ok bool, err error) {
	if len(f.accounts) == 0 || !f.fit.fitsAs(&next) {
		return Forecast{}, false, nil
	}
	next.Splits = Splits{}
	out, err = forecastBy(accountsOf(f.accounts, next))
	return out, true, err
}

// fitsAs reports that the fit would be the same for another next run, made after all that
// it is fitted to.
func (t *fit) fitsAs(next *Pass) bool {
	was := t.next
	_, begun := t.days[next.dayKey()]
	begun = begun || next.Time.Equal(was.Time)
	after := !slices.ContainsFunc(t.samples, func(s sample) bool { return !s.pass.Time.Before(next.Time) }) &&
		!slices.ContainsFunc(t.untimed, func(p Pass) bool { return !p.Time.Before(next.Time) })
	read := slices.ContainsFunc(t.samples, func(s sample) bool { return s.pass.AirKnown })
	return begun && after && read && next.dayKey() == was.dayKey() && next.Machine == was.Machine &&
		next.First == was.First &&
		next.StopFromS == was.StopFromS && next.StopS == was.StopS
}

// accountsOf are accounts with another next run.
func accountsOf(accounts []account, next Pass) []account {
	accounts = slices.Clone(accounts)
	for i := range accounts {
		fit := *accounts[i].fit
		field := *fit.field
		field.next, fit.field, accounts[i].fit = &next, &field, &fit
	}
	return accounts
}

// forecastBy is the forecast that accounts of the runs give, the likeliest first.
func forecastBy(accounts []account) (Forecast, error) {
	t := accounts[0].fit
	l, err := lawOfAll(accounts)
	if err != nil {
		return Forecast{}, err
	}
	// That the gain of a setup not raced yet may not come widens its bands; their centre is
	// what it states, as of a change that is asked about.
	if !t.eras[t.nextEra].raced && t.nextEra > 0 {
		if l.mean, err = asStated(accounts); err != nil {
			return Forecast{}, err
		}
	}
	out := Forecast{Finish: t.finish, law: l, fit: t, accounts: accounts}
	tails := l.tails()
	for c, of := range channelOf {
		b := l.bandOf(c, tails)
		if of.speed {
			out.MPHs[of.mark] = b
		} else {
			out.ETs[of.mark] = b
		}
	}
	out.report()
	out.Notes = append(out.Notes, noticed(accounts)...)
	return out, nil
}

// Centre are the centres of the bands as a slip would have them.
func (f *Forecast) Centre() Splits {
	return f.splitsOf(func(b Band, _ bool) float64 { return b.Centre })
}

// Quick is the quick end of the 95 % bands: what safety equipment goes by.
func (f *Forecast) Quick() Splits {
	return f.splitsOf(func(b Band, speed bool) float64 {
		if speed {
			return b.High95
		}
		return b.Low95
	})
}

func (f *Forecast) splitsOf(of func(b Band, speed bool) float64) (s Splits) {
	for m := range Marks {
		s.ETs[m] = units.Some(of(f.ETs[m], false))
		if speedAt[m] >= 0 {
			s.MPHs[m] = units.Some(of(f.MPHs[m], true))
		}
	}
	return s
}

// report says what the forecast rests on.
func (f *Forecast) report() {
	t := f.fit
	same := 0
	for i := range t.samples {
		s := &t.samples[i]
		if _, some := s.soundFt(); some {
			f.RunsUsed++
			if t.eras[s.era].machine.sameEra(t.next.Machine) {
				same++
			}
		}
	}
	f.LeftOut = t.allLeftOut()
	f.Basis = t.restsOn(f.RunsUsed, same)
	f.Notes = t.notes(f.RunsUsed, same)
}

// Basis is what a forecast rests on.
type Basis struct {
	Kind            BasisKind
	Formula         string  // FromFormula: its name
	LowerBy         float64 // FromFormula: the share that road cars ran under it, taken off
	Changed         bool    // FromFormula: those of its first setup, and the run model's change since
	Runs, SameSetup int     // FromRuns: how many, and how many of them with this setup
}

// BasisKind says what a forecast rests on.
type BasisKind string

// The bases.
const (
	FromFormula BasisKind = "formula" // for weight and power: no run yet
	FromKind    BasisKind = "kind"    // what its kind runs: no run, and weight or power not known
	FromRuns    BasisKind = "runs"    // the run model fitted to them
)

func (t *fit) restsOn(used, same int) Basis {
	m := t.next.Machine
	_, power := m.clutchHP()
	_, weight := m.knownWeightLb()
	switch {
	case used > 0:
		return Basis{Kind: FromRuns, Runs: used, SameSetup: same}
	case power && weight:
		return Basis{Kind: FromFormula, Formula: Fox.Name, LowerBy: 1 - formulaRunsSlow, Changed: t.nextEra > 0}
	}
	return Basis{Kind: FromKind}
}

// farFromRaced is how far, in ft of density altitude, the air may lie outside
// what the car has raced in before the forecast says so.
const (
	farFromRacedFt = 1000
	doubtfulAirFt  = 200
)

func (t *fit) notes(used, same int) (notes []Note) {
	add := func(n Note) { notes = append(notes, n) }
	m := t.next.Machine
	_, power := m.clutchHP()
	if _, weight := m.knownWeightLb(); !weight {
		add(Note{Kind: NoWeight})
	}
	switch {
	case power:
		notes = append(notes, m.StatedPower().Assumed(t.next.AirKnown || t.next.airAssumed())...)
	case used == 0:
		add(Note{Kind: NoPower})
	}
	switch {
	case used == 0 || same > 0:
	case t.eras[t.nextEra].change.forPower:
		add(Note{Kind: NewForPower})
	default:
		add(Note{Kind: NewSetup})
	}
	if kind := t.firstOfStop(); kind != "" {
		add(Note{Kind: kind})
	}
	switch {
	case t.next.airAssumed():
		add(Note{Kind: AirAssumed})
	case !t.next.AirKnown:
		add(Note{Kind: AirOfRuns})
	case t.next.AirDoubtFt > doubtfulAirFt:
		add(Note{Kind: AirUncertain, AirFt: t.next.AirDoubtFt})
	}
	if raced, some := t.airs(func(*sample) bool { return true }); some && t.next.AirKnown {
		da := t.next.Air.DensityAltitudeFt()
		if da < raced.Low-farFromRacedFt || da > raced.High+farFromRacedFt {
			add(Note{Kind: AirUnlike, AirFt: da, RacedFt: raced})
		}
	}
	unlike := len(notes) > 0 && notes[len(notes)-1].Kind == AirUnlike
	if m.Aspiration == Turbocharged && (unlike || used == 0 && t.next.AirKnown) {
		note := Note{Kind: BoostDecides, Held: m.BoostHeld, Psi: m.BoostPsi, Share: m.Breathing().PowerRatio(t.next.Air)}
		if m.BoostHeld == "" {
			note.Kind = BoostUntold
		}
		add(note)
	}
	airless := 0
	for i := range t.samples {
		if !t.samples[i].pass.AirKnown {
			airless++
		}
	}
	if airless > 0 {
		add(Note{Kind: AirlessRuns, Runs: airless})
	}
	return notes
}

// airs is the range of density altitude, ft, of some of the runs.
func (t *fit) airs(of func(*sample) bool) (span Span, some bool) {
	span = Span{math.Inf(1), math.Inf(-1)}
	for i := range t.samples {
		if s := &t.samples[i]; s.pass.AirKnown && of(s) {
			da := s.pass.Air.DensityAltitudeFt()
			span, some = Span{math.Min(span.Low, da), math.Max(span.High, da)}, true
		}
	}
	return span, some
}

// median is false when there is nothing to take it of.
func median(values []float64) (float64, bool) {
	n := len(values)
	if n == 0 {
		return 0, false
	}
	s := slices.Sorted(slices.Values(values))
	return (s[(n-1)/2] + s[n/2]) / 2, true
}

// robustSD is the standard deviation of a normal law of which half lies as near the middle as
// half of the values, given by how far they are off it: 1/Φ⁻¹(3/4) times their median size; 0 of
// none.
func robustSD(off []float64) float64 {
	sizes := make([]float64, len(off))
	for i, d := range off {
		sizes[i] = math.Abs(d)
	}
	half, _ := median(sizes)
	return 1.4826 * half
}
