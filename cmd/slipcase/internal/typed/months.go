package typed

import (
	"strings"

	"slipcase/cmd/slipcase/internal/pattern"
)

// otherMonths are the names of months in the usual other languages of notebooks, without
// accents, by the English short form that they stand for.
var otherMonths = map[string]string{
	"janvier": "jan", "januar": "jan", "januari": "jan", "enero": "jan", "ene": "jan", "gennaio": "jan", "janeiro": "jan",
	"fevrier": "feb", "fevr": "feb", "februar": "feb", "februari": "feb", "febrero": "feb", "febbraio": "feb", "fevereiro": "feb",
	"mars": "mar", "marz": "mar", "maerz": "mar", "marzo": "mar", "maart": "mar", "mrz": "mar", "marco": "mar",
	"avril": "apr", "avr": "apr", "abril": "apr", "abr": "apr", "aprile": "apr",
	"mai": "may", "mayo": "may", "maggio": "may", "mei": "may", "maio": "may", "maj": "may",
	"juin": "jun", "juni": "jun", "junio": "jun", "giugno": "jun", "junho": "jun",
	"juillet": "jul", "juil": "jul", "juli": "jul", "julio": "jul", "luglio": "jul", "julho": "jul",
	"aout": "aug", "augustus": "aug", "augusti": "aug", "agosto": "aug", "ago": "aug",
	"septembre": "sep", "septiembre": "sep", "settembre": "sep", "setembro": "sep",
	"octobre": "oct", "oktober": "oct", "okt": "oct", "octubre": "oct", "ottobre": "oct", "outubro": "oct",
	"novembre": "nov", "noviembre": "nov", "novembro": "nov",
	"decembre": "dec", "dezember": "dec", "dez": "dec", "diciembre": "dec", "dic": "dec", "dicembre": "dec",
	"dezembro": "dec",
}

var (
	dayThenWord = pattern.Of(`(?i)\b(\d{1,2}(?:er)?\.?[-\s]*(?:de\s+)?)(\p{L}+)\b(\.?\s+de\b)?`)
	unaccented  = strings.NewReplacer("é", "e", "è", "e", "û", "u", "ä", "a", "ç", "c", "É", "e", "Û", "u")
)

// inEnglish writes the month behind a day in English, where it is in another language.
func inEnglish(text string) string {
	var b strings.Builder
	done := 0
	for _, m := range dayThenWord.FindAllStringSubmatchIndex(text, -1) {
		month, known := otherMonths[strings.ToLower(unaccented.Replace(text[m[4]:m[5]]))]
		if !known {
			continue
		}
		day := strings.TrimRight(strings.TrimSuffix(strings.TrimSpace(text[m[2]:m[3]]), "de"), " er.-")
		b.WriteString(text[done:m[2]] + day + " " + month + " ")
		done = m[1]
	}
	return b.String() + text[done:]
}
