package picture

import (
	"fmt"
	"math"
	"strings"
	"time"

	"gonum.org/v1/plot/vg"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/weather/units"
)

// ticks are few and round; at most so many.
func ticks(a *page.Axis, low, high float64, most int) []tick {
	switch {
	case a.Ticks != nil:
		var named []tick
		for _, t := range a.Ticks {
			named = append(named, tick{t.At, t.Name})
		}
		return named
	case a.Zone != nil:
		return moments(low, high, a.Zone, most)
	}
	step := roundStep((high - low) / float64(most))
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	var out []tick
	for v := math.Ceil(low/step-1e-9) * step; v <= high+step*1e-9; v += step {
		v = math.Round(v/step) * step
		label := fmt.Sprintf("%.*f", decimals, v)
		switch {
		case a.Signed && math.Abs(v) < step/2:
			label = "0"
		case a.Signed && v > 0:
			label = "+" + label
		}
		out = append(out, tick{v, strings.Replace(units.Group(label), "-", "−", 1)})
	}
	return out
}

// roundStep is the next of 1, 2 and 5 times a power of ten.
func roundStep(least float64) float64 {
	if !(least > 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(least)))
	for _, times := range []float64{1, 2, 5} {
		if times*power >= least*(1-1e-9) {
			return times * power
		}
	}
	return 10 * power
}

// moments are full hours of a day, or the beginnings of days, months or years.
func moments(low, high float64, zone *time.Location, most int) []tick {
	from, to := time.Unix(int64(low), 0).In(zone), time.Unix(int64(high), 0).In(zone)
	span := to.Sub(from)
	const day = 24 * time.Hour
	y, m, d := from.Date()
	var out []tick
	add := func(t time.Time, form string) {
		if v := float64(t.Unix()); v >= low && v <= high {
			out = append(out, tick{v, t.Format(form)})
		}
	}
	if span < 2*day {
		hours := 1
		for span.Hours()/float64(hours) > float64(most) {
			hours = map[int]int{1: 2, 2: 3, 3: 6, 6: 12, 12: 24, 24: 48}[hours]
		}
		for t := time.Date(y, m, d, 0, 0, 0, 0, zone); !t.After(to); t = t.Add(time.Duration(hours) * time.Hour) {
			add(t, "15:04")
		}
		return out
	}
	for _, step := range []int{1, 2, 5, 7, 14} {
		if span/(time.Duration(step)*day) <= time.Duration(most) {
			for t := time.Date(y, m, d, 0, 0, 0, 0, zone); !t.After(to); t = t.AddDate(0, 0, step) {
				add(t, page.DayForm)
			}
			return out
		}
	}
	for _, step := range []int{1, 2, 3, 6, 12, 24, 60, 120} {
		if span.Hours()/24/30/float64(step) <= float64(most) {
			form := "Jan 2006"
			if step < 6 && from.Year() == to.Year() {
				form = page.DayForm
			}
			begin := time.Date(y, time.Month((int(m)-1)/min(step, 12)*min(step, 12)+1), 1, 0, 0, 0, 0, zone)
			for t := begin; !t.After(to); t = t.AddDate(0, step, 0) {
				add(t, form)
			}
			break
		}
	}
	return out
}

// apart names every tick, or every second or further one, so that no names touch; wide is
// how long the axis is.
func apart(all []tick, low, high float64, wide vg.Length) []tick {
	for every := 1; ; every++ {
		out := make([]tick, len(all))
		copy(out, all)
		for i := range out {
			if i%every != 0 {
				out[i].name = ""
			}
		}
		if every >= len(all) || clear(out, low, high, wide) {
			return out
		}
	}
}

// clear reports that no names touch.
func clear(all []tick, low, high float64, wide vg.Length) bool {
	style, end := lettered(lettering, false), vg.Length(math.Inf(-1))
	for _, t := range all {
		if t.name == "" {
			continue
		}
		half := style.Rectangle(t.name).Size().X/2 + 4
		at := vg.Length((t.at-low)/(high-low)) * wide
		if at-half < end {
			return false
		}
		end = at + half
	}
	return true
}
