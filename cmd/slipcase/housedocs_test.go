package main

import (
	"go/ast"
	"strings"
	"testing"
)

// TestDocsNameTheirOwn: the comment on a function begins with its name, not with the one
// that it had before, or that of its neighbor.
func TestDocsNameTheirOwn(t *testing.T) {
	checked := 0
	eachSource(t, func(path string, source []byte) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		for _, d := range parsed(t, path).Decls {
			f, is := d.(*ast.FuncDecl)
			if !is || f.Doc.Text() == "" {
				continue
			}
			checked++
			if first := strings.TrimRight(strings.Fields(f.Doc.Text())[0], ":,"); first != f.Name.Name {
				t.Errorf("%s: the comment on %s begins with %q", path, f.Name.Name, first)
			}
		}
	})
	if checked < 1000 {
		t.Errorf("only %d comments", checked)
	}
}
