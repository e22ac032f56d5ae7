package main

import (
	"io"

	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
)

// Names of the page under which what has not moved there yet knows them; this file
// goes with the last of them.

func (a *app) answer(v any, t table.Table, text func(io.Writer)) error {
	return a.page.Answer(v, t, text)
}
func (a *app) note(format string, args ...any) { a.page.Note(format, args...) }
func (a *app) width() int                      { w, _ := a.tty.Window(); return w }
func plural(n int, one, many string) string    { return page.Plural(n, one, many) }
