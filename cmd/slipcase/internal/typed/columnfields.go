package typed

import (
	"slipcase/logbook"
)

// ColumnFields say what a column of the racer's own is.
var ColumnFields = []Field[logbook.OwnColumn]{
	ChoiceField("kind", "number or text", func(c *logbook.OwnColumn) *string { return &c.Kind }, "number", "text"),
	WordsField("unit", "of a number, as psi; it is shown as it is and never converted",
		func(c *logbook.OwnColumn) *string { return &c.Unit }),
	WordsField("notes", "anything else", func(c *logbook.OwnColumn) *string { return &c.Notes }),
}
