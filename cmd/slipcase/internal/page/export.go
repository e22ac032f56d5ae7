package page

import (
	"fmt"
	"io"
	"strconv"

	"slipcase/cmd/slipcase/internal/table"
)

// Exported is a file that was written for other programs.
type Exported struct {
	File string `json:"file"`
	Runs int    `json:"runs"`
}

type exportJSON struct {
	Export string     `json:"export"`
	Runs   int        `json:"runs"`
	Files  []Exported `json:"files"`
}

// Exports tells what was written.
func (p *Page) Exports(to string, files []Exported) error {
	t := table.Table{Columns: []table.Column{{Head: "file", Key: "file"}, {Head: "runs", Key: "runs", Right: true}}}
	out := exportJSON{to, 0, append([]Exported{}, files...)}
	for _, f := range files {
		t.Add(f.File, strconv.Itoa(f.Runs))
		out.Runs += f.Runs
	}
	return p.Answer(out, t, func(w io.Writer) {
		fmt.Fprintf(w, "exported  %d %s to %s\n", out.Runs, Plural(out.Runs, "run", "runs"), table.Clean(to))
		if len(files) > 1 {
			t.Render(w, table.Text, p.Width())
		}
	})
}
