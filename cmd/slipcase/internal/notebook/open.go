package notebook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
)

// Open reads the sheets of a file, whatever its name ends in: what it is stands in its
// first bytes.
func Open(path string) ([]*Grid, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no file: want a spreadsheet", path)
	}
	if info.Size() > mostBytes {
		return nil, fmt.Errorf(
			"%s has %d MB: want %d MB at most, the sheet with the runs alone",
			path,
			info.Size()>>20,
			mostBytes>>20,
		)
	}
	data, err := io.ReadAll(f)
	if err != nil {
		return nil, err
	}
	grids, err := Read(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return grids, nil
}

// Read reads the sheets of a file's bytes.
func Read(data []byte) ([]*Grid, error) {
	if err := otherThan(data); err != nil {
		return nil, err
	}
	var grids []*Grid
	var err error
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		grids, err = readBook(data)
	} else {
		var g *Grid
		g, err = readText(data)
		grids = []*Grid{g}
	}
	if err != nil {
		return nil, err
	}
	for _, g := range grids {
		if err := g.tooLarge(); err != nil {
			return nil, err
		}
		g.even()
	}
	if !slices.ContainsFunc(grids, func(g *Grid) bool { return len(g.Rows) > 0 }) {
		return nil, fmt.Errorf("it is empty")
	}
	return grids, nil
}

// saveAs says how other programs give what is read here.
const saveAs = "open it in its program and save it as .xlsx or .csv"

// foreign are the first bytes of files that are no table.
var foreign = []struct{ start, is string }{
	{"\xff\xd8\xff", "a photo: slipcase reads the text of a slip, not its picture"},
	{"\x89PNG", "a picture: slipcase reads the text of a slip, not its picture"},
	{"GIF8", "a picture: slipcase reads the text of a slip, not its picture"},
	{"%PDF", "a PDF: want the spreadsheet that it was made from, as .xlsx or .csv"},
	{"{\\rtf", "a text document: want the table in it, saved as .csv"},
	{"\x1f\x8b", "compressed: want it unpacked"},
	{"SQLite format 3", "a database: want the table in it, saved as .csv"},
}

// otherThan refuses what is no table that is read here, and says what would be.
func otherThan(data []byte) error {
	for _, f := range foreign {
		if bytes.HasPrefix(data, []byte(f.start)) {
			return fmt.Errorf("it is %s", f.is)
		}
	}
	if len(data) > 12 && string(data[4:8]) == "ftyp" {
		return fmt.Errorf("it is a photo or a film: slipcase reads the text of a slip, not its picture")
	}
	if bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")) {
		if bytes.Contains(data, utf16Of("EncryptedPackage")) {
			return fmt.Errorf("the workbook has a password: open it and save it without one")
		}
		return fmt.Errorf("it is an old .xls workbook: %s", saveAs)
	}
	if !bytes.HasPrefix(data, []byte("PK")) {
		return nil
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return fmt.Errorf("the workbook is broken (%w): %s", err, saveAs)
	}
	has := func(name string) bool {
		return slices.ContainsFunc(z.File, func(f *zip.File) bool { return strings.EqualFold(f.Name, name) })
	}
	switch {
	case has("xl/workbook.xml"):
		return nil
	case has("xl/workbook.bin"):
		return fmt.Errorf("it is an .xlsb workbook: %s", saveAs)
	case has("Index/Document.iwa") || has("Index.zip"):
		return fmt.Errorf("it is a .numbers file: export it as .xlsx or .csv")
	case has("content.xml"):
		return fmt.Errorf("it is an .ods workbook: %s", saveAs)
	}
	return fmt.Errorf("it is a zip file without a workbook: want .xlsx or .csv")
}

func utf16Of(s string) (b []byte) {
	for i := range len(s) {
		b = append(b, s[i], 0)
	}
	return b
}

// ReadAll is all of a file, of in for "-", as far as Read takes it.
func ReadAll(path string, in io.Reader) ([]byte, error) {
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		in = f
	}
	return io.ReadAll(io.LimitReader(in, mostBytes))
}
