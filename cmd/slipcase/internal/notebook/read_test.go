package notebook

import (
	"archive/zip"
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
)

// zipped is a zip file of parts by their names.
func zipped(t *testing.T, parts map[string]string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for name, text := range parts {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// bomb is a workbook with a part that unpacks to 300 MB, as its head says.
func bomb(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	_, err := z.Create("xl/workbook.xml")
	if err == nil {
		_, err = z.CreateRaw(
			&zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate, UncompressedSize64: 300 << 20},
		)
	}
	if err = errors.Join(err, z.Close()); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// workbook is a workbook as its maker fills it.
func workbook(t *testing.T, fill func(b *excelize.File), o ...excelize.Options) []byte {
	t.Helper()
	b := excelize.NewFile()
	fill(b)
	var out bytes.Buffer
	if err := b.Write(&out, o...); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestWhatIsNoNotebook: each says what it is and what would do.
func TestWhatIsNoNotebook(t *testing.T) {
	plain := func(b *excelize.File) { b.SetCellValue("Sheet1", "A1", "Date") }
	broken := workbook(t, plain)
	for _, c := range []struct {
		name string
		data []byte
		says string
	}{
		{
			"password", workbook(t, plain, excelize.Options{Password: "hush"}),
			"the workbook has a password: open it and save it without one",
		},
		{"half a workbook", broken[:len(broken)/2], "the workbook is broken"},
		{
			"xls", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 Workbook"),
			"it is an old .xls workbook: open it in its program and save it as .xlsx or .csv",
		},
		{"xlsb", zipped(t, map[string]string{"xl/workbook.bin": "x"}), "it is an .xlsb workbook: open it"},
		{"ods", zipped(t, map[string]string{"content.xml": "<x/>"}), "it is an .ods workbook: open it"},
		{"numbers", zipped(t, map[string]string{"Index/Document.iwa": "x"}), "it is a .numbers file: export it as .xlsx or .csv"},
		{"zip", zipped(t, map[string]string{"a.txt": "x"}), "it is a zip file without a workbook"},
		{"photo", []byte("\xff\xd8\xff\xe0 JFIF"), "it is a photo"},
		{"phone's photo", []byte("\x00\x00\x00\x18ftypheic and more"), "it is a photo or a film"},
		{"picture", []byte("\x89PNG\r\n"), "it is a picture"},
		{"pdf", []byte("%PDF-1.7"), "it is a PDF: want the spreadsheet"},
		{"bytes", []byte("a,b\x00c\n"), "it is no table: byte 4 is 0"},
		{"nothing", nil, "it is empty"},
		{"20,000 columns", []byte(strings.Repeat("1.0,", 20_000)), "row 1 has 20,001 columns: want 1,000 at most"},
		{
			"bomb", bomb(t),
			"the workbook unpacks to more than 256 MB",
		},
	} {
		if _, err := Read(c.data); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
	}
	large := filepath.Join(t.TempDir(), "large.csv")
	if err := os.WriteFile(large, nil, 0o644); err == nil {
		err = os.Truncate(large, 200<<20)
		if _, failed := Open(large); err != nil || failed == nil ||
			!strings.Contains(failed.Error(), "has 200 MB: want 64 MB at most") {
			t.Errorf("200 MB: %v, %v", err, failed)
		}
	}
	if _, err := Open(t.TempDir()); err == nil || !strings.Contains(err.Error(), "is no file") {
		t.Errorf("a folder: %v", err)
	}
	if _, err := Open(filepath.Join(t.TempDir(), "none.csv")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("none: %v", err)
	}
}

var heads = []any{"Date", "60 ft", "1/8", "1/8 MPH", "1/4", "1/4 MPH"}

// interpreted reads a workbook's first sheet as a notebook of 2 May 2026.
func interpreted(t *testing.T, data []byte) *Notebook {
	t.Helper()
	grids, err := Read(data)
	if err != nil {
		t.Fatal(err)
	}
	return Interpret(grids, Options{
		Now:      time.Date(2026, 5, 2, 18, 0, 0, 0, time.UTC),
		Vehicles: []crew.Vehicle{{Entry: logbook.Entry{ID: "heron"}}},
		Tracks:   []crew.Track{{Entry: logbook.Entry{ID: "saltgrass"}}},
		Zone:     func(string) *time.Location { return time.UTC },
	})
}

// rows fills a sheet, a heading first.
func rows(b *excelize.File, lines ...[]any) {
	for i, line := range append([][]any{heads}, lines...) {
		at, _ := excelize.CoordinatesToCellName(1, i+1)
		b.SetSheetRow("Sheet1", at, &line)
	}
}

func run(date any, last float64) []any { return []any{date, 1.912, 8.412, 83.77, last, 105.84} }

// TestDatesOfWorkbooks: days are counted from 1900 or 1904; excelize's own doc names both.
func TestDatesOfWorkbooks(t *testing.T) {
	day := time.Date(2025, 5, 16, 14, 25, 0, 0, time.UTC)
	for _, from1904 := range []bool{false, true} {
		data := workbook(t, func(b *excelize.File) {
			if err := b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &from1904}); err != nil {
				t.Fatal(err)
			}
			rows(b, run(0, 13.212), run(0, 13.233))
			style, _ := b.NewStyle(&excelize.Style{NumFmt: 22})
			serial := day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24
			if from1904 {
				serial = day.Sub(time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)).Hours() / 24
			}
			b.SetCellValue("Sheet1", "A2", serial)
			b.SetCellValue("Sheet1", "A3", serial+1)
			b.SetCellStyle("Sheet1", "A2", "A3", style)
		})
		n := interpreted(t, data)
		if len(n.Rows) != 2 || len(n.Rows[0].Faults) > 0 || !n.Rows[0].Slip.Time.Equal(day) ||
			!n.Rows[1].Slip.Time.Equal(day.AddDate(0, 0, 1)) {
			t.Errorf("from 1904 %v: %+v", from1904, n.Rows)
		}
	}
}

