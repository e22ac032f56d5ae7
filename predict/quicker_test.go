package predict

import (
	"fmt"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"

	"slipcase/weather"
	"slipcase/weather/units"
)

// Where the fit takes a shorter way, it comes to what the plain one comes to.

// someRuns are of two setups, several to a day, with gaps, of different airs.
func someRuns() (runs []Pass) {
	start := time.Date(2025, 4, 5, 10, 0, 0, 0, time.UTC)
	for i := range 60 {
		p := Pass{
			ID: fmt.Sprint(i), Time: start.AddDate(0, 0, 9*(i/5)).Add(time.Duration(i%5) * time.Hour), Track: "home",
			Lane: []string{"left", "right"}[i%2], Air: weather.Standard, AirKnown: true, AirDoubtFt: 40,
			Machine: Machine{Kind: Car, Aspiration: Natural, Setup: fmt.Sprint(i / 40), WeightLb: units.Some(3400)},
		}
		if i%7 > 3 {
			p.Air.TempF, p.AirDoubtFt = 60+float64(i), 90
		}
		slow := 1 + 0.004*math.Sin(float64(5*i))
		for m, et := range [Marks]float64{1.9, 5.43, 8.41, 10.98, 13.21} {
			if i%6 != 2 || Mark(m) != At1000 {
				p.Splits.ETs[m] = units.Some(et * slow)
			}
		}
		p.Splits.MPHs[At660], p.Splits.MPHs[At1320] = units.Some(83.8/slow), units.Some(104.7/slow)
		if i%11 == 3 {
			p.Splits.ETs[At1320] = units.Some(14.4)
		}
		runs = append(runs, p)
	}
	return runs
}

func fitOf(t *testing.T, runs []Pass, next Pass) *fit {
	t.Helper()
	f, err := gather(runs, next, nextByRuns)
	if err != nil {
		t.Fatal(err)
	}
	ft, err := newFit(f)
	if err == nil {
		err = ft.average()
	}
	if err != nil {
		t.Fatal(err)
	}
	return ft
}

// A run whose whitening or run model is that of the run before it.
func TestWhatServesTwice(t *testing.T) {
	runs := someRuns()
	ft := fitOf(t, runs[:59], runs[59])
	shared := 0
	for i := range ft.samples {
		s := &ft.samples[i]
		e := ft.eras[s.era]
		if i > 0 && ft.whites[i].whitening == ft.whites[i-1].whitening {
			shared++
		}
		own := newWhitening(s, e, &ft.noise[s.era], ft.airOff).whiten(s)
		if own.seen != ft.whites[i].seen || own.laws != ft.whites[i].laws {
			t.Errorf("run %d: whitened\n%v, alone\n%v", i, ft.whites[i], own)
		}
		air, _ := ft.airOf(s.pass)
		model, err := e.car.runOf(s.pass, air)
		if y, _ := s.pass.Splits.logs(); err != nil || y.minus(model) != s.y {
			t.Errorf("run %d: %v against the run model, alone %v (%v)", i, s.y, y.minus(model), err)
		}
	}
	if shared < 10 || shared > 50 {
		t.Errorf("%d of %d runs share a whitening: the runs no longer try both", shared, len(ft.samples))
	}
}

// How surely a run is sound, each way that it may have gone summed up in logs.
func TestWeighInLogs(t *testing.T) {
	runs := someRuns()
	ft := fitOf(t, runs[:59], runs[59])
	for i := range ft.samples {
		s, w := ft.samples[i], &ft.whites[i]
		for _, scale := range []float64{1, 4} {
			var bias vec
			for c := range channels {
				bias[c] = -0.002 * float64(i%5)
			}
			bias = w.of(&bias)
			u := w.residuals(0, 0, &[laws]float64{}, &bias)
			density := s.weigh(w, &u, scale)
			var log [6]float64
			for k := range log {
				log[k] = s.sound[k]
				broken := false
				for j := range w.n {
					of, x := channelOf[w.channel[j]], u[j]/scale
					switch {
					case int(of.mark) < k:
						log[k] += -x*x/2 - math.Log(scale) - logRoot2Pi
					case !broken:
						broken = true
						log[k] += w.logSD[j] - math.Log(slowRange)
						if x < 0 != of.speed {
							log[k] += math.Log(fastSide)
						}
					default:
						log[k] -= math.Log(math.Pi * cauchyScale * (1 + x*x/(cauchyScale*cauchyScale)))
					}
				}
			}
			log[0] = logSum([]float64{log[0], s.sound[0] + w.spoilt.allAlong(w.whitening, &u)}) - math.Ln2
			all := logSum(log[:])
			for k, l := range log {
				if want := math.Exp(l - all); math.Abs(s.upTo[k]-want) > 1e-12 {
					t.Errorf("run %d, scale %g: sound up to %d with %.15g, want %.15g", i, scale, k, s.upTo[k], want)
				}
			}
			for j := range w.n {
				all -= w.logSD[j]
			}
			if math.Abs(density-all) > 1e-11*math.Abs(all) {
				t.Errorf("run %d, scale %g: log density %.15g, want %.15g", i, scale, density, all)
			}
		}
	}
}

