package page

import (
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/table"
)

// Version is what a build of the program knows of itself.
type Version struct {
	Version  string `json:"version"`
	Commit   string `json:"commit"`  // "" where it was not built from one
	Of       string `json:"of"`      // the time of the commit
	Changed  bool   `json:"changed"` // the files were not all as committed
	Go       string `json:"go"`
	Platform string `json:"platform"`
}

// Version says what this program is.
func (p *Page) Version(v Version) error {
	var t table.Table
	add := func(name, value string) {
		t.Columns = append(t.Columns, table.Column{Head: name, Key: name})
		if t.Rows == nil {
			t.Rows = [][]string{nil}
		}
		t.Rows[0] = append(t.Rows[0], value)
	}
	for _, c := range [][2]string{
		{"version", v.Version},
		{"commit", v.Commit},
		{"of", v.Of},
		{"changed", fmt.Sprint(v.Changed)},
		{"go", v.Go},
		{"platform", v.Platform},
	} {
		add(c[0], c[1])
	}
	return p.Answer(v, t, func(w io.Writer) {
		fmt.Fprintf(w, "slipcase %s, %s, %s\n", v.Version, v.Go, v.Platform)
		if v.Commit != "" {
			changed := ""
			if v.Changed {
				changed = ", with changes since"
			}
			fmt.Fprintf(w, "commit   %s of %s%s\n", v.Commit, v.Of, changed)
		}
		fmt.Fprint(w, "what it is made of   slipcase version --licenses\n")
	})
}

// Notice is what a module that is linked into the program asks to be told with it.
type Notice struct {
	Module string `json:"module"`
	Text   string `json:"text"`
}

// Notices prints notices whole.
func (p *Page) Notices(all []Notice) error {
	t := table.Table{Columns: []table.Column{{Head: "module", Key: "module"}, {Head: "text", Key: "text"}}}
	for _, n := range all {
		t.Add(n.Module, n.Text)
	}
	return p.Answer(all, t, func(w io.Writer) {
		for _, n := range all {
			fmt.Fprintf(w, "== %s\n\n%s\n", n.Module, n.Text)
		}
	})
}
