package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"slipcase/cmd/slipcase/internal/notebook"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// readOut is what a general program makes of an exported table: how many rows, the sums of
// columns, and the notes as it reads them.
type readOut struct {
	Rows  int
	Sums  map[string]float64
	Notes []string
}

var summed = []string{"et_1320_s", "mph_1320", "et_60_s", "density_altitude_ft", "track_elevation_ft"}

// reader is such a program; it reads runs.csv or runs.xlsx of a folder.
type reader struct {
	tool, debian string
	read         func(t *testing.T, dir string) readOut
	where        string // the variable that names its folder, "" where it needs none
}

var readers = []reader{
	{"mlr", "miller", func(t *testing.T, dir string) readOut {
		out := output(t, dir, "mlr", "--icsv", "--ojson", "cat", "runs.csv")
		var rows []map[string]any
		if err := json.Unmarshal(out, &rows); err != nil {
			t.Fatal(err)
		}
		r := readOut{Rows: len(rows), Sums: map[string]float64{}}
		for _, row := range rows {
			for _, name := range summed {
				switch v := row[name].(type) {
				case float64:
					r.Sums[name] += v
				case string:
					if v != "" {
						t.Errorf("%s is text to Miller: %q", name, v)
					}
				}
			}
			r.Notes = append(r.Notes, fmt.Sprint(row["notes"]))
		}
		return r
	}, ""},
	{"sqlite3", "sqlite3", func(t *testing.T, dir string) readOut {
		script := ".mode csv\n.import runs.csv runs\n.mode json\n" +
			"select notes, id" + strings.Join(append([]string{""}, summed...), ", ") + " from runs;\n"
		c := exec.Command("sqlite3", ":memory:")
		c.Dir, c.Stdin = dir, strings.NewReader(script)
		out, err := c.Output()
		if err != nil {
			t.Fatal(err)
		}
		var rows []map[string]string
		if err := json.Unmarshal(out, &rows); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		return readText(t, rows)
	}, ""},
	{"ssconvert", "gnumeric", func(t *testing.T, dir string) readOut {
		output(t, dir, "ssconvert", "runs.xlsx", "back.csv")
		data, err := os.ReadFile(filepath.Join(dir, "back.csv"))
		if err != nil {
			t.Fatal(err)
		}
		lines, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var rows []map[string]string
		for _, line := range lines[1:] {
			row := map[string]string{}
			for i, cell := range line {
				row[lines[0][i]] = cell
			}
			rows = append(rows, row)
		}
		return readText(t, rows)
	}, ""},
	{"Rscript", "r-base-core", func(t *testing.T, dir string) readOut {
		script := `d <- read.csv("runs.csv", encoding = "UTF-8", na.strings = "")
cat(nrow(d), "\n")
for (n in commandArgs(TRUE)) {
  stopifnot(is.numeric(d[[n]]) || all(is.na(d[[n]])))
  cat(sprintf("%.9f\n", sum(d[[n]], na.rm = TRUE)))
}
writeLines(enc2utf8(as.character(d$notes)), useBytes = TRUE)
`
		if err := os.WriteFile(filepath.Join(dir, "read.R"), []byte(script), 0o600); err != nil {
			t.Fatal(err)
		}
		return readLines(t, string(output(t, dir, "Rscript", append([]string{"--vanilla", "read.R"}, summed...)...)))
	}, ""},
	{"node", "nodejs, npm install @duckdb/node-api and DUCKDB_NODE its folder", func(t *testing.T, dir string) readOut {
		script := `const {DuckDBInstance} = require(process.env.DUCKDB_NODE + '/node_modules/@duckdb/node-api');
			const columns = process.argv.slice(1);
			(async () => {
				const c = await (await DuckDBInstance.create()).connect();
				const ask = async q => (await c.runAndReadAll(q)).getRows();
				const sums = columns.map(n => 'coalesce(sum(' + n + '), 0)::double').join();
				const [[n, ...of]] = await ask("select count(*), " + sums + " from read_csv('runs.csv')");
				console.log([n, ...of].join('\n'));
				for (const [note] of await ask("select notes from read_csv('runs.csv', all_varchar = true)")) console.log(note);
			})();`
		return readLines(t, string(output(t, dir, "node", append([]string{"-e", script}, summed...)...)))
	}, "DUCKDB_NODE"},
}

