package notebook

import (
	"math"
	"slices"
)

// middle is the median of what two columns make together, row by row, NaN where no row has
// both: rows of a quick car and a slow one say the same of their marks.
func middle(a, b []float64, of func(x, y float64) float64) float64 {
	var all []float64
	for i := range min(len(a), len(b)) {
		if v := of(a[i], b[i]); !math.IsNaN(v) && !math.IsInf(v, 0) {
			all = append(all, v)
		}
	}
	if len(all) == 0 {
		return math.NaN()
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// over is what a column is of another, row by row.
func (c *Mapped) over(other *Mapped) float64 {
	if r, known := c.overs[other.col]; known {
		return r
	}
	r := middle(c.byRow, other.byRow, func(x, y float64) float64 { return x / y })
	if math.IsNaN(r) {
		r = c.median() / other.median()
	}
	if c.overs == nil {
		c.overs = map[int]float64{}
	}
	c.overs[other.col] = r
	return r
}

// pace is speedRatio of a column of speeds beside one of times, row by row; where both are one
// column, of those in its cells.
func pace(mark int, et, s *Mapped) float64 {
	speeds, of := s.byRow, func(x, y float64) float64 { return speedRatio(mark, x, y) }
	if s == et {
		speeds = s.speedByRow
	}
	r := middle(et.byRow, speeds, of)
	if math.IsNaN(r) && s != et {
		return of(et.median(), s.median())
	}
	return r
}

// rowDone takes what a row has added to a column into its place.
func (c *Mapped) rowDone() {
	put := func(byRow *[]float64, values []float64, had int) {
		v := math.NaN()
		if len(values) > had {
			v = values[len(values)-1]
		}
		*byRow = append(*byRow, v)
	}
	put(&c.byRow, c.values, c.had)
	put(&c.speedByRow, c.speedsIn, c.hadSpeeds)
	c.had, c.hadSpeeds = len(c.values), len(c.speedsIn)
}
