package logbook

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
)

// allocated is how many bytes a call allocates, garbage and all.
func allocated(call func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	call()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// Any bytes as slips.csv: no panic, no memory beyond what the file is worth, and
// what is read and appended to reads again.
func FuzzTable(f *testing.F) {
	head := string(slips.header())
	for _, seed := range []string{
		"", head, head[:20], "\xef\xbb\xbf" + head,
		"id,rev,status,time,vehicle,et_1320_s,notes\ns1,1,fact,2026-05-02T14:25:00Z,heron,13.2,\"a, \"\"b\"\"\nc\"\n",
		"id;rev;status;time;vehicle;et_1320_s\r\ns1;1;fact;2026-05-02T14:25:00Z;heron;13,2\r\n\r\ns1;2;void;;;\r\n",
		"id,rev,status,time,vehicle\ns1,x,fact\n\"open,1,fact,,\ns2,1,fact,\x00,\n\xff\n,,,,\ns3,1,fact,2026-05-02T14:25:00Z,heron",
		"id\trev\tstatus\ttime\tvehicle\tvehicle\n",
		"id,rev,status,time,vehicle\n" + strings.Repeat("\"\n", 200),
		"id,rev,status,time,vehicle\ns1,1,fact,2026-05-02T14:25:00Z,heron" + strings.Repeat(",", 4000) + "\ns2,1,,,\r\r\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var c *content
		var err error
		used := allocated(func() { c, err = scan(slips.file, slips.schema, data, by("vehicle", "heron")) })
		// What is allocated, garbage and all, is more than what is ever held. Beyond ten
		// times the file it may take what does not come from the file's length: a parser
		// and the maps of a header, and for each line, were it one byte, its place or the
		// complaint about it in a list that grew to take it. Cells have no share of their
		// own: rows of nothing but separators are refused unparsed.
		if limit := uint64(1<<17 + 10*len(data) + 900*bytes.Count(data, []byte("\n"))); used > limit {
			t.Errorf("%d bytes of file took %d, more than %d", len(data), used, limit)
		}
		if err != nil {
			return
		}
		records, kept, problems := present[Slip](c, c.newest())
		if len(records) != len(kept) {
			t.Fatalf("%d records of %d rows", len(records), len(kept))
		}
		for _, p := range problems {
			if p.Line < 1 || p.What == "" {
				t.Errorf("a problem that does not say where or what: %+v", p)
			}
		}
		widened(t, c)
		if c.torn() {
			return
		}
		// A row taken over to the end of the file is there again, and alone.
		for _, r := range c.rows[:min(3, len(c.rows))] {
			line, _, err := change{t: slips, c: c, rows: []texts{c.texts(r)}, journaled: true}.render()
			if err != nil {
				t.Fatal(err)
			}
			again, err := scan(slips.file, slips.schema, append(data[:len(data):len(data)], line...), nil)
			if err != nil {
				t.Fatalf("after an append: %v", err)
			}
			if len(again.rows) != len(c.rows)+1 {
				t.Fatalf("%d rows, and after an append %d\n%q\n%q", len(c.rows), len(again.rows), data, line)
			}
			if d := slips.schema.diff(c.texts(r), again.texts(again.rows[len(c.rows)])); len(d) > 0 {
				t.Errorf("a row taken over differs in %v", d)
			}
		}
	})
}

// widened holds that a column more changes no row of a file.
func widened(t *testing.T, c *content) {
	const name = "one more"
	if _, there := c.at[name]; there || len(c.header) == maxColumns {
		return
	}
	w, err := c.wider([]string{name})
	if err != nil {
		if len(c.problems) == 0 {
			t.Errorf("a column more: %v", err)
		}
		return
	}
	if len(w.rows) != len(c.rows) || len(w.problems) != len(c.problems) {
		t.Fatalf("a column more makes of %d rows and %d problems %d and %d\n%q\n%q",
			len(c.rows), len(c.problems), len(w.rows), len(w.problems), c.data, w.data)
	}
	for i, r := range c.rows[:min(3, len(c.rows))] {
		if d := slips.schema.diff(c.texts(r), w.texts(w.rows[i])); len(d) > 0 {
			t.Errorf("a column more changes %v of a row\n%q\n%q", d, c.data, w.data)
		}
	}
}

