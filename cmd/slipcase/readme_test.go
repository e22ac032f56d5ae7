package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "write what the commands print now into README.md and the golden files")

// readmeBlock is a fenced console session of README.md.
var readmeBlock = regexp.MustCompile("(?s)```console\n(.*?)```")

// TestREADME runs every command that README.md shows, one after the other in one
// folder, and compares what they print with what it says. A line "..." of the
// README stands for any lines, and one that ends in "..." may go on as it likes.
func TestREADME(t *testing.T) {
	leftToFullRun(t)
	const path = "../../README.md"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	blocks := readmeBlock.FindAllSubmatch(text, -1)
	if len(blocks) < 3 {
		t.Fatalf("README.md shows %d console sessions", len(blocks))
	}
	home, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	r := readmeRunner{t: t, dir: t.TempDir(), home: home}
	if err := os.CopyFS(r.dir, os.DirFS("testdata/readme")); err != nil { // somebody's spreadsheet
		t.Fatal(err)
	}
	t.Setenv("TMPDIR", t.TempDir()) // where the demo makes its folder
	t.Chdir(r.dir)
	defer r.tails()
	out := readmeBlock.ReplaceAllFunc(text, func(block []byte) []byte {
		return fmt.Appendf(nil, "```console\n%s```", r.session(string(readmeBlock.FindSubmatch(block)[1])))
	})
	if r.ran < 8 {
		t.Errorf("only %d commands of README.md were run", r.ran)
	}
	if *update && !bytes.Equal(text, out) {
		if err := os.WriteFile(filepath.Join(r.home, path), out, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// tailsInOrder are the ends of the helps: the demo's season is typed in by the first that
// shows it, and the log that check shows is the README's.
var tailsInOrder = []string{
	"slipcase",
	"air",
	"correct",
	"forecast",
	"slip",
	"backtest",
	"compare",
	"plan",
	"boost",
	"check",
	"export",
	"serve",
}

// tailBlock is a session in the end of a help: the lines that are set in, from a prompt on.
var tailBlock = regexp.MustCompile(`(?m)^    \$ .*\n(?:(?:    .*)?\n)*(?:    .*\n)?`)

// tails runs what the ends of the helps show, in the same folder.
func (r *readmeRunner) tails() {
	files, err := helpTails.ReadDir("help")
	if err != nil || len(files) != len(tailsInOrder) {
		r.t.Fatalf("%d ends of helps, %d are run here: %v", len(files), len(tailsInOrder), err)
	}
	for _, name := range tailsInOrder {
		text := helpTail(name)
		if text == "" {
			r.t.Fatalf("help/%s.txt is empty or missing", name)
		}
		out := tailBlock.ReplaceAllStringFunc(text, func(block string) string {
			bare := regexp.MustCompile("(?m)^    ").ReplaceAllString(block, "")
			session := strings.TrimRight(r.session(bare), "\n")
			set := regexp.MustCompile("(?m)^(.+)$").ReplaceAllString(session, "    $1") + "\n"
			return set + block[len(strings.TrimRight(block, "\n"))+1:]
		})
		if *update && out != text {
			if err := os.WriteFile(filepath.Join(r.home, "help", name+".txt"), []byte(out), 0o644); err != nil {
				r.t.Fatal(err)
			}
		}
	}
}

// TestREADMENamesEveryCommand holds the table of commands against the program.
func TestREADMENamesEveryCommand(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(text), "\n## Commands\n")
	section, _, _ = strings.Cut(section, "\n## ")
	named := map[string]bool{}
	for _, row := range regexp.MustCompile("(?m)^\\| (`.*?) \\|").FindAllStringSubmatch(section, -1) {
		for _, name := range regexp.MustCompile("`([a-z]+)").FindAllStringSubmatch(row[1], -1) {
			named[name[1]] = true
		}
	}
	a := &app{}
	for _, c := range a.command().Commands() {
		if name := c.Name(); name != "help" && name != "completion" && !named[name] {
			t.Errorf("the table of commands lacks %s", name)
		}
		delete(named, c.Name())
	}
	for name := range named {
		t.Errorf("the table of commands names %s, which is none", name)
	}
}

type readmeRunner struct {
	t         *testing.T
	dir, home string
	ran, ids  int
}

// session runs the commands of one block and returns it as it should read.
func (r *readmeRunner) session(block string) string {
	var fresh strings.Builder
	for step := range strings.SplitSeq("\n"+block, "\n$ ") {
		if step = strings.TrimRight(step, "\n"); step == "" {
			continue
		}
		command, want, _ := strings.Cut(step, "\n")
		fmt.Fprintf(&fresh, "$ %s\n", command)
		if strings.HasPrefix(command, "go test") {
			continue // it is what runs this
		}
		got := r.run(command)
		if !likeREADME(want, got) {
			if !*update {
				r.t.Errorf("README.md or a help shows for\n  $ %s\n%s\nbut it prints\n%s", command, want, got)
			}
			want = got
		}
		if want != "" {
			fmt.Fprintln(&fresh, want)
		}
	}
	return fresh.String()
}

func (r *readmeRunner) run(command string) string {
	command = strings.ReplaceAll(command, "go run ./cmd/slipcase", "slipcase")
	command = strings.ReplaceAll(command, "\\\n", " ")
	words, err := splitWords(command)
	if err != nil || len(words) == 0 || words[0] != "slipcase" {
		r.t.Fatalf("README.md shows %q, which this test cannot run", command)
	}
	var out bytes.Buffer
	a := &app{
		in: strings.NewReader(""), out: &out, errOut: &out,
		now:   func() time.Time { return time.Date(2026, 5, 2, 20, 30, 0, 0, time.UTC) },
		newID: func(kind byte) string { r.ids++; return fmt.Sprintf("%c%09d", kind, r.ids) },
	}
	a.run(r.t.Context(), words[1:])
	r.ran++
	return strings.TrimRight(out.String(), "\n")
}

// likeREADME compares line by line.
func likeREADME(want, got string) bool {
	var pattern strings.Builder
	for i, line := range strings.Split(want, "\n") {
		if line == "..." && i == 0 {
			pattern.WriteString(`.*(\n.*)*`)
			continue
		}
		if line == "..." {
			pattern.WriteString(`(\n.*)*`)
			continue
		}
		if i > 0 {
			pattern.WriteString(`\n`)
		}
		open, cut := strings.CutSuffix(line, "...")
		pattern.WriteString(regexp.QuoteMeta(open))
		if cut {
			pattern.WriteString(`.*`)
		}
	}
	return regexp.MustCompile(`^` + pattern.String() + `$`).MatchString(got)
}
