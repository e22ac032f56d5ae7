package notebook

import "strings"

// englishWords are words of headings in the usual other languages, without accents, as the
// English ones that headings are told by.
var englishWords = func() map[string][]string {
	words := map[string][]string{}
	for english, list := range map[string]string{
		"date":      "datum fecha data dato",
		"clock":     "uhrzeit heure hora ora tijd klockslag klocka",
		"time":      "zeit temps tiempo tempo tid",
		"lane":      "bahn spur couloir voie carril calle corsia baan bana",
		"reaction":  "reaktion reaktionszeit reaccion reazione reactie reaktionstid",
		"speed":     "geschwindigkeit vitesse velocidad vel velocita snelheid hastighet fart endgeschwindigkeit",
		"temp":      "temperatur temperatura temperatuur lufttemperatur lufttemp",
		"humidity":  "luftfeuchte luftfeuchtigkeit feuchte feuchtigkeit humidite humedad umidita vochtigheid luftfuktighet",
		"pressure":  "luftdruck druck pression presion pressione luchtdruk lufttryck",
		"note":      "bemerkung bemerkungen notiz notizen anmerkung remarque remarques commentaire commentaires notas nota observaciones opmerking opmerkingen anm",
		"track":     "strecke rennstrecke piste pista circuit baanlocatie",
		"car":       "fahrzeug auto wagen voiture coche carro bil",
		"bike":      "motorrad moto",
		"driver":    "fahrer pilote piloto pilota rijder forare",
		"weight":    "gewicht poids peso vikt",
		"power":     "leistung puissance potencia potenza vermogen effekt",
		"class":     "klasse classe clase klass",
		"round":     "runde manche ronda turno",
		"opponent":  "gegner adversaire rival oponente avversario tegenstander motstandare",
		"result":    "ergebnis resultat resultado risultato resultaat",
		"wind":      "vent viento vento",
		"dew":       "taupunkt rosee rocio rugiada dauwpunt daggpunkt",
		"m1320":     "viertelmeile cuarto quart",
		"m660":      "achtelmeile octavo huitieme",
		"tire tp":   "reifendruck bandenspanning",
		"tire":      "reifen pneu pneus neumatico neumaticos gomma gomme band dack",
		"launch":    "startdrehzahl",
		"corrected": "korrigiert corrige corregido corretto",
		"density":   "dichtehohe densite densidad densita",
		"event":     "veranstaltung rennen evenement carrera gara",
		"ft":        "pi pies piedi fuss voet fot",
	} {
		for word := range strings.FieldsSeq(list) {
			words[word] = strings.Fields(english)
		}
	}
	return words
}()

// inEnglish are the words of a heading, those known from other languages in English.
func inEnglish(words []string) (out []string) {
	for _, w := range words {
		if english, known := englishWords[w]; known {
			out = append(out, english...)
		} else {
			out = append(out, w)
		}
	}
	return out
}

// lefts and rights are how a lane is called.
var (
	lefts  = strings.Fields("l left links gauche g izq izquierda izquierdo sinistra sx vanster esquerda")
	rights = strings.Fields("r right rechts droit droite d der derecha derecho dcha destra dx hoger direita")
)
