package main

import (
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestLicenses: the notices of every module that is linked, and of Go's own library, are
// those in the modules; -update writes them anew.
func TestLicenses(t *testing.T) {
	leftToFullRun(t)
	want := map[string]string{"go.txt": noticesIn(t, strings.TrimSpace(string(output(t, ".", "go", "env", "GOROOT"))))}
	for _, goos := range []string{"linux", "windows", "darwin"} {
		c := exec.Command("go", "list", "-deps", "-json=Module", ".")
		c.Env = append(os.Environ(), "GOOS="+goos, "CGO_ENABLED=0")
		out, err := c.Output()
		if err != nil {
			t.Fatal(err)
		}
		for d := json.NewDecoder(strings.NewReader(string(out))); ; {
			var p struct {
				Module *struct {
					Path, Dir string
					Main      bool
				}
			}
			if err := d.Decode(&p); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(err)
			}
			if p.Module != nil && !p.Module.Main && want[fileOf(p.Module.Path)] == "" {
				want[fileOf(p.Module.Path)] = noticesIn(t, p.Module.Dir)
			}
		}
	}
	for name, text := range want {
		path := filepath.Join("licenses", name)
		if *update {
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != text {
			t.Errorf("%s is not the module's own: go test ./cmd/slipcase -run Licenses -update writes it (%v)", path, err)
		}
	}
	files, err := os.ReadDir("licenses")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if want[f.Name()] == "" {
			t.Errorf("licenses/%s is of nothing that is linked", f.Name())
		}
	}
}

// noticesIn are the texts of a module's licence files; Debian's Go keeps its own elsewhere.
func noticesIn(t *testing.T, dir string) string {
	t.Helper()
	var all strings.Builder
	for _, pattern := range []string{"LICENSE*", "COPYING*", "NOTICE*"} {
		files, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(text)
			all.WriteByte('\n')
		}
	}
	if all.Len() == 0 {
		t.Fatalf("%s has no licence", dir)
	}
	return all.String()
}

// fileOf is the file that has the notices of a module.
func fileOf(module string) string { return strings.ReplaceAll(module, "/", "+") + ".txt" }