// Any bytes as a backup are refused, or are what they say.
func FuzzBackup(f *testing.F) {
	m := Manifest{Schema: 1}
	files := map[string]string{}
	for name, data := range map[string]string{metaFile: `{"schema":1}`, slips.file: string(slips.header())} {
		files[name] = data
		m.Files = append(m.Files, BackedFile{name, int64(len(data)), sumOf([]byte(data))})
	}
	f.Add(zipOf(f, files, m, nil))
	f.Add(zipOf(f, map[string]string{"../x.csv": "x"}, m, nil))
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Fuzz(func(t *testing.T, data []byte) {
		var got map[string][]byte
		var err error
		used := allocated(func() { m, got, err = unpack(data) })
		// Each file may unpack to a megabyte before its growth counts.
		if limit := uint64(64<<20 + 5*maxGrowth*len(data)); used > limit {
			t.Errorf("%d bytes took %d", len(data), used)
		}
		if err != nil {
			return
		}
		for name := range got {
			if !plainName(name) || !belongs(name) {
				t.Errorf("a file %q was taken", name)
			}
		}
		if len(got) != len(m.Files) {
			t.Errorf("%d files, the manifest names %d", len(got), len(m.Files))
		}
	})
}

// Any text as a manifest, beside sound files.
func FuzzManifest(f *testing.F) {
	sound := map[string][]byte{metaFile: []byte(`{"schema":1}`), slips.file: slips.header()}
	m := Manifest{Schema: 1}
	for name, data := range sound {
		m.Files = append(m.Files, BackedFile{name, int64(len(data)), sumOf(data)})
	}
	good, err := json.Marshal(m)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add([]byte(`{"schema":1,"files":[{"name":"slips.csv","size":-1,"sha256":""},{"name":"slips.csv"}]}`))
	f.Fuzz(func(t *testing.T, manifest []byte) {
		var m Manifest
		if json.Unmarshal(manifest, &m) != nil || m.verify(sound) != nil {
			return
		}
		names := map[string]bool{}
		for _, file := range m.Files {
			names[file.Name] = true
		}
		if len(names) != len(sound) {
			t.Errorf("%q passes for two files", manifest)
		}
	})
}

// Any bytes as a journal.
func FuzzJournal(f *testing.F) {
	line, err := newJournalLine(slips.file, texts{"id": "s1", "rev": "1", "notes": "a\"b"})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(line)
	f.Add(append(line, line[:10]...))
	f.Add([]byte("{}\n\n[]\nnull\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		entries, problems := parseJournal(data)
		lines := bytes.Count(data, []byte("\n"))
		if len(data) > 0 && data[len(data)-1] != '\n' {
			lines++
		}
		if len(entries)+len(problems) != lines {
			t.Errorf("%d lines give %d entries and %d problems", lines, len(entries), len(problems))
		}
		for _, e := range entries {
			if e.id == "" || e.rev < 1 || e.line < 1 {
				t.Errorf("an entry without a key: %+v", e)
			}
			e.texts()
		}
	})
}

// A long file of nothing but damage is read in good time and room.
func TestDamageAtLength(t *testing.T) {
	leftToFullRun(t)
	r := rand.New(rand.NewPCG(1, 1))
	for _, piece := range []string{"\"\n", "x\n", "\"\"\"\n", "a,\"b\n", "\x00\n", "s1,x,fact,,\n", "\"\"\",\"\n"} {
		data := append([]byte("id,rev,status,time,vehicle\n"), bytes.Repeat([]byte(piece), 1<<18/len(piece))...)
		data[len(data)-1-r.IntN(100)] = '"'
		used := allocated(func() {
			if _, err := scan(slips.file, slips.schema, data, nil); err != nil {
				t.Errorf("%q: %v", piece, err)
			}
		})
		if lines := bytes.Count(data, []byte("\n")); used > uint64(10*len(data)+900*lines) {
			t.Errorf("%q: %d bytes a line", piece, used/uint64(lines))
		}
	}
}

// Any cell as a time of another program: two days at most, each of them one that reads
// again as itself.
func FuzzWall(f *testing.F) {
	for _, seed := range []string{"2026/11/25 22:36:27", "25.11.2026 22:36", "11/25/2026 10:36 PM", "2026-Nov-25 22:36", "46144.625", "1/2/06 3:04 am", "", ":", "0/0/0 0:0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, cell string) {
		walls := wallClocks(cell)
		if len(walls) > 2 {
			t.Fatalf("%q: %d days", cell, len(walls))
		}
		for _, w := range walls {
			again := wallClocks(w.Format("2006-01-02 15:04:05"))
			if w.Year() < 10_000 && (len(again) != 1 || !again[0].Equal(w.Time)) || !w.shows(w.Time) {
				t.Errorf("%q is %v, and that reads %v", cell, w, again)
			}
		}
	})
}
