// Package picture draws: it turns the charts that the page makes of the crew's facts into
// drawings on gonum/plot's canvases, as SVG, PNG and PDF.
//
// # Decisions (November 2026)
//
// One size for all: as wide as a phone held upright, the lettering 12 of its units, so that
// it is legible there, on paper and, enlarged, on a screen. A drawing never has more than
// page.MostMarks marks.
//
// The colors are those of M. Okabe and K. Ito, "Color Universal Design" (2008), which people
// with any of the usual color blindnesses tell apart; those too pale on paper are used
// on dark alone. Shape or position always says the same.
//
// What the backends write as fixed colors becomes a CSS variable where a page is to show it,
// so that one drawing serves light, dark and print; a file of its own keeps them, since few
// viewers but browsers know variables.
package picture