// TestCellsOfWorkbooks: merged cells say the same for all their rows, a formula without a value
// is asked for, macros and escapes do nothing, impossible days are refused.
func TestCellsOfWorkbooks(t *testing.T) {
	n := interpreted(t, workbook(t, func(b *excelize.File) {
		rows(b, run("2025-05-16", 13.212), run(nil, 13.233), run("2025-05-17", 13.241))
		b.MergeCell("Sheet1", "A2", "A3")
	}))
	if len(n.Rows) != 3 || n.Rows[1].Slip.Time.Format(time.DateOnly) != "2025-05-16" || n.Rows[2].Slip.Time.Day() != 17 {
		t.Errorf("merged dates: %+v", n.Rows)
	}

	n = interpreted(t, workbook(t, func(b *excelize.File) {
		rows(b, run("2025-05-16", 13.212), run("2025-05-17", 13.233))
		b.SetCellValue("Sheet1", "E3", nil)
		b.SetCellFormula("Sheet1", "E3", "E2+0.021")
	}))
	if len(n.Rows) != 2 || len(n.Rows[1].Faults) != 1 ||
		!strings.Contains(n.Rows[1].Faults[0].Want.Error(), "a formula without its value") ||
		n.Rows[1].Faults[0].Letter != "E" {
		t.Errorf("a formula: %+v", n.Rows)
	}

	n = interpreted(t, workbook(t, func(b *excelize.File) {
		rows(b, run("1949-05-16", 13.212), run("2027-01-01", 13.233), run("2025-02-30", 13.241), run("2025-05-17", 13.25))
		b.SetSheetRow("Sheet1", "G1", &[]any{"Notes"})
		b.SetCellValue("Sheet1", "G5", "\x1b[2Jgone")
	}))
	for i, says := range []string{"before 1950", "in the future", "want a date"} {
		if len(n.Rows) != 4 || len(n.Rows[i].Faults) == 0 {
			t.Errorf("%s: no fault in %+v", says, n.Rows)
		} else if want := n.Rows[i].Faults[0].Want.Error(); !strings.Contains(want, says) && i < 2 {
			t.Errorf("row %d: %s, want %s", i, want, says)
		}
	}
	if len(n.Rows) == 4 && len(n.Rows[3].Faults) > 0 {
		t.Errorf("a good row: %+v", n.Rows[3].Faults)
	}
}

// TestTwoETs: two columns that both look like the ET are a question, and a note until then.
func TestTwoETs(t *testing.T) {
	n := interpreted(t, []byte("Date,1/8,MPH,ET,ET,MPH\n2025-05-16,8.412,83.77,13.212,13.190,105.84\n"+
		"2025-05-17,8.405,83.80,13.201,13.179,105.90\n"))
	if len(n.Questions) == 0 || n.Questions[0].Kind != TwoAlike || len(n.Questions[0].Columns) != 2 {
		t.Errorf("%+v", n.Questions)
	}
	for _, r := range n.Rows {
		if r.Slip.ET1320S.Known() {
			t.Errorf("an ET is taken unasked: %v", r.Slip.ET1320S)
		}
	}
	if n = interpreted(t, []byte("a,b\nc,d\n")); len(n.Questions) != 1 || n.Questions[0].Kind != NoTimes {
		t.Errorf("nothing readable: %+v", n.Questions)
	}
}

// TestAmounts: numbers as people write them (common practice, no source).
func TestAmounts(t *testing.T) {
	for _, c := range []struct {
		text  string
		comma bool
		want  float64
		unit  string
	}{
		{"13.212", false, 13.212, ""},
		{"13,212", true, 13.212, ""},
		{"3,450 lb", false, 3450, "lb"},
		{"1.013,25", true, 1013.25, ""},
		{"88°F", false, 88, "°F"},
		{"−.012", false, -0.012, ""},
		{"83.77mph", false, 83.77, "mph"},
	} {
		a, ok := readAmount(c.text, c.comma)
		if !ok || a.v != c.want || a.unit != c.unit {
			t.Errorf("%q: %+v, %v", c.text, a, ok)
		}
	}
	g := &Grid{}
	for _, c := range []struct {
		text string
		want float64
	}{{"r.012", -0.012}, {"-.012", -0.012}, {"(.012)", -0.012}, {".012 red", -0.012}, {".012 foul", -0.012}, {".041", 0.041}} {
		if v, ok := g.reactionOf(Field{Text: c.text}); !ok || v != c.want {
			t.Errorf("reaction %q: %v, %v", c.text, v, ok)
		}
	}
}

// FuzzRead: any bytes are grids or an error, and any grids a notebook.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"Date,RT,60',1/8,MPH,1/4,MPH\n5/16/25,.041,1.912,8.412,83.77,13.212,105.84\n",
		"a;b\n1,5;2,5\n", "\xff\xfea\x00,\x00", "\"", "PK\x03\x04",
		"Sat 2 May\n8.412@83.77\t13.212@105.84\n",
		"logbook,id,time,vehicle,et_60_s,utc_offset_h,read_id,setup_from,round_result\nx,y,z\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		grids, err := Read(data)
		if err != nil {
			return
		}
		n := Interpret(
			grids,
			Options{Now: time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC), Zone: func(string) *time.Location { return time.UTC }},
		)
		for _, r := range n.Rows {
			for _, p := range r.Slip.Splits() {
				if p.ETS.Known() && !n.Own && !(p.ETS.Value() > 0) {
					t.Errorf("%q: %s in %v", data, p.Label, p.ETS)
				}
			}
		}
	})
}
