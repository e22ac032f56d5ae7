package notebook

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

var thousands = pattern.Of(
	`(x|×|\*|·) ?(1[., ]?000|10\^?3|10³)|/ ?1[., ]?000|1[., ]?000 ?(x|×|\*|rpm|1/min|u/min|tr/min)|\bkrpm|\btsd`,
)

// columns settles what the columns are.
func (r *pullReader) columns() error {
	r.rpm, r.power, r.torque = -1, -1, -1
	understood := make([]pullHead, len(r.heads))
	var powers, torques []int
	for i, head := range r.heads {
		h := headOf(head)
		understood[i] = h
		switch h.kind {
		case speedColumn:
			if r.rpm < 0 || clutchWords.MatchString(h.text) && !clutchWords.MatchString(understood[r.rpm].text) {
				r.rpm = i
			}
		case powerColumn:
			powers = append(powers, i)
		case torqueColumn:
			torques = append(torques, i)
		}
	}
	if r.rpm < 0 {
		return fmt.Errorf(
			"no column for the engine speed among %q: want one headed rpm",
			clipText(strings.Join(r.heads, ", ")),
		)
	}
	r.thousand = thousands.MatchString(understood[r.rpm].text)
	r.out.RPM = crew.PulledColumn{Head: r.heads[r.rpm], Unit: "rpm"}
	if len(powers)+len(torques) == 0 {
		return fmt.Errorf("neither power nor torque among the columns %q: want one headed as hp, kW, PS, lb-ft or Nm",
			clipText(strings.Join(r.heads, ", ")))
	}
	if err := r.choosePower(powers, understood); err != nil {
		return err
	}
	r.chooseTorque(torques, understood)
	return r.settleUnits(understood)
}

// choosePower takes the column that is asked for, or the only one; one figure in two units
// counts once.
func (r *pullReader) choosePower(powers []int, heads []pullHead) error {
	all := powers
	if r.ask.Column != "" {
		want := plainLetters(r.ask.Column)
		exact := slices.DeleteFunc(slices.Clone(all), func(i int) bool { return heads[i].text != want })
		if powers = exact; len(exact) == 0 {
			powers = slices.DeleteFunc(
				slices.Clone(all),
				func(i int) bool { return !strings.Contains(heads[i].text, want) },
			)
		}
	} else if r.ask.At != "" {
		powers = slices.DeleteFunc(slices.Clone(all), func(i int) bool { return heads[i].at != r.ask.At })
		if len(powers) == 0 {
			powers = slices.DeleteFunc(slices.Clone(all), func(i int) bool { return heads[i].at != "" })
		}
	}
	if len(powers) == 0 && len(all) == 0 {
		return nil // torque alone
	}
	if len(powers) > 1 {
		powers = slices.DeleteFunc(
			slices.Clone(powers),
			func(i int) bool { return i != powers[0] && r.same(powers[0], i, heads) },
		)
	}
	if len(powers) != 1 {
		e := &crew.PowerColumns{}
		for _, i := range all {
			e.Columns = append(e.Columns, crew.PulledColumn{Head: r.heads[i], Unit: heads[i].unit, At: heads[i].at})
		}
		return e
	}
	r.power = powers[0]
	for _, i := range all {
		if i != r.power {
			r.out.Others = append(r.out.Others, r.heads[i])
		}
	}
	return nil
}

// same reports two columns of one figure in two units.
func (r *pullReader) same(a, b int, heads []pullHead) bool {
	if heads[a].unit == heads[b].unit || heads[a].times == 0 || heads[b].times == 0 {
		return false
	}
	off := r.misfit(func(row []Field) (float64, float64, bool) {
		x, ok := r.g.amountOf(row[a])
		y, ok2 := r.g.amountOf(row[b])
		return x.v * heads[a].times, y.v * heads[b].times, ok && ok2
	})
	return off < 0.01
}

// misfit is the median of how far two figures of a row are apart, as a share; infinite
// without any.
func (r *pullReader) misfit(of func(row []Field) (a, b float64, ok bool)) float64 {
	var off []float64
	for _, row := range r.g.Rows[r.from:] {
		if a, b, ok := of(row); ok && a > 0 && b > 0 {
			off = append(off, math.Abs(a/b-1))
		}
	}
	if len(off) == 0 {
		return math.Inf(1)
	}
	slices.Sort(off)
	return off[len(off)/2]
}

// agrees is how well power and torque agree in some units.
func (r *pullReader) agrees(power, torque int, powerTimes, torqueTimes float64) float64 {
	rows, rpm := r.speeds()
	at := map[int]float64{}
	for i, row := range rows {
		at[row] = rpm[i]
	}
	i := r.from - 1
	return r.misfit(func(row []Field) (float64, float64, bool) {
		i++
		p, ok := r.g.amountOf(row[power])
		t, ok2 := r.g.amountOf(row[torque])
		return p.v * powerTimes, t.v * torqueTimes * at[i] / units.LbFtPerHPPerRPM, ok && ok2
	})
}

// chooseTorque takes the only column; of several the one that agrees with the power.
func (r *pullReader) chooseTorque(torques []int, heads []pullHead) {
	if r.power < 0 || len(torques) == 1 && len(r.out.Others) == 0 {
		if len(torques) > 0 {
			r.torque = torques[0]
		}
		return
	}
	best := 0.01
	for _, i := range torques {
		if off := r.agrees(r.power, i, heads[r.power].times, heads[i].times); off < best {
			r.torque, best = i, off
		}
	}
}

// settleUnits takes the units that the headings say; where one is missing, those in which
// power and torque agree.
func (r *pullReader) settleUnits(heads []pullHead) error {
	var p, t pullHead
	if r.power >= 0 {
		p = heads[r.power]
	}
	if r.torque >= 0 {
		t = heads[r.torque]
	}
	if r.power >= 0 && r.torque >= 0 && (p.unit == "" || t.unit == "") {
		best := 0.004 // the nearest two, hp and PS over Nm, are 1.4 % apart
		for _, way := range [][2]string{{"hp", "lb-ft"}, {"kW", "Nm"}, {"PS", "Nm"}, {"hp", "Nm"}} {
			pu, tu := oneIn(units.Power, way[0]), oneIn(units.Torque, way[1])
			if heads[r.power].unit != "" && heads[r.power].unit != way[0] ||
				heads[r.torque].unit != "" && heads[r.torque].unit != way[1] {
				continue
			}
			if off := r.agrees(r.power, r.torque, pu, tu); off < best {
				best = off
				p.unit, p.times, t.unit, t.times = way[0], pu, way[1], tu
			}
		}
	}
	switch {
	case r.power >= 0 && p.unit == "":
		return fmt.Errorf("column %q has no unit: want it in the heading, as hp, power (kW) or power (PS)",
			clipText(r.heads[r.power]))
	case r.power < 0 && t.unit == "":
		return fmt.Errorf("column %q has no unit: want it in the heading, as torque (lb-ft) or torque (Nm)",
			clipText(r.heads[r.torque]))
	case r.torque >= 0 && t.unit == "":
		r.torque = -1
	}
	r.powerTo, r.torqueTo = p.times, t.times
	if r.power >= 0 {
		r.out.Power = crew.PulledColumn{Head: r.heads[r.power], Unit: p.unit, At: p.at}
		r.out.Standard = p.standard
	}
	if r.torque >= 0 {
		r.out.Torque = crew.PulledColumn{Head: r.heads[r.torque], Unit: t.unit, At: t.at}
	}
	return nil
}
