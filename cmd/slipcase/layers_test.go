package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/token"
	"io"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
)

// goPackage is what go list tells of a package.
type goPackage struct {
	ImportPath   string
	Standard     bool
	Deps         []string
	Imports      []string
	TestImports  []string
	XTestImports []string
}

// goList is what go list tells of our packages.
var goList = sync.OnceValues(func() (ps []goPackage, err error) {
	c := exec.Command("go", "list", "-json=ImportPath,Standard,Deps,Imports,TestImports,XTestImports", "./...")
	c.Dir = "../.."
	out, err := c.Output()
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		err = fmt.Errorf("go list: %w\n%s", err, exit.Stderr)
	}
	for d := json.NewDecoder(bytes.NewReader(out)); err == nil; {
		var p goPackage
		if err = d.Decode(&p); err == nil {
			ps = append(ps, p)
		}
	}
	if err == io.EOF {
		err = nil
	}
	return ps, err
})

const (
	in      = "slipcase/cmd/slipcase/internal/"
	inPhone = in + "phone" // the page on the pit's network
)

// mayImport is the one direction of the house: units <- weather <- logbook and
// predict, which do not know each other <- cmd/slipcase. A package that is not
// named here does not exist.
var mayImport = map[string][]string{
	"slipcase/weather/units":             {},
	"slipcase/weather":                   {"slipcase/weather/units"},
	"slipcase/logbook":                   {"slipcase/weather", "slipcase/weather/units"},
	"slipcase/predict":                   {"slipcase/weather", "slipcase/weather/units"},
	"slipcase/predict/season/powertrain": {},
	"slipcase/predict/season": {
		"slipcase/predict",
		"slipcase/weather",
		"slipcase/weather/units",
		"slipcase/predict/season/powertrain",
	},
	in + "table":   {},
	in + "counts":  {},
	in + "pattern": {},
	in + "tty":     {in + "table"},
	in + "typed":   {in + "pattern", "slipcase/weather/units", "slipcase/weather", "slipcase/logbook"},
	in + "intake":  {in + "crew", in + "page", in + "notebook", in + "typed", "slipcase/logbook", "slipcase/weather/units"},
	in + "printed": {in + "pattern", in + "typed", "slipcase/weather/units", "slipcase/logbook"},
	in + "crew": {
		"slipcase/weather",
		"slipcase/weather/units",
		"slipcase/logbook",
		"slipcase/predict",
	},
	in + "page":  {in + "crew", in + "table", "slipcase/weather/units"},
	in + "board": {in + "crew", in + "page", in + "printed", in + "tty", in + "typed", "slipcase/weather/units"},
	in + "form": {
		in + "crew", in + "page", in + "table", in + "tty", in + "typed", "slipcase/logbook", "slipcase/weather/units",
	},
	in + "notebook": {
		in + "crew",
		in + "pattern",
		in + "table",
		in + "typed",
		"slipcase/logbook",
		"slipcase/weather/units",
	},
	in + "picture": {in + "crew", in + "page", "slipcase/weather/units"},
	in + "report":  {in + "crew", in + "page", in + "picture", in + "table", "slipcase/weather/units"},
	inPhone: {
		in + "crew", in + "page", in + "printed", in + "table", in + "typed", "slipcase/logbook", "slipcase/weather/units",
	},
	"slipcase/cmd/slipcase": {
		"slipcase/weather", "slipcase/weather/units", "slipcase/logbook", "slipcase/predict",
		in + "table", in + "tty", in + "typed", in + "crew", in + "page", in + "notebook", in + "board", in + "form",
		in + "picture", in + "report", in + "printed", in + "intake", in + "counts", inPhone,
	},
}

