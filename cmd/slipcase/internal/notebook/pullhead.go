package notebook

import (
	"strings"
	"unicode"

	"slipcase/cmd/slipcase/internal/pattern"

	"golang.org/x/text/unicode/norm"

	"slipcase/weather/units"
)

// columnKind is what a column of a dyno's file has.
type columnKind int

const (
	otherColumn columnKind = iota
	speedColumn
	powerColumn
	torqueColumn
)

// pullHead is a heading as understood.
type pullHead struct {
	text     string // in plain letters
	kind     columnKind
	unit     string
	times    float64 // to hp or lb-ft
	at       string
	standard string
}

// The words of headings, in plain letters, in the languages of most dynos: English, German,
// French, Italian, Spanish, Portuguese, Dutch, the Nordic ones, Polish, Czech, Russian.
// Common practice, no source.
var (
	speedWords = pattern.Of(`\b[kr]?rpm\b|\br/min\b|\b1/min\b|\bmin\s?\^?-1\b|\bu/min\b|` +
		`\btr/min\b|\bgiri\b|\bg/min\b|` +
		`drehzahl|\bregime\b|\bregimen\b|revolu|rotac|\brot/min\b|varvtal|omdrein|\bv/min\b|omwent|` +
		`toerental|\bobr|\bot/min\b|otack|` +
		`kierros|engine ?speed|motor ?speed|\brevs\b|об/мин|оборот`)
	otherSpeed = pattern.Of(`roller|rolle|drum|wheel|turbo|rad-?dreh|abtrieb|ratio|/rpm|per rpm|rpm/s`)
	powerWords = pattern.Of(`power|leistung|puissance|potenza|potencia|\beffekt|vermogen|` +
		`\bmoc\b|\bteho\b|vykon|мощн|\bp[-_ ](rad|mot|norm|wheel|engine)`)
	torqueWords = pattern.Of(`torque|drehmoment|moment|\bcouple\b|coppia|\bpar\b|binario|` +
		`koppel|vaanto|tocivy|\bm[-_ ](rad|mot|norm|wheel|engine)`)
	lossWords = pattern.Of(`loss|verlust|schlepp|\bdrag\b|\bperte|perdit|perdid|\bperda|` +
		`\bstrat|forlust|verlies|friction|reibung|factor|faktor|потер`)
	wheelWords = pattern.Of(`wheel|\bwh?hp\b|\brad|\broues?\b|\bruot|\brueda|\broda|\bhjul|` +
		`\bwiel|\bkol|\bhub|roller|rolle|drum|колес`)
	clutchWords = pattern.Of(`engine|motor|moteur|flywheel|crank|clutch|kurbel|kuppl|schwung|` +
		`\bbhp\b|\bnorm|\bp[-_ ]mot|volano|volant|swungrad|двиг`)

	otherUnit = pattern.Of(`^(s|sec|ms|m/s|km/h|kph|mph|c|f|degc|degf|°c|°f|bar|mbar|hpa|kpa|` +
		`psi|inhg|%|lambda|afr|v|kg/h|g/s|m|-)$`)
)

// pullUnits are the units in headings: what one of each is, hp or lb-ft.
var pullUnits = []struct {
	match *pattern.Pattern
	kind  columnKind
	unit  string
	times float64
}{
	{pattern.Of(`(^|[^a-z])(n ?[·.*⋅-]? ?m)($|[^a-z])`), torqueColumn, "Nm", oneIn(units.Torque, "Nm")},
	{pattern.Of(`kgf? ?[·.*⋅-]? ?m\b|\bmkgf?\b`), torqueColumn, "kgm", oneIn(units.Torque, "Nm") * 9.80665},
	{
		pattern.Of(`\b(lbf?s?[ ·.*_-]*f(t|eet)|f(t|oot)[ ·.*_-]*(lbf?s?|pounds?))\b`), torqueColumn, "lb-ft",
		oneIn(units.Torque, "lb-ft"),
	},
	{pattern.Of(`\b[bwr]?kw\b`), powerColumn, "kW", oneIn(units.Power, "kW")},
	{pattern.Of(`\bps\b|\bcv\b|\bch\b|\bpk\b|\bhk\b|\bkm\b|\bhv\b|\bk\b|` +
		`л\.? ?с`), powerColumn, "PS", oneIn(units.Power, "PS")},
	{pattern.Of(`\b(b|w|wh|r|rw|f)?hp\b`), powerColumn, "hp", 1},
}

func oneIn(k units.Kind, unit string) float64 {
	v, _ := k.Parse("1" + unit)
	return v
}

// headOf understands a heading by its words and its unit.
func headOf(head string) (h pullHead) {
	h.text = plainLetters(head)
	words := strings.ReplaceAll(h.text, "_", " ")
	loss, power, torque := lossWords.MatchString(words), powerWords.MatchString(words), torqueWords.MatchString(words)
	if speedWords.MatchString(words) && !power && !torque {
		if !otherSpeed.MatchString(words) {
			h.kind = speedColumn
		}
		return h
	}
	for _, u := range pullUnits {
		if u.unit == "PS" && !power && strings.Trim(words, "[]() ") != "ps" && !metricHorse.MatchString(words) {
			continue // "km" and "k" are horses only where power is said
		}
		if said := power != torque; said && power != (u.kind == powerColumn) {
			continue
		}
		if u.match.MatchString(words) {
			h.kind, h.unit, h.times = u.kind, u.unit, u.times
			break
		}
	}
	switch {
	case loss || distance.MatchString(words) && !power:
		return pullHead{text: h.text}
	case h.kind != otherColumn:
	case power:
		h.kind = powerColumn
	case torque:
		h.kind = torqueColumn
	}
	switch {
	case wheelWords.MatchString(words) && !strings.Contains(words, "flywheel"):
		h.at = "wheels"
	case clutchWords.MatchString(words):
		h.at = "clutch"
	}
	h.standard = standardIn(words)
	return h
}

var (
	metricHorse = pattern.Of(`\bps\b|\bcv\b|\bch\b|\bpk\b|\bhk\b|\bhv\b|л\.? ?с`)
	distance    = pattern.Of(`\bkm\b|km/h|speed|geschw|vitesse|veloc|time|zeit|boost|temp`)
)

// The names of standards as files have them.
var standardNames = []struct {
	match *pattern.Pattern
	is    string
}{
	{pattern.Of(`\bun-?corr|not corr|\bunkorr|ohne korr|non corr|sans corr|sin corr|` +
		`\bact(ual)? (hp|power)`), "none"},
	{pattern.Of(`\bj ?1349|\bsae\b`), "sae"},
	{pattern.Of(`\bj ?607|\bstd\b`), "standard"},
	{pattern.Of(`\bdin\b|70020`), "din"},
}

// standardIn is the one standard that a text names, "" where it names none or several.
func standardIn(text string) (is string) {
	for _, s := range standardNames {
		if !s.match.MatchString(text) {
			continue
		}
		if s.is == "none" {
			return s.is
		}
		if s.is == "standard" && is == "sae" && strings.Contains(text, "607") {
			is = "" // SAE J607 is the older one
		}
		if is != "" {
			return ""
		}
		is = s.is
	}
	return is
}

// plainLetters are small letters without accents.
func plainLetters(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(s)) {
		switch {
		case unicode.Is(unicode.Mn, r) && r < 0x400:
		case r == 'ł':
			b.WriteByte('l')
		case r == 'ß':
			b.WriteString("ss")
		case r == 'ø':
			b.WriteByte('o')
		case r == 'æ':
			b.WriteString("ae")
		default:
			b.WriteRune(r)
		}
	}
	return norm.NFC.String(b.String())
}
