package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

const (
	mostColumns   = 120  // of a line
	mostLines     = 450  // of a file
	mostMainLines = 7650 // of package main, its tests left out
)

// eachSource walks over the Go files of the house.
func eachSource(t *testing.T, look func(path string, source []byte)) {
	t.Helper()
	n := 0
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		n++
		source, err := os.ReadFile(path)
		if err == nil {
			look(path, source)
		}
		return err
	})
	if err != nil || n < 100 {
		t.Fatalf("%d files: %v", n, err)
	}
}

// parsed is a file of the house, which is parsed once.
func parsed(t *testing.T, path string) *ast.File {
	t.Helper()
	f := parsedFiles[path]
	if f == nil {
		var err error
		const how = parser.ParseComments | parser.SkipObjectResolution
		if f, err = parser.ParseFile(token.NewFileSet(), path, nil, how); err != nil {
			t.Fatal(err)
		}
		parsedFiles[path] = f
	}
	return f
}

var parsedFiles = map[string]*ast.File{}

// TestNamedFiles: the Go files that the guide to the house and its packages name are there.
func TestNamedFiles(t *testing.T) {
	texts, files := map[string]string{}, map[string]bool{}
	eachSource(t, func(path string, source []byte) {
		files[filepath.Base(path)] = true
		if filepath.Base(path) == "doc.go" {
			texts[path] = string(source)
		}
	})
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	texts["DEVELOPERS.md"] = string(guide)
	named := 0
	for path, text := range texts {
		for _, name := range regexp.MustCompile(`[a-z0-9_]+\.go\b`).FindAllString(text, -1) {
			if named++; !files[name] {
				t.Errorf("%s names %s, which is not there", path, name)
			}
		}
	}
	if named < 40 {
		t.Errorf("only %d names of files found", named)
	}
}

// TestNamedModules: the guide says of every module that is required what it is for.
func TestNamedModules(t *testing.T) {
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	_, why, _ := strings.Cut(string(guide), "## Dependencies, and why")
	required := regexp.MustCompile(`(?m)^\t(\S+) v\S+$`).FindAllStringSubmatch(string(mod), -1)
	if len(required) < 20 {
		t.Errorf("only %d modules found in go.mod", len(required))
	}
	for _, m := range required {
		name := regexp.MustCompile(`/v\d+$`).ReplaceAllString(m[1], "")
		if name = path.Base(name); !strings.Contains(why, name) {
			t.Errorf("DEVELOPERS.md does not say what %s is for", name)
		}
	}
}

// TestNamesDifferByMoreThanCase: who looks for a name finds one thing. Methods are held
// beside those of their type.
func TestNamesDifferByMoreThanCase(t *testing.T) {
	names := map[string]string{} // package and name in lower case: the name
	eachSource(t, func(path string, source []byte) {
		f := parsed(t, path)
		for _, name := range declared(f) {
			key := filepath.Dir(path) + " " + f.Name.Name + " " + strings.ToLower(name)
			if other, known := names[key]; known && other != name {
				t.Errorf("%s: %s and %s differ by case alone", path, name, other)
			}
			names[key] = name
		}
	})
}

// declared are the names that a file gives to its package, a method with its type before it.
func declared(f *ast.File) (names []string) {
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Name.Name != "init" { // the language's own
				names = append(names, receiver(d)+d.Name.Name)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				switch s := s.(type) {
				case *ast.TypeSpec:
					names = append(names, s.Name.Name)
				case *ast.ValueSpec:
					for _, n := range s.Names {
						names = append(names, n.Name)
					}
				}
			}
		}
	}
	return names
}

func receiver(d *ast.FuncDecl) (name string) {
	if d.Recv != nil {
		ast.Inspect(d.Recv.List[0].Type, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok && name == "" {
				name = id.Name + "."
			}
			return name == ""
		})
	}
	return name
}

// TestSizes holds lines, files and package main to their sizes.
func TestSizes(t *testing.T) {
	ofMain := 0
	eachSource(t, func(path string, source []byte) {
		lines := strings.Split(strings.TrimSuffix(string(source), "\n"), "\n")
		test := strings.HasSuffix(path, "_test.go")
		if filepath.Dir(path) == "../../cmd/slipcase" && !test {
			ofMain += len(lines)
		}
		if len(lines) > mostLines {
			t.Errorf("%s has %d lines: want %d at most, split by subject", path, len(lines), mostLines)
		}
		text := textWidths(source)
		for i, line := range lines {
			if n := utf8.RuneCountInString(line); n > mostColumns && n-text[i+1] > mostColumns-20 && !excepted(line, test) {
				t.Errorf("%s:%d has %d columns: want %d at most", path, i+1, n, mostColumns)
			}
		}
	})
	if ofMain > mostMainLines {
		t.Errorf("package main has %d lines: want %d at most, reasons in crew, words in page", ofMain, mostMainLines)
	}
}

// aTag is one of a field of a record.
var aTag = regexp.MustCompile("`[^`]*(csv|json):\"[^`]*`")

// excepted are the lines that may be longer: tags, which cannot be broken, and the rows of
// a test's table, which are read across.
func excepted(line string, test bool) bool {
	row := strings.TrimSpace(line)
	return aTag.MatchString(line) || test && (strings.HasPrefix(row, "{") || strings.HasPrefix(row, `"`))
}

// textWidths is how much of each line is text in quotes, which is not broken in the middle of a
// sentence; the lines of one in back quotes stand as what is shown or read does.
func textWidths(source []byte) map[int]int {
	widths := map[int]int{}
	files := token.NewFileSet()
	file := files.AddFile("", files.Base(), len(source))
	var s scanner.Scanner
	s.Init(file, source, nil, 0)
	for {
		pos, tok, lit := s.Scan()
		switch tok {
		case token.EOF:
			return widths
		case token.STRING:
			for i, part := range strings.Split(lit, "\n") {
				widths[file.Line(pos)+i] += utf8.RuneCountInString(part)
			}
		}
	}
}

// TestSizesAreSeen: a line counts without its texts, and a table's row and a tag are known.
func TestSizesAreSeen(t *testing.T) {
	got := textWidths([]byte("package x\nvar a, b = \"four\", `two\nmore` // \"no\"\n"))
	if want := map[int]int{2: 10, 3: 5}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("widths %v, want %v", got, want)
	}
	for line, want := range map[string]bool{
		"\tA, B int `csv:\"a\" json:\"a\"`": true, "\t\t{1, 2},": true, "\tif a {": false, "\t// csv:\"a\"": false,
	} {
		if excepted(line, true) != want {
			t.Errorf("%q excepted: want %t", line, want)
		}
	}
}