// A run spoilt all along is Gaussian with two effects of its own: by the whole covariance.
func TestSpoiltAllAlong(t *testing.T) {
	runs := someRuns()
	ft := fitOf(t, runs[:59], runs[59])
	for i := range ft.samples {
		s, w := &ft.samples[i], &ft.whites[i]
		u, off := mat.NewVecDense(w.n, nil), vec{}
		cov := mat.NewSymDense(w.n, nil)
		for j := range w.n {
			off[j] = w.seen[j] + 0.3*float64(j%3)
			u.SetVec(j, off[j])
			for k := range j + 1 {
				v := badLaunch*badLaunch*w.launch[j]*w.launch[k] + sickEngine*sickEngine*w.engine[j]*w.engine[k]
				if j == k {
					loose := spoiltLoose * noiseMisfit[w.channel[j]] / w.sd[j]
					v += 1 + loose*loose
				}
				cov.SetSym(j, k, v)
			}
		}
		var chol mat.Cholesky
		var solved mat.VecDense
		if !chol.Factorize(cov) || chol.SolveVecTo(&solved, u) != nil {
			t.Fatal("not positive definite")
		}
		want := -(mat.Dot(u, &solved)+chol.LogDet())/2 - float64(w.n)*math.Log(2*math.Pi)/2
		got := w.spoilt.allAlong(w.whitening, &off)
		if math.Abs(got-want-math.Ln2) > 1e-6*math.Abs(want) && math.Abs(got-want-logFastAlong) > 1e-6*math.Abs(want) {
			t.Errorf("run %d of day %d: %.9g, want %.9g and the half", i, s.day, got, want)
		}
	}
}

// The drift's levels are what its walk has come to: days have in common what the steps up
// to the nearer of them bring, a walk that is straight between the ages, and what goes on
// evenly.
func TestWalkByItsLevels(t *testing.T) {
	start := time.Date(2020, 1, 1, 10, 0, 0, 0, time.UTC)
	var runs []Pass
	ages := []float64{0, 3, 20.5, 21, 50, 60, 61, 150, 200, 700, 800, 1500, 1600, 2500}
	for i, age := range ages {
		p := someRuns()[0]
		p.ID, p.Time, p.Day = fmt.Sprint(i), start.Add(-time.Duration(age*24)*time.Hour), fmt.Sprint(i)
		runs = append(runs, p)
	}
	next := runs[0]
	next.Time = start.Add(time.Minute)
	ft := fitOf(t, runs, next)
	first, n := biasAt(len(ft.eras))+2*ft.firstDrift, 2*(len(ft.levels)-ft.firstDrift)
	precision := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			precision.SetSym(i, j, ft.biases.precision.At(first+i, first+j))
		}
	}
	var cov mat.Dense
	if err := cov.Inverse(precision); err != nil {
		t.Fatal(err)
	}
	steps := func(age float64) (share []float64) {
		for k := 1; k < len(driftAges); k++ {
			from, to := driftAges[k-1], driftAges[k]
			share = append(share, math.Min(math.Max(age-from, 0), to-from)/(to-from))
		}
		return share
	}
	of := map[string]int{}
	for i := range ft.samples {
		of[ft.samples[i].pass.ID] = ft.samples[i].day
	}
	for i, a := range ages {
		for j, b := range ages {
			got := 0.
			for _, x := range ft.placed(ft.dayShares[of[fmt.Sprint(i)]]) {
				for _, y := range ft.placed(ft.dayShares[of[fmt.Sprint(j)]]) {
					got += x.by * y.by * cov.At(x.at-first, y.at-first)
				}
			}
			want := wear.launch * a / 30 * b / 30
			for k, x := range steps(a) {
				want += x * steps(b)[k] * drift.launch * (driftAges[k+1] - driftAges[k]) / 30
			}
			if math.Abs(got-want) > 1e-9*want {
				t.Errorf("days %g and %g old have %g in common, want %g", a, b, got, want)
			}
		}
	}
}

// What a run counts is how far the forecast follows it, the whole fit solved again.
func TestCountsBySolvingAgain(t *testing.T) {
	runs := someRuns()
	ft := fitOf(t, runs[:57], runs[57]) // of a day that has begun
	p, c := ft.likeliest(), timeAt[ft.finish]
	e, day := ft.eras[ft.nextEra], ft.dayOfNext()
	middle := func(p *posterior) float64 {
		air, _ := ft.airOf(ft.next)
		return p.load(e, ft.nextEra, ft.sensOf(e, ft.next, air, ft.runsOf(day)), day).mean[c]
	}
	was := middle(p)
	counts := map[string]float64{}
	for _, one := range ft.counts() {
		counts[one.ID] = one.Share
	}
	const by = 0.001
	for i := range ft.samples {
		s := &ft.samples[i]
		if _, sound := s.soundFt(); !sound {
			continue
		}
		kept := s.y
		for ch, of := range channelOf {
			s.y[ch] += by
			if of.speed {
				s.y[ch] -= 2 * by
			}
		}
		ft.whites[i] = ft.whites[i].whiten(s)
		ft.resum()
		moved, err := ft.biases.solve(ft.daySums(), p.luck)
		if err != nil {
			t.Fatal(err)
		}
		if want := (middle(moved) - was) / by; math.Abs(counts[s.pass.ID]-want) > 1e-8 {
			t.Errorf("run %s counts %.9f, solved again %.9f", s.pass.ID, counts[s.pass.ID], want)
		}
		s.y = kept
		ft.whites[i] = ft.whites[i].whiten(s)
	}
}
