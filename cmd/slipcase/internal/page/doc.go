// Package page turns the crew's facts into what is read: words, digits, units,
// tables and their width; as text, CSV, JSON or Markdown.
//
// # Decisions (November 2026)
//
// No color is used, so --no-color and NO_COLOR have nothing to do; they are accepted.
//
// In a window too short for it a verdict drops its least needed lines and says so; a
// pipe gets all of them. Cautions are never dropped, they lose their thresholds.
//
// JSON keys carry the US unit of their value, and keep it whatever --units says. A table's
// quantities follow --units, in CSV too, their unit in the heading.
package page
