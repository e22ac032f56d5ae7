package typed

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/pattern"
)

// Life is how long a part lives: so many runs or seasons, or up to a day.
type Life struct {
	Runs, Seasons int
	Ends          time.Time // from then on it is over
}

var lifeWord = pattern.Of(`^([0-9][0-9,]*)\s*(runs?|passes|pass|seasons?|years?|months?)$`)

// ParseLife reads 60runs, 2seasons, 2years, 18months or a day as 2028-09-30. Years and months
// count from when the part was made.
func ParseLife(text string, made time.Time, zone *time.Location) (life Life, err error) {
	text = strings.ToLower(strings.TrimSpace(text))
	const want = "want runs, seasons, years or months, as 60runs or 2years, or the last day, as 2028-09-30"
	if day, err := time.ParseInLocation("2006-01-02", text, zone); err == nil {
		life.Ends = day.AddDate(0, 0, 1).Add(-time.Second) // the last day is a whole one, and the one that is shown
		return life, nil
	}
	m := lifeWord.FindStringSubmatch(text)
	if m == nil {
		if _, err := strconv.ParseFloat(text, 64); err == nil {
			return life, fmt.Errorf("%s of what? %s", text, want)
		}
		return life, fmt.Errorf("%q: %s", Shorten(text), want)
	}
	n, err := strconv.Atoi(strings.ReplaceAll(m[1], ",", ""))
	if err != nil || n < 1 || n > 100_000 {
		return life, fmt.Errorf("%q: want at least 1, and no more than 100,000", Shorten(text))
	}
	switch m[2][0] {
	case 'r', 'p':
		life.Runs = n
	case 's':
		life.Seasons = n
	case 'y':
		life.Ends = made.AddDate(n, 0, 0)
	default:
		life.Ends = made.AddDate(0, n, 0)
	}
	return life, nil
}
