package weather

import (
	"regexp"
	"strings"
)

// The groups of a report that say nothing about the air an engine breathes.
// Knowing them lets what is truly unread be told.

const phenomena = `(?:DZ|RA|SN|SG|IC|PL|GR|GS|UP|BR|FG|FU|VA|DU|SA|HZ|PY|PO|SQ|FC|SS|DS)`

var skippedBody = regexp.MustCompile(`^(?:` + strings.Join([]string{
	`AUTO|COR|CC[A-Z]|CAVOK|NSC|NCD|CLR|SKC|NSW|NDV`,
	`\d{3}V\d{3}`,                 // wind varying between
	`/{1,6}`,                      // not reported
	`\d{4}(?:NDV|[NESW]{1,2})?`,   // visibility in metres
	`[MP]?\d{1,2}(?:/\d{1,2})?SM`, // in statute miles
	`\d{1,2}KM`,
	`R\d{2}[LCR]?/\S+`, // runway visual range or state
	`(?:FEW|SCT|BKN|OVC|VV|///)(?:\d{3}|///)(?:CB|TCU|///)?`,
	`(?:RE|VC|[-+])?(?:MI|PR|BC|DR|BL|SH|TS|FZ){1,2}`,
	`(?:RE|VC|[-+])?(?:MI|PR|BC|DR|BL|SH|TS|FZ)?` + phenomena + `{1,3}`,
	`WS|ALL|RWY\d{0,2}[LCR]?`, // wind shear
	`W\d{2}/(?:S\d|H\d+)`,     // sea
	`(?:BLACK)?(?:BLU|WHT|GRN|YLO|AMB|RED)\+?`,
	`[AQ]////|/////KT|///////KT`,
}, `|`) + `)$`)

var skippedRemark = regexp.MustCompile(`^(?:` + strings.Join([]string{
	`PK|WND|\d{5,6}/\d{2,4}|AO[12]A?|SLP(?:\d{3}|NO)|P\d{4}|PNO|RVRNO|TSNO|FZRANO|VISNO|CHINO|PWINO|\$`,
	`[12][01]\d{3}|4[01]\d{3}[01]\d{3}|5\d{4}|[67](?:\d{4}|////)|98\d{3}|I[136]\d{3}`,
	`(?:` + phenomena + `|TS|SH|FZ|[BE]\d{2,4})+`, // began and ended
}, `|`) + `)$`)

// notNeeded reports that a group of the body is understood and of no use here;
// a lone digit is the whole miles of "1 1/2SM".
func notNeeded(group, next string) bool {
	if len(group) == 1 && group[0] >= '0' && group[0] <= '9' {
		return strings.Contains(next, "/") && strings.HasSuffix(next, "SM")
	}
	return skippedBody.MatchString(group)
}
