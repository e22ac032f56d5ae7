// Package notebook moves runs between a log and other programs: one row a run with all
// that is known of it, as CSV, JSON, a workbook or a Markdown table.
//
// # Decisions (November 2026)
//
// Out: a column carries its unit and is always of the units of the log, whatever is shown: a
// table that is taken apart elsewhere must not change with a setting. Absent is an empty
// cell, or null. In CSV, workbooks and Markdown a text that a spreadsheet would take for a
// formula gets a quote mark before it; JSON has it as it is.
//
// In: what a file is stands in its first bytes. A sheet becomes a grid, a grid blocks of runs
// under headings, a heading a mapping by what it says and what the values are together, a
// row a draft of a slip. What the file as a whole does not tell is a question, and a figure
// that is in question is a note until it is answered: a wrong figure recorded unasked is
// worse than one more question. A cell that cannot be read leaves its row out, with the
// reason; a row is known again by a hash of its cells, in the source of its slip.
//
// A file is written beside its place and named when it is whole, so that a full disk leaves
// what was there.
package notebook
