package predict

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"slipcase/weather"
)

// dense is the same model as one Gaussian over all runs' channels: the textbook
// covariance form (any mixed-model text), by gonum, without the whitening, the
// day-by-day elimination or the precision form of mixedmodel.go.
type dense struct {
	load, cov *mat.Dense // of the unknowns in the observations; of the observations
	y         []float64
}

// coreField makes two eras, three days and a few runs with gaps.
func coreField(t *testing.T) *fit {
	t.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	f := &field{next: new(Pass), finish: At1320, days: map[string]int{"a": 0, "b": 1, "c": 2}, belief: prior2{0.17, 0.25}}
	for i := range 2 {
		e := &era{car: vehicle{model: threeCars[i]}, change: eraChange{power: 0.1}}
		f.eras = append(f.eras, e)
	}
	if err := differentiate(f.eras, weather.Standard, f.finish); err != nil {
		t.Fatal(err)
	}
	for i := range 14 {
		s := sample{pass: new(Pass), era: i / 8, day: i % 3}
		for c := range channels {
			s.y[c] = 0.01 * r.NormFloat64()
			s.laws[lawOfAir][c] = 0.02 * r.NormFloat64()
			s.laws[lawOfWind][c] = 0.01 * r.NormFloat64()
			s.doubt[c] = 0.0005
			s.has[c] = i%4 != 1 || c != 3
			s.weight[c] = 1
		}
		f.samples = append(f.samples, s)
	}
	f.levels = []level{{launch: 2e-5, engine: 1e-5}, {3e-6, 4e-6, true}}
	f.dayShares = [][]dayShare{{{0, 1}, {1, 0.3}}, {{0, 1}}, {{1, 1}}}
	f.prior[7] = 0.01
	ft := &fit{field: f}
	var err error
	if ft.biases, err = newBelievedBiases(f); err != nil {
		t.Fatal(err)
	}
	ft.resetNoise()
	ft.whiten()
	return ft
}

// observe stacks the samples.
func observe(f *fit, l luck) dense {
	var rows [][]float64
	var d dense
	type at struct{ sample, channel int }
	var of []at
	for i := range f.samples {
		s := &f.samples[i]
		for c := range channels {
			if !s.has[c] {
				continue
			}
			row := make([]float64, f.biases.dim)
			row[lawOfAir], row[lawOfWind], row[biasAt(s.era)+c] = s.laws[lawOfAir][c], s.laws[lawOfWind][c], 1
			for _, l := range f.placed(f.dayShares[s.day]) {
				row[l.at] += l.by * f.eras[s.era].launch[c]
				row[l.at+1] += l.by * f.eras[s.era].engine[c]
			}
			rows = append(rows, row)
			d.y = append(d.y, s.y[c])
			of = append(of, at{i, c})
		}
	}
	n := len(rows)
	d.load, d.cov = mat.NewDense(n, f.biases.dim, nil), mat.NewDense(n, n, nil)
	for i, a := range of {
		d.load.SetRow(i, rows[i])
		for j, b := range of {
			sa, sb := &f.samples[a.sample], &f.samples[b.sample]
			ea, eb := f.eras[sa.era], f.eras[sb.era]
			v := 0.
			if a.sample == b.sample {
				v += f.noise[sa.era][a.channel][b.channel] + sa.doubt[a.channel]*sb.doubt[b.channel]
			}
			if sa.day == sb.day {
				v += l.launch*ea.launch[a.channel]*eb.launch[b.channel] + l.engine*ea.engine[a.channel]*eb.engine[b.channel]
			}
			d.cov.Set(i, j, v)
		}
	}
	return d
}