// readLines reads the number of rows, the sums and the notes, a line each.
func readLines(t *testing.T, out string) readOut {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	r := readOut{Sums: map[string]float64{}}
	var err error
	if r.Rows, err = strconv.Atoi(strings.TrimSpace(lines[0])); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for i, name := range summed {
		if r.Sums[name], err = strconv.ParseFloat(lines[1+i], 64); err != nil {
			t.Errorf("%s is no number: %v", name, err)
		}
	}
	r.Notes = lines[1+len(summed):]
	return r
}

// lacks tells of a program that is not here, without which CI tests nothing.
func lacks(t *testing.T, format string, args ...any) {
	t.Helper()
	if t.Logf(format, args...); os.Getenv("CI") == "true" {
		t.FailNow()
	}
}

func readText(t *testing.T, rows []map[string]string) readOut {
	t.Helper()
	r := readOut{Rows: len(rows), Sums: map[string]float64{}}
	for _, row := range rows {
		for _, name := range summed {
			if row[name] == "" {
				continue
			}
			v, err := strconv.ParseFloat(row[name], 64)
			if err != nil {
				t.Errorf("%s is no number: %v", name, err)
			}
			r.Sums[name] += v
		}
		r.Notes = append(r.Notes, row["notes"])
	}
	return r
}

func output(t *testing.T, dir, name string, args ...string) []byte {
	t.Helper()
	c := exec.Command(name, args...)
	c.Dir = dir
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%s %v: %v", name, args, err)
	}
	return out
}

// TestOthersReadExports: general programs find in an export what the log holds: as many
// runs, numbers as numbers, notes as they are but for a formula made harmless.
func TestOthersReadExports(t *testing.T) {
	leftToFullRun(t)
	logs := 3
	if os.Getenv("SLIPCASE_CAMPAIGN") != "" {
		logs = 200
	}
	for seed := range logs {
		dir := t.TempDir()
		r := rand.New(rand.NewPCG(uint64(seed), 18))
		want := strangeLog(t, filepath.Join(dir, "log"), r)
		for _, name := range []string{"runs.csv", "runs.xlsx"} {
			args := []string{"export", filepath.Join(dir, name), "--no-forecast", "--logbook", filepath.Join(dir, "log")}
			if status, _, said := runLine(t, args...); status != exitDone {
				t.Fatalf("%v: %s", args, said)
			}
		}
		for _, by := range readers {
			if _, err := exec.LookPath(by.tool); err != nil || by.where != "" && os.Getenv(by.where) == "" {
				if seed == 0 {
					lacks(t, "%s is not installed (Debian: %s)", by.tool, by.debian)
				}
				continue
			}
			got := by.read(t, dir)
			if got.Rows != want.Rows {
				t.Errorf("log %d: %s reads %d runs of %d", seed, by.tool, got.Rows, want.Rows)
			}
			for name, sum := range want.Sums {
				if math.Abs(got.Sums[name]-sum) > 1e-6 {
					t.Errorf("log %d: %s sums %s to %v, not %v", seed, by.tool, name, got.Sums[name], sum)
				}
			}
			if d := cmp.Diff(want.Notes, got.Notes); d != "" {
				t.Errorf("log %d: the notes by %s:\n%s", seed, by.tool, d)
			}
		}
	}
}

