package notebook

import (
	"encoding/csv"
	"io"
	"slices"
	"time"

	"slipcase/weather/units"
)

// Left is a row that is left out of an import, and why.
type Left struct {
	Draft *Draft
	Why   string
}

// WriteLeft writes the rows that are left out with what was read of them, under headings
// that are read back without a guess. What could not be read stands as it was.
func WriteLeft(w io.Writer, left []Left) error {
	heads := []string{whyLeft, string(Date), string(Clock), string(Vehicle), string(Track)}
	rows := make([]map[string]string, len(left))
	for i, l := range left {
		rows[i] = l.cells()
		for name := range rows[i] {
			if !slices.Contains(heads, name) {
				heads = append(heads, name)
			}
		}
	}
	slices.SortStableFunc(heads[5:], func(a, b string) int { return rank(a) - rank(b) })
	out := csv.NewWriter(w)
	if err := out.Write(heads); err != nil {
		return err
	}
	for _, row := range rows {
		line := make([]string, len(heads))
		for i, h := range heads {
			line[i] = Defused(row[h])
			if _, err := units.Seconds.Parse(row[h]); err == nil {
				line[i] = row[h] // a number, a red light say
			}
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func rank(head string) int {
	return slices.IndexFunc(fields, func(f roleField) bool { return string(f.role) == head })
}

// cells are a row's, by the words of their columns.
func (l Left) cells() map[string]string {
	d := l.Draft
	row := map[string]string{whyLeft: l.Why, string(RowMark): d.Hash, string(Vehicle): d.Vehicle, string(Track): d.Track}
	for _, f := range fields {
		switch {
		case f.slip != nil && f.slip(&d.Slip).Known():
			row[string(f.role)] = f.slip(&d.Slip).String()
		case f.air != nil && f.air(&d.Air).Known():
			row[string(f.role)] = f.air(&d.Air).String()
		case f.word != nil && *f.word(&d.Slip) != "":
			row[string(f.role)] = *f.word(&d.Slip)
		}
	}
	if d.Weight.Known() {
		row[string(WeightLb)] = d.Weight.String()
	}
	if d.Power.Known() {
		row[string(PowerHP)] = d.Power.String()
	}
	if t := d.Slip.Time; !t.IsZero() {
		row[string(Date)], row[string(Clock)] = t.Format(time.DateOnly), t.Format("15:04:05")
	} else {
		row[string(Date)], row[string(Clock)] = d.dayText, d.clock
	}
	for _, f := range d.Faults {
		if f.Role != Date && f.Role != Clock && f.Text != "" {
			row[string(f.Role)] = f.Text
		}
	}
	return row
}
