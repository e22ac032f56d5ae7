// Package notebook moves runs between a log and other programs: one row a run with all
// that is known of it, as CSV, JSON, a workbook or a Markdown table.
//
// # Decisions (November 2026)
//
// A column carries its unit and is always of the units of the log, whatever is shown: a
// table that is taken apart elsewhere must not change with a setting. Absent is an empty
// cell, or null. In CSV, workbooks and Markdown a text that a spreadsheet would take for a
// formula gets a quote mark before it; JSON has it as it is.
//
// A file is written beside its place and named when it is whole, so that a full disk leaves
// what was there.
package notebook
