package notebook

import (
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"

	"slipcase/weather/units"
)

// The words for the air in the lines around the rows of a dyno's file.
var (
	tempLabel     = pattern.Of(`temp`)
	pressureLabel = pattern.Of(`baro|luftdruck|air ?press|atmos|pression|presion|ambient press|` +
		`umgebungsdruck|^(pressure|druck)`)
	humidLabel = pattern.Of(`humid|feuchte|umid|humedad|vocht|fukt|wilgot|vlhkost|^rh\b`)
	otherLabel = pattern.Of(`oil|\bol\b|olio|huile|aceite|water|wasser|coolant|kuhl|exhaust|` +
		`abgas|egt|fuel|kraftst|boost|lade|tire|tyre|` +
		`reifen|manifold|\bmap\b|intake|ansaug|vapou?r|dampf`)
	labelled = pattern.Of(`^\s*([^:=]*?)\s*[:=]\s*(.*)$`)
	unitTail = pattern.Of(`[\[(]([^\])]+)[\])]\s*$`)
)

// titles reads the standard and the air from the lines that are no rows.
func (r *pullReader) titles(head int, rows []int) {
	isRow := map[int]bool{}
	for _, i := range rows {
		isRow[i] = true
	}
	var texts []string
	for i, row := range r.g.Rows {
		if isRow[i] || i == head {
			continue
		}
		for c, f := range row {
			text := plainLetters(f.Text)
			if text == "" {
				continue
			}
			texts = append(texts, text)
			label, value := text, ""
			if m := labelled.FindStringSubmatch(text); m != nil {
				label, value = m[1], strings.TrimSpace(m[2])
			}
			if value == "" && c+1 < len(row) {
				value = r.cellText(row[c+1])
				if c+2 < len(row) && strings.Trim(value, "0123456789.,- ") == "" {
					value += plainLetters(row[c+2].Text)
				}
			}
			r.airOf(label, value)
		}
	}
	if r.out.Standard == "" {
		r.out.Standard = standardIn(strings.Join(texts, " | "))
	}
}

func (r *pullReader) cellText(f Field) string {
	if f.Text == "" && f.Number.Known() {
		return f.Number.String()
	}
	return plainLetters(f.Text)
}

// airOf takes a figure of the air by its label; one that cannot be read is left.
func (r *pullReader) airOf(label, value string) {
	if otherLabel.MatchString(label) || value == "" {
		return
	}
	unit := ""
	if m := unitTail.FindStringSubmatch(label); m != nil {
		unit = m[1]
	}
	for _, q := range []struct {
		label     *pattern.Pattern
		kind      units.Kind
		into      *units.Number
		low, high float64
	}{
		{tempLabel, units.Temperature, &r.out.TempF, -20, 140},
		{pressureLabel, units.Pressure, &r.out.StationInHg, 17, 32},
		{humidLabel, units.Percent, &r.out.RHPct, 0, 100},
	} {
		if !q.label.MatchString(label) || q.into.Known() {
			continue
		}
		a, ok := readAmount(strings.ReplaceAll(value, " ", ""), r.g.CommaDecimal)
		if !ok {
			continue
		}
		if a.unit != "" {
			unit = a.unit
		}
		if a.other.Known() && q.kind.Name == units.Pressure.Name && a.v < 17 {
			a.v = a.other.Value() // 1,013 hPa
		}
		if unit == "" {
			unit = unitOfAir(q.kind, a.v)
		}
		if v, err := q.kind.Parse(units.Some(a.v).String() + unit); err == nil && unit != "" && v >= q.low && v <= q.high {
			*q.into = units.Some(v)
		}
		return
	}
}

// unitOfAir is the unit of a bare figure, where its size tells it.
func unitOfAir(k units.Kind, v float64) string {
	switch {
	case k.Name == units.Percent.Name:
		return "%"
	case k.Name == units.Pressure.Name && v > 550 && v < 1090:
		return "hPa"
	case k.Name == units.Pressure.Name && v > 17 && v < 32:
		return "inHg"
	}
	return ""
}