// strangeLog records slips with figures left out and notes that are hard to carry, and
// tells what an export of them must hold.
func strangeLog(t *testing.T, dir string, r *rand.Rand) readOut {
	t.Helper()
	for _, line := range [][]string{
		{"init"},
		{"vehicle", "add", "heron"},
		{"track", "add", "saltgrass", "--elevation", "812ft"},
		{"air", "add", "--temp", "88F", "--rh", "42", "--station", "28.94inHg", "--at", "2026-05-02T10:00"},
	} {
		if status, _, said := runLine(t, append(line, "--logbook", dir)...); status != exitDone {
			t.Fatalf("%v: %s", line, said)
		}
	}
	lb, err := logbook.Open(dir, logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	notes := []struct{ is, told string }{
		{"plain", "plain"},
		{"=1+1", "'=1+1"},
		{"-0.2 in the box", "'-0.2 in the box"},
		{"+3 psi", "'+3 psi"},
		{"@the tree", "'@the tree"},
		{`he said "go", twice; really`, `he said "go", twice; really`},
		{"tire 24,5 psi", "tire 24,5 psi"},
		{"größer, 24°, ✓", "größer, 24°, ✓"},
		{"007", "007"},
	}
	want := readOut{Sums: map[string]float64{"track_elevation_ft": 0}}
	var slips []*logbook.Slip
	for i := range 5 + r.IntN(40) {
		n := notes[r.IntN(len(notes))]
		s := &logbook.Slip{Vehicle: "heron", Track: "saltgrass", Notes: n.is}
		s.Time = logbook.Time{Time: time.Date(2026, 5, 2, 10, 0, 0, 0, time.UTC).Add(time.Duration(i) * 7 * time.Minute)}
		for _, f := range []struct {
			name string
			of   *units.Number
			mid  float64
		}{{"et_60_s", &s.ET60S, 1.9}, {"et_1320_s", &s.ET1320S, 13.2}, {"mph_1320", &s.MPH1320, 105}} {
			if f.name == "et_1320_s" || r.Float64() < 0.8 {
				v := math.Round(f.mid*(0.97+0.06*r.Float64())*1000) / 1000
				*f.of = units.Some(v)
				want.Sums[f.name] += v
			}
		}
		want.Rows++
		want.Sums["track_elevation_ft"] += 812
		want.Notes = append(want.Notes, n.told)
		slips = append(slips, s)
	}
	if err := lb.AddSlips(slips...); err != nil {
		t.Fatal(err)
	}
	return want
}

// recipe is a line of the export's help that is set in: a command for a shell.
var recipe = regexp.MustCompile(`(?m)^    (\S.*)$`)

// TestExportRecipes runs the recipes at the end of the export's help. DuckDB's is run as
// its statement by DuckDB's library for Node where that is installed in $DUCKDB_NODE.
func TestExportRecipes(t *testing.T) {
	leftToFullRun(t)
	dir := t.TempDir()
	want := strangeLog(t, filepath.Join(dir, "log"), rand.New(rand.NewPCG(7, 18)))
	for _, to := range []string{"team", "runs.csv"} {
		if status, _, said := runLine(t, "export", filepath.Join(dir, to),
			"--logbook", filepath.Join(dir, "log")); status != exitDone {
			t.Fatal(said)
		}
	}
	recipes := recipe.FindAllStringSubmatch(helpTail("export"), -1)
	if len(recipes) != 3 {
		t.Fatalf("%d recipes", len(recipes))
	}
	for _, r := range recipes {
		line := r[1]
		tool, rest, _ := strings.Cut(line, " ")
		if tool == "duckdb" {
			if os.Getenv("DUCKDB_NODE") == "" {
				lacks(t, "DuckDB is not here: npm install @duckdb/node-api, and DUCKDB_NODE its folder")
				continue
			}
			query := strings.TrimSuffix(strings.TrimPrefix(rest, `-c "`), `"`)
			script := "const {DuckDBInstance} = require(process.env.DUCKDB_NODE + '/node_modules/@duckdb/node-api');" +
				"DuckDBInstance.create().then(i => i.connect()).then(c => c.runAndReadAll(process.argv[1])).then(r => console.log(r.getRows().join()));"
			line = "node -e " + strconv.Quote(script) + " " + strconv.Quote(query)
		} else if _, err := exec.LookPath(tool); err != nil {
			lacks(t, "%s is not installed", tool)
			continue
		}
		out := string(output(t, dir, "sh", "-c", line))
		if !strings.Contains(out, "heron") && !strings.Contains(out, strconv.Itoa(want.Rows)) {
			t.Errorf("%s prints %q", line, out)
		}
	}
}

// BenchmarkExport writes 10,000 runs without forecasts, beside the floor: a pass over their
// file with encoding/csv.
func BenchmarkExport(b *testing.B) {
	dir := big(b)
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			data, err := os.ReadFile(filepath.Join(dir, "slips.csv"))
			if err != nil {
				b.Fatal(err)
			}
			in := csv.NewReader(strings.NewReader(string(data)))
			in.ReuseRecord = true
			for err == nil {
				_, err = in.Read()
			}
		}
	})
	for _, ending := range notebook.Endings {
		b.Run(ending[1:], func(b *testing.B) {
			for b.Loop() {
				args := []string{"export", filepath.Join(dir, "..", "runs"+ending), "--no-forecast", "--force", "--logbook", dir}
				if status, _, said := runLine(b, args...); status != exitDone {
					b.Fatal(said)
				}
			}
		})
	}
}
