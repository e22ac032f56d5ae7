package main

import (
	"io"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Names of the page under which what has not moved there yet knows them; this file
// goes with the last of them.

func (a *app) answer(v any, t table.Table, text func(io.Writer)) error {
	return a.page.Answer(v, t, text)
}
func (a *app) aside(remarks []string)                    { a.page.Aside(remarks) }
func (a *app) note(format string, args ...any)           { a.page.Note(format, args...) }
func (a *app) show(k units.Kind, n units.Number) string  { return a.page.Show(k, n) }
func (a *app) cell(k units.Kind, n units.Number) string  { return a.page.Cell(k, n) }
func (a *app) suffix(k units.Kind) string                { return a.page.Suffix(k) }
func (a *app) share(v float64) string                    { return a.page.Share(v) }
func (a *app) stamp(t time.Time) string                  { return a.page.Stamp(t) }
func (a *app) speed(n units.Number) string               { return a.page.Speed(n) }
func (a *app) say(w io.Writer, label, words string)      { a.page.Say(w, label, words) }
func (a *app) wrapped(w io.Writer, line string)          { a.page.Wrap(w, line) }
func (a *app) fit(w io.Writer, s *page.Screen)           { a.page.Fit(w, s) }
func (a *app) room() int                                 { return a.page.Room() }
func (a *app) width() int                                { w, _ := a.tty.Window(); return w }
func (a *app) runText(s crew.Splits, m crew.Mark) string { return a.page.RunText(s, m) }
func plural(n int, one, many string) string              { return page.Plural(n, one, many) }
func orDash(s string) string                             { return page.OrDash(s) }
func when(t time.Time) string                            { return page.When(t) }
func folded(text string, width int) string               { return page.Folded(text, width) }
func wrapped(text string, width int) []string            { return page.Lines(text, width) }
func seconds(n units.Number) string                      { return page.Seconds(n) }
func signed(s float64) string                            { return page.Signed(s) }
func minus(x, y units.Number) units.Number               { return page.Minus(x, y) }
func hundredths(n units.Number) string                   { return page.Hundredths(n) }
func reactionText(n units.Number) string                 { return page.ReactionText(n) }
func rounded(v float64, d int) float64                   { return page.Rounded(v, d) }
func roundedNumber(n units.Number, d int) units.Number   { return page.RoundedNumber(n, d) }
func someRounded(v float64, d int) units.Number          { return page.SomeRounded(v, d) }
func round4(v float64) float64                           { return page.Round4(v) }
