package typed

import (
	"slipcase/logbook"
)

// VehicleFields are the columns of a vehicle.
var VehicleFields = []Field[logbook.Vehicle]{
	WordsField("title", "its full name, free to change", func(v *logbook.Vehicle) *string { return &v.Title }),
	ChoiceField("kind", "car or motorcycle", func(v *logbook.Vehicle) *string { return &v.Kind }, "car", "motorcycle"),
	ChoiceField("aspiration", "natural, supercharged or turbocharged",
		func(v *logbook.Vehicle) *string { return &v.Aspiration }, "natural", "supercharged", "turbocharged"),
	ChoiceField("drive", "rear, front or all",
		func(v *logbook.Vehicle) *string { return &v.Drive }, "rear", "front", "all"),
	ChoiceField("body", "as sedan, roadster; open for an open car", func(v *logbook.Vehicle) *string { return &v.Body }),
	WordsField("fuel", "as petrol, methanol", func(v *logbook.Vehicle) *string { return &v.Fuel }),
	WordsField("notes", "anything else", func(v *logbook.Vehicle) *string { return &v.Notes }),
}
