package table

import (
	"encoding/csv"
	"io"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"github.com/jedib0t/go-pretty/v6/text"
	"pgregory.net/rapid"
)

func sample() Table {
	t := Table{Columns: []Column{
		{Head: "id", Key: "id", Drop: 2},
		{Head: "time", Key: "time"},
		{Head: "notes", Key: "notes", Drop: 9},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "mph", Key: "speed_mph", Right: true, Drop: 1},
	}}
	t.Add("s2ka", "14:25", "spun, \"a bit\"", "13.212", "105.84")
	t.Add("s7bc", "15:02", "", "9.987", "")
	return t
}

func render(t *testing.T, tab Table, f Format, width int) string {
	t.Helper()
	var b strings.Builder
	if err := tab.Render(&b, f, width); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestText(t *testing.T) {
	const said = " left out: widen, or --format csv)\n"
	for _, c := range []struct {
		name  string
		width int
		want  string
	}{
		{"no limit", 0, "" +
			"id    time   notes              ET     mph\n" +
			"s2ka  14:25  spun, \"a bit\"  13.212  105.84\n" +
			"s7bc  15:02                  9.987\n"},
		{"just fits", 42, "" +
			"id    time   notes              ET     mph\n" +
			"s2ka  14:25  spun, \"a bit\"  13.212  105.84\n" +
			"s7bc  15:02                  9.987\n"},
		{"the highest goes first", 41, "" +
			"id    time       ET     mph\n" +
			"s2ka  14:25  13.212  105.84\n" +
			"s7bc  15:02   9.987\n(1 column" + said},
		{"then the next", 20, "" +
			"time       ET\n" +
			"14:25  13.212\n" +
			"15:02   9.987\n(3 columns" + said},
		{"what is never dropped stays", 5, "" +
			"time       ET\n" +
			"14:25  13.212\n" +
			"15:02   9.987\n(3 columns" + said},
	} {
		if diff := cmp.Diff(c.want, render(t, sample(), Text, c.width)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// Whatever the cells hold, a text table never exceeds the width as long as a
// column is left to drop, and no line ends in blanks.
func TestTextFits(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		cell := rapid.StringMatching(`[a-zé0-9 .]{0,30}`)
		var tab Table
		columns := rapid.IntRange(1, 8).Draw(r, "columns")
		for range columns {
			tab.Columns = append(tab.Columns, Column{Head: cell.Draw(r, "head"), Drop: 1})
		}
		for range rapid.IntRange(0, 5).Draw(r, "rows") {
			var row []string
			for range columns {
				row = append(row, cell.Draw(r, "cell"))
			}
			tab.Rows = append(tab.Rows, row)
		}
		width := rapid.IntRange(1, 120).Draw(r, "width")
		var b strings.Builder
		if err := tab.Render(&b, Text, width); err != nil {
			r.Fatal(err)
		}
		out, _, dropped := strings.Cut(b.String(), "(")
		for line := range strings.Lines(out) {
			line = strings.TrimSuffix(line, "\n")
			if n := text.StringWidthWithoutEscSequences(line); n > width {
				r.Errorf("%d wide where %d is, dropped %v: %q", n, width, dropped, line)
			}
			if line != strings.TrimRight(line, " ") {
				r.Errorf("blanks at the end of %q", line)
			}
		}
	})
}

func TestCSV(t *testing.T) {
	want := "id,time,notes,et_s,speed_mph\n" +
		"s2ka,14:25,\"spun, \"\"a bit\"\"\",13.212,105.84\n" +
		"s7bc,15:02,,9.987,\n"
	if diff := cmp.Diff(want, render(t, sample(), CSV, 10)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// What is written as CSV reads back by the standard library's reader, cleaned and
// defused.
func TestCSVReadsBack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		tab := Table{Columns: []Column{{Key: "notes"}, {Key: "et_s", Right: true}}}
		note, et := rapid.String().Draw(r, "note"), rapid.StringMatching(`-?[0-9]{1,3}\.[0-9]{3}`).Draw(r, "et")
		tab.Add(note, et)
		var b strings.Builder
		if err := tab.Render(&b, CSV, 0); err != nil {
			r.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
		if err != nil {
			r.Fatalf("%v in %q", err, b.String())
		}
		want := [][]string{{"notes", "et_s"}, {Defuse(Clean(note)), et}}
		if diff := cmp.Diff(want, rows); diff != "" {
			r.Errorf("(-want +got):\n%s", diff)
		}
	})
}

func TestMarkdown(t *testing.T) {
	tab := Table{Columns: []Column{{Head: "notes"}, {Head: "ET", Right: true}}}
	tab.Add("a | b", "13.212")
	want := "| notes | ET |\n| --- | ---:|\n| a \\| b | 13.212 |\n"
	if diff := cmp.Diff(want, render(t, tab, Markdown, 5)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestClean(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"plain", "13.212 @ 105.84", "13.212 @ 105.84"},
		{"accents and other scripts stay", "Zoë, größer, 東京", "Zoë, größer, 東京"},
		{"line ends and tabs become blanks", "a\nb\tc\rd", "a b c d"},
		{"escape", "\x1b[31mred\x1b]0;title\x07", "?[31mred?]0;title?"},
		{"C1 control", "a\u009b31m", "a?31m"},
		{"delete and backspace", "a\x7f\b", "a??"},
		{"NUL", "a\x00b", "a?b"},
		{"right-to-left override and isolates (Unicode UAX 9)", "a\u202eb\u2066c\u2069", "a?b?c?"},
		{"zero width and byte order mark", "a\u200bb\ufeff", "a?b?"},
		{"not UTF-8", "a\xffb", "a?b"},
		{"empty", "", ""},
	} {
		if got := Clean(c.in); got != c.want {
			t.Errorf("%s: Clean(%q) = %q, want %q", c.name, c.in, got, c.want)
		}
	}
}

// Every form of a table is free of what could steer a terminal.
func TestNoControlCharacters(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		tab := Table{Columns: []Column{{Head: "h", Key: "k"}}}
		tab.Add(rapid.String().Draw(r, "cell") + "\x1b[2J\u202e")
		for _, f := range []Format{Text, CSV, Markdown} {
			var b strings.Builder
			if err := tab.Render(&b, f, 0); err != nil {
				r.Fatal(err)
			}
			for _, c := range b.String() {
				if c != '\n' && (unicode.IsControl(c) || unicode.Is(unicode.Bidi_Control, c)) {
					r.Errorf("%s holds %U", f, c)
				}
			}
		}
	})
}

// The characters that begin a formula in a spreadsheet: OWASP, "CSV Injection",
// lists = + - @ and tab and carriage return, which Clean has made blanks.
func TestDefuse(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""},
		{"spun", "spun"},
		{"=SUM(A1)", "'=SUM(A1)"},
		{"+1", "'+1"},
		{"-1", "'-1"},
		{"@x", "'@x"},
		{"a=b", "a=b"},
		{"'=x", "'=x"},
	} {
		if got := Defuse(c.in); got != c.want {
			t.Errorf("Defuse(%q) = %q, want %q", c.in, got, c.want)
		}
	}
	tab := Table{Columns: []Column{{Key: "notes"}, {Key: "difference_s", Right: true}}}
	tab.Add("=1", "-0.020")
	if got, want := render(t, tab, CSV, 0), "notes,difference_s\n'=1,-0.020\n"; got != want {
		t.Errorf("a number is no formula: got %q, want %q", got, want)
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestRenderTellsOfAFailedWrite(t *testing.T) {
	for _, f := range []Format{Text, CSV, Markdown} {
		if err := sample().Render(failing{}, f, 10); err != io.ErrClosedPipe {
			t.Errorf("%s: %v", f, err)
		}
	}
}
