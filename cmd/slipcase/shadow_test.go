package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// Every command line of the scripts is run beside in metric and as JSON, each time in a
// copy of the script's folder: so whatever a racer types in a script is looked at in
// those forms too.

// shadow is a command line of a script in one form, and what came of it.
type shadow struct {
	Script, Form string // us or metric, for a person; json
	Args         []string
	Status       int
	Out, Err     string
}

// withShadowsOf has every command line of the scripts run beside in the other forms, and looks at
// what came of them.
func withShadowsOf(t *testing.T, p *testscript.Params) {
	dir := t.TempDir()
	t.Cleanup(func() { lookAtShadows(t, shadowsOf(t, dir)) })
	setup := p.Setup
	p.Setup = func(env *testscript.Env) error {
		env.Setenv("SLIPCASE_TEST_SHADOWS", dir)
		return setup(env)
	}
}

// withShadows runs a command line, and it in the other forms beside.
func withShadows(ctx context.Context, dir string, a *app, args []string) int {
	own := shadow{Script: filepath.Base(os.Getenv("WORK")), Form: "us", Args: args}
	if info, err := os.Stdin.Stat(); err == nil && info.Mode()&os.ModeCharDevice == 0 {
		typed, err := io.ReadAll(os.Stdin)
		if err != nil {
			panic(err)
		}
		beside := func(form string, flags ...string) int {
			s := shadow{Script: own.Script, Form: form, Args: slices.Concat(args, flags)}
			if slices.Contains(args, "--") {
				s.Args = slices.Concat(flags, args)
			}
			s.run(ctx, dir, typed)
			s.keep(dir)
			return s.Status
		}
		if beside("metric", "--format", "table", "--units", "metric") <= exitCould {
			beside("json", "--format", "json")
		}
		a.in = bytes.NewReader(typed)
	}
	var out, errOut bytes.Buffer
	a.out, a.errOut = io.MultiWriter(a.out, &out), io.MultiWriter(a.errOut, &errOut)
	own.Status = a.run(ctx, args)
	if own.Out, own.Err = out.String(), errOut.String(); a.format == table.Text && a.units == units.US {
		own.keep(dir)
	}
	return own.Status
}

func (s *shadow) asksHelp() bool {
	return slices.Contains(s.Args, "--help") || len(s.Args) > 0 && s.Args[0] == "help" ||
		strings.Contains(s.Out, "\nUsage:\n")
}

func (s *shadow) keep(dir string) {
	record, err := json.Marshal(s)
	if err != nil {
		panic(err)
	}
	f, err := os.CreateTemp(dir, "*.json")
	if err == nil {
		_, err = f.Write(record)
	}
	if err != nil {
		panic(err)
	}
	f.Close()
}

// run runs the line in a copy of the script's folder, which all its paths are moved to.
func (s *shadow) run(ctx context.Context, dir string, typed []byte) {
	was := os.Environ()
	here, err := os.Getwd()
	if err != nil {
		panic(err)
	}
	work := os.Getenv("WORK")
	beside, err := os.MkdirTemp(dir, "work")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(beside)
	os.CopyFS(beside, os.DirFS(work)) // what cannot be read, the command cannot read either
	moved := func(text string) string { return strings.ReplaceAll(text, work, beside) }
	for _, pair := range was {
		name, value, _ := strings.Cut(pair, "=")
		os.Setenv(name, moved(value))
		defer os.Setenv(name, value)
	}
	if err := os.Chdir(moved(here)); err != nil {
		panic(err)
	}
	defer os.Chdir(here)
	args := make([]string, len(s.Args))
	for i, arg := range s.Args {
		args[i] = moved(arg)
	}
	var out, errOut bytes.Buffer
	a := heldApp(bytes.NewReader(typed), &out, &errOut)
	s.Status = a.run(ctx, args)
	s.Out, s.Err = out.String(), errOut.String()
}

// shadowsOf reads what the scripts left in a folder.
func shadowsOf(t *testing.T, dir string) (all []shadow) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(dir, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range paths {
		var s shadow
		text, err := os.ReadFile(p)
		if err == nil {
			err = json.Unmarshal(text, &s)
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, s)
	}
	return all
}

// lookAtShadows holds what the scripts left to what every answer owes.
func lookAtShadows(t *testing.T, all []shadow) {
	scripts, err := filepath.Glob("testdata/script/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	ran := map[string]bool{}
	for _, s := range all {
		ran[s.Script] = true
	}
	holdJSONKeys(t, all, len(ran) == len(scripts))
	holdUnits(t, all)
}
