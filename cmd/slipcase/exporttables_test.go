package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestWorkbookHasEveryTable: an exported workbook has a sheet for each table of the log; the
// slips' is the first.
func TestWorkbookHasEveryTable(t *testing.T) {
	dir := t.TempDir()
	log, book := filepath.Join(dir, "log"), filepath.Join(dir, "all.xlsx")
	for _, args := range [][]string{
		{"init"},
		{"vehicle", "add", "heron", "--kind", "car"},
		{"part", "add", "belts", "--vehicle", "heron", "--safety", "belts"},
		{"export", book},
	} {
		if status, _, said := runLine(t, append(args, "--logbook", log)...); status != exitDone {
			t.Fatalf("%v: %s", args, said)
		}
	}
	f, err := excelize.OpenFile(book)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	files, err := filepath.Glob(filepath.Join(log, "*.csv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no tables: %v", err)
	}
	for _, file := range files {
		table := strings.TrimSuffix(filepath.Base(file), ".csv")
		if table != "slips" && !slices.Contains(f.GetSheetList(), table) {
			t.Errorf("no sheet %s among %v", table, f.GetSheetList())
		}
	}
	if rows, err := f.GetRows("parts"); err != nil || len(rows) != 2 {
		t.Errorf("the sheet of parts has %d rows, want its heading and the belts (%v)", len(rows), err)
	}
}
