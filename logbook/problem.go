package logbook

import "fmt"

// Problem is something wrong in a file of the logbook. Reading goes on past it;
// the row it names is left out.
type Problem struct {
	File string     `json:"file"`
	Line int        `json:"line,omitzero"` // 1 is the header; 0 when it is the file as a whole
	ID   string     `json:"id,omitzero"`   // the entry that is left out, where it could be told
	What string     `json:"what"`
	Cell *CellError `json:"cell,omitzero"` // the cell to blame, where it is one
	// LeftOut is false for a remark that costs no entry, as a line made good by another.
	LeftOut bool `json:"left_out"`
	// Torn marks an unfinished last row: the next writer sets it aside.
	Torn bool `json:"torn,omitzero"`
}

func (p Problem) String() string {
	s := p.File
	if p.Line > 0 {
		s += fmt.Sprintf(" line %d", p.Line)
	}
	if p.ID != "" {
		s += " (" + p.ID + ")"
	}
	return s + ": " + p.What
}

// CellError is a cell that does not say what its column holds.
type CellError struct {
	File   string `json:"file"`
	Row    int    `json:"row"` // line of the file, the header being 1
	Column string `json:"column"`
	Text   string `json:"text"`
	Want   string `json:"want"` // the form that would be accepted
}

func (e *CellError) Error() string {
	return fmt.Sprintf("%s line %d, %s", e.File, e.Row, e.what())
}

func (e *CellError) what() string {
	if e.Text == "" {
		return fmt.Sprintf("column %s: the cell is empty, want %s", e.Column, e.Want)
	}
	return fmt.Sprintf("column %s: %q is not %s", e.Column, clip(e.Text), e.Want)
}

// problem is the cell as a reason to leave an entry out.
func (e *CellError) problem(id string) Problem {
	return Problem{File: e.File, Line: e.Row, ID: id, What: e.what(), Cell: e, LeftOut: true}
}

func clip(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n++; n > most {
			return s[:i] + "..."
		}
	}
	return s
}
