package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/xuri/excelize/v2"
)

// oddbook writes a file that is no spreadsheet as one would wish: oddbook KIND FILE.
func oddbook(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: oddbook kind file")
	}
	data, err := oddFile(args[0])
	ts.Check(err)
	path := ts.MkAbs(args[1])
	ts.Check(os.WriteFile(path, data, 0o644))
	if args[0] == "huge" {
		ts.Check(os.Truncate(path, 200<<20))
	}
}

func oddFile(kind string) ([]byte, error) {
	switch kind {
	case "xls":
		return []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 Workbook"), nil
	case "ods":
		return zipOf("mimetype", "content.xml")
	case "numbers":
		return zipOf("Index/Document.iwa")
	case "photo":
		return []byte("\xff\xd8\xff\xe0\x00\x10JFIF"), nil
	case "wide":
		return []byte("Date,1/8\n" + strings.Repeat("1.0,", 20_000) + "\n"), nil
	case "huge":
		return nil, nil
	case "bomb":
		return bombOf()
	case "password":
		return bookOf(excelize.Options{Password: "hush"})
	case "plain", "formula", "macros":
		return bookOf(excelize.Options{}, kind)
	case "broken":
		data, err := bookOf(excelize.Options{})
		return data[:len(data)/2], err
	}
	return nil, fmt.Errorf("no such kind: %s", kind)
}

// bookOf is a workbook of two runs; with "formula" the last time is one that nobody has worked
// out, with "macros" it has a program in it.
func bookOf(o excelize.Options, with ...string) ([]byte, error) {
	b := excelize.NewFile()
	rows := [][]any{
		{"Date", "60 ft", "1/8", "MPH", "1/4", "MPH"},
		{"2025-05-16", 1.912, 8.412, 83.77, 13.212, 105.84},
		{"2025-05-17", 1.915, 8.418, 83.72, 13.233, 105.75},
	}
	for i, row := range rows {
		if err := b.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row); err != nil {
			return nil, err
		}
	}
	for _, w := range with {
		switch w {
		case "formula":
			if err := b.SetCellValue("Sheet1", "E3", nil); err != nil {
				return nil, err
			}
			if err := b.SetCellFormula("Sheet1", "E3", "E2+0.021"); err != nil {
				return nil, err
			}
		case "macros":
			program, err := bookOf(excelize.Options{}) // any bytes: none is run
			if err != nil {
				return nil, err
			}
			if err := b.AddVBAProject(append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), program...)); err != nil {
				return nil, err
			}
		}
	}
	var out bytes.Buffer
	err := b.Write(&out, o)
	return out.Bytes(), err
}

func zipOf(parts ...string) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, name := range parts {
		w, err := z.Create(name)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write([]byte("x")); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return out.Bytes(), err
}

// bombOf is a workbook of a few kB with a part that unpacks to 300 MB.
func bombOf() ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	if _, err := z.Create("xl/workbook.xml"); err != nil {
		return nil, err
	}
	w, err := z.Create("xl/worksheets/sheet1.xml")
	if err != nil {
		return nil, err
	}
	blank := bytes.Repeat([]byte(" "), 1<<20)
	for range 300 {
		if _, err := w.Write(blank); err != nil {
			return nil, err
		}
	}
	err = z.Close()
	return out.Bytes(), err
}
