package logbook

// CellChange is a column whose cell differs between two revisions of an entry; an
// empty cell is "".
type CellChange struct{ Column, Was, Is string }

// Changes lists the columns in which two revisions of an entry differ, besides the
// number of the revision and when it was recorded.
func Changes[T any, P recordPtr[T]](was, is P) []CellChange {
	before, berr := cells(was)
	after, aerr := cells(is)
	if berr != nil || aerr != nil {
		return nil // what cannot be written was never recorded
	}
	var changed []CellChange
	for i, col := range schemaOf[T]().columns {
		if before[i] != after[i] && col.name != "rev" && col.name != "recorded_at" {
			changed = append(changed, CellChange{col.name, before[i], after[i]})
		}
	}
	return changed
}