func TestLayers(t *testing.T) {
	ps, err := goList()
	if err != nil || len(ps) < 6 {
		t.Fatalf("go list names %d packages: %v", len(ps), err)
	}
	for _, p := range ps {
		allowed, known := mayImport[p.ImportPath]
		if !known {
			t.Errorf("%s has no place in the layout", p.ImportPath)
		}
		tests := slices.Concat(allowed, []string{p.ImportPath})
		if strings.HasPrefix(p.ImportPath, "slipcase/predict") || p.ImportPath == "slipcase/cmd/slipcase" ||
			p.ImportPath == in+"crew" {
			tests = append(tests, "slipcase/predict/season") // invented seasons, for tests alone
		}
		if p.ImportPath == in+"page" {
			tests = append(tests, "slipcase/predict", "slipcase/weather") // facts to put into words
		}
		if p.ImportPath == inPhone {
			tests = append(tests, "slipcase/weather") // readings to record
		}
		if p.ImportPath == in+"crew" {
			tests = append(tests, in+"typed") // what fingers make of a slip
		}
		if p.ImportPath == in+"board" {
			tests = append(tests, "slipcase/logbook") // a log to hold open
		}
		holdImports(t, p.ImportPath, p.Imports, allowed)
		holdImports(t, "the tests of "+p.ImportPath, slices.Concat(p.TestImports, p.XTestImports), tests)
	}
}

func holdImports(t *testing.T, who string, imports, allowed []string) {
	t.Helper()
	for _, i := range imports {
		if strings.HasPrefix(i, "slipcase/") && !slices.Contains(allowed, i) {
			t.Errorf("%s imports %s, which goes against the layers", who, i)
		}
		if net := i == "net" || strings.HasPrefix(i, "net/") && i != "net/url"; net && !strings.HasSuffix(who, inPhone) {
			t.Errorf("%s imports %s: of our packages only %s may open a network", who, i, inPhone)
		}
	}
}

// TestMainAsksTheCrew: package main works with the predictor itself only where no log
// is open: what a formula or a boost is asked for.
func TestMainAsksTheCrew(t *testing.T) {
	without := []string{"forecastformula.go", "boostflags.go"}
	eachFile(t, ".", func(name string, f *ast.File) {
		for _, i := range f.Imports {
			if i.Path.Value == `"slipcase/predict"` && !slices.Contains(without, name) {
				t.Errorf("%s imports the predictor: want the crew asked", name)
			}
		}
	})
}

// TestFactsNameNoCommand: what only knows facts names no flag and no command.
func TestFactsNameNoCommand(t *testing.T) {
	named := regexp.MustCompile(`--[a-z]|\bslipcase [a-z]`)
	for _, dir := range []string{"../../logbook", "../../predict", "../../weather", "../../weather/units"} {
		eachFile(t, dir, func(name string, f *ast.File) {
			ast.Inspect(f, func(n ast.Node) bool {
				if text, ok := n.(*ast.BasicLit); ok && text.Kind == token.STRING && named.MatchString(text.Value) {
					t.Errorf("%s/%s names a flag or a command: %s", dir, name, text.Value)
				}
				return true
			})
		})
	}
}

// eachFile parses the files of a package, tests left out.
func eachFile(t *testing.T, dir string, look func(name string, f *ast.File)) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no package in %s: %v", dir, err)
	}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		look(filepath.Base(path), parsed(t, path))
	}
}

// TestProgramDependencies: the program carries none of the tests' invented seasons. That
// no command opens a socket is shown by running them: TestNoNetwork.
func TestProgramDependencies(t *testing.T) {
	ps, err := goList()
	at := slices.IndexFunc(ps, func(p goPackage) bool { return p.ImportPath == "slipcase/cmd/slipcase" })
	if err != nil || at < 0 || !slices.Contains(ps[at].Deps, "slipcase/logbook") {
		t.Fatalf("go list does not tell what the program is built of: %v", err)
	}
	for _, dep := range ps[at].Deps {
		if dep == "testing" || dep == "slipcase/predict/season" {
			t.Errorf("the program is built with %s", dep)
		}
	}
}
