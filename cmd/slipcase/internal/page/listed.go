package page

import (
	"cmp"
	"fmt"
	"strings"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
)

// Listed is a name with what it is, for a shell to complete.
type Listed struct{ Name, What string }

// ListedVehicle names a vehicle.
func ListedVehicle(v crew.Vehicle) Listed {
	return cleanListed(v.ID, cmp.Or(v.Title, v.Kind+", "+v.Aspiration))
}

// ListedTrack names a track.
func ListedTrack(t crew.Track) Listed { return cleanListed(t.ID, cmp.Or(t.Title, "a track")) }

// ListedSetup names a setup, by its id where it has no name or others have it too.
func ListedSetup(s crew.Setup, alone bool) Listed {
	what := s.Vehicle + ", from " + When(s.From.Time)
	if s.Name == "" || !alone {
		return cleanListed(s.ID, strings.TrimSpace(s.Name+" of "+what))
	}
	return cleanListed(s.Name, what)
}

// ListedSlip names a slip.
func ListedSlip(s crew.Slip) Listed {
	what := s.Vehicle + " " + s.Round + ", " + When(s.Time.Time)
	if end, ok := s.Finish(); ok {
		what += fmt.Sprintf(", %.3f at %s", end.ETS.Value(), end.Label)
	}
	return cleanListed(s.ID, strings.Replace(what, " ,", ",", 1))
}

// ListedReading names a reading.
func ListedReading(r crew.Reading) Listed { return cleanListed(r.ID, r.Track+", "+When(r.Time.Time)) }

// ListedSheet names a dyno sheet.
func ListedSheet(s crew.Sheet) Listed { return cleanListed(s.Name, "dyno sheet of "+s.Vehicle) }

// ListedWorn is a part that wears, for a shell to complete to.
func ListedWorn(w crew.Worn) Listed { return Listed{w.Part, left(w)} }

// ListedOwnColumn names a column of the racer's own.
func ListedOwnColumn(c crew.OwnColumn) Listed { return cleanListed(c.ID, "a "+c.Kind+inUnit(c)) }

// ListedPart names a change of the plan.
func ListedPart(p crew.Planned) Listed { return cleanListed(p.Name, "planned for "+p.Vehicle) }

// ListedMeet names a meet by its last slip.
func ListedMeet(s crew.Slip) Listed { return cleanListed(s.Meet, When(s.Time.Time)) }

func cleanListed(name, what string) Listed { return Listed{table.Clean(name), table.Clean(what)} }