func TestCoreAgainstTheDenseGaussian(t *testing.T) {
	f := coreField(t)
	l := luck{0.002 * 0.002, 0.003 * 0.003}
	p, err := f.biases.solve(f.daySums(), l)
	if err != nil {
		t.Fatal(err)
	}
	d := observe(f, l)
	n, dim := len(d.y), f.biases.dim
	// Prior covariance and mean of the unknowns.
	var prior mat.Dense
	if err := prior.Inverse(f.biases.precision); err != nil {
		t.Fatal(err)
	}
	var mean mat.VecDense
	mean.MulVec(&prior, mat.NewVecDense(dim, f.biases.pull))
	// Marginal of the observations: load prior load' + cov.
	var lp, marginal mat.Dense
	lp.Mul(d.load, &prior)
	marginal.Mul(&lp, d.load.T())
	marginal.Add(&marginal, d.cov)
	residual := mat.NewVecDense(n, append([]float64(nil), d.y...))
	var fitted mat.VecDense
	fitted.MulVec(d.load, &mean)
	residual.SubVec(residual, &fitted)
	var solved, gain mat.VecDense
	if err := solved.SolveVec(&marginal, residual); err != nil {
		t.Fatal(err)
	}
	gain.MulVec(lp.T(), &solved)
	for i := range dim {
		if want := mean.AtVec(i) + gain.AtVec(i); math.Abs(p.mean[i]-want) > 1e-8 {
			t.Fatalf("unknown %d: %.10f, dense %.10f", i, p.mean[i], want)
		}
	}
	// The evidence, up to a constant: differences between two guesses at the luck.
	evidence := func(l luck) (core, full float64) {
		q, err := f.biases.solve(f.daySums(), l)
		if err != nil {
			t.Fatal(err)
		}
		o := observe(f, l)
		var m mat.Dense
		m.Mul(&lp, o.load.T())
		m.Add(&m, o.cov)
		sym := mat.NewSymDense(n, nil)
		for i := range n {
			for j := i; j < n; j++ {
				sym.SetSym(i, j, m.At(i, j))
			}
		}
		var chol mat.Cholesky
		if !chol.Factorize(sym) {
			t.Fatal("not positive definite")
		}
		var x mat.VecDense
		if err := chol.SolveVecTo(&x, residual); err != nil {
			t.Fatal(err)
		}
		return q.evidence, -0.5 * (chol.LogDet() + mat.Dot(residual, &x))
	}
	a, fullA := evidence(l)
	b, fullB := evidence(luck{0.005 * 0.005, 0.001 * 0.001})
	if math.Abs((a-b)-(fullA-fullB)) > 1e-6 {
		t.Errorf("evidence differs by %.8f, dense %.8f", a-b, fullA-fullB)
	}
	// A run to come, on a day seen: conditional Gaussian of one more observation.
	e, sens := f.eras[1], [laws]vec{{0.01, 0, 0.02, 0, 0, 0, 0, 0.015}, {7: 0.004}}
	got, cov := p.predict(e, 1, sens, 2)
	cross := mat.NewVecDense(n, nil)
	row := mat.NewVecDense(dim, nil)
	row.SetVec(lawOfAir, sens[lawOfAir][7])
	row.SetVec(lawOfWind, sens[lawOfWind][7])
	row.SetVec(biasAt(1)+7, 1)
	for _, l := range f.placed(f.dayShares[2]) {
		row.SetVec(l.at, l.by*e.launch[7])
		row.SetVec(l.at+1, l.by*e.engine[7])
	}
	cross.MulVec(&lp, row)
	k := 0
	for i := range f.samples {
		s := &f.samples[i]
		for c := range channels {
			if !s.has[c] {
				continue
			}
			if s.day == 2 {
				o := f.eras[s.era]
				cross.SetVec(k, cross.AtVec(k)+l.launch*e.launch[7]*o.launch[c]+l.engine*e.engine[7]*o.engine[c])
			}
			k++
		}
	}
	var w mat.VecDense
	if err := w.SolveVec(&marginal, cross); err != nil {
		t.Fatal(err)
	}
	want := mat.Dot(row, &mean) + mat.Dot(&w, residual)
	wantVar := mat.Inner(
		row,
		&prior,
		row,
	) + l.launch*e.launch[7]*e.launch[7] + l.engine*e.engine[7]*e.engine[7] - mat.Dot(
		&w,
		cross,
	)
	if math.Abs(got[7]-want) > 1e-8 || math.Abs(cov[7][7]/wantVar-1) > 1e-5 {
		t.Errorf("forecast %.9f ± %.9f, dense %.9f ± %.9f", got[7], math.Sqrt(cov[7][7]), want, math.Sqrt(wantVar))
	}
}

// What a posterior says of a run, and of a day not seen, is load' C load with its whole
// load, solved by the factor.
func TestPredictAgainstItsLoad(t *testing.T) {
	f := coreField(t)
	f.biases.ahead = []dayShare{{at: biasAt(2), by: 1}, {at: biasAt(2) + 2, by: 0.4}}
	p, err := f.biases.solve(f.daySums(), luck{0.002 * 0.002, 0.003 * 0.003})
	if err != nil {
		t.Fatal(err)
	}
	told := [laws]vec{{0.01, 0, 0.02, 0, 0, 0, 0, 0.015}, {7: 0.004}}
	all := told
	all[lawOfLane], all[lawOfHeat] = vec{0: 0.5, 7: 0.2}, vec{3: 0.1}
	for way := range 8 {
		day, sens := way/2-1, told
		if way%2 == 0 {
			sens = all
		}
		for at, e := range f.eras {
			mean, cov := p.predict(e, at, sens, day)
			many := cov
			if day >= 0 && sens == told {
				many = p.predictCov(e, at, sens, day)
			}
			x := p.load(e, at, sens, day)
			if mean != x.mean {
				t.Errorf("day %d, era %d: mean %v, by its load %v", day, at, mean, x.mean)
			}
			solved := mat.DenseCopyOf(x.load)
			p.factor.solve(solved)
			var want mat.Dense
			want.Mul(x.load.T(), solved)
			for i := range channels {
				for j := range channels {
					w := want.At(i, j) + e.launch[i]*(x.dayCov[0][0]*e.launch[j]+x.dayCov[0][1]*e.engine[j]) +
						e.engine[i]*(x.dayCov[1][0]*e.launch[j]+x.dayCov[1][1]*e.engine[j])
					for way, got := range map[string]float64{"by half the factor": cov[i][j], "by the covariance": many[i][j]} {
						if math.Abs(got-w) > 1e-9*math.Sqrt(cov[i][i]*cov[j][j]) {
							t.Errorf("day %d, era %d, channels %d and %d %s: %g, by the load %g", day, at, i, j, way, got, w)
						}
					}
				}
			}
		}
	}
}

// The covariance is the inverse of the precision.
func TestFactor(t *testing.T) {
	f := coreField(t)
	n := f.biases.dim
	of, ok := newFactor(mat.NewSymDense(n, append([]float64(nil), f.biases.precision.RawSymmetric().Data...)))
	if !ok {
		t.Fatal("not positive definite")
	}
	var one mat.Dense
	one.Mul(of.sym(), mat.NewDense(n, n, of.inverse()))
	for i := range n {
		for j := range n {
			want := 0.
			if i == j {
				want = 1
			}
			if math.Abs(one.At(i, j)-want) > 1e-8 {
				t.Errorf("row %d, column %d: %g", i, j, one.At(i, j))
			}
		}
	}
	var chol mat.Cholesky
	chol.Factorize(f.biases.precision)
	if got, want := of.logDet(), chol.LogDet(); math.Abs(got-want) > 1e-9*math.Abs(want) {
		t.Errorf("log of the determinant %g, by gonum %g", got, want)
	}
}
