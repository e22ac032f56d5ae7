package logbook

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"
)

func asUTF16(text []byte, order binary.AppendByteOrder) []byte {
	out := order.AppendUint16(nil, 0xfeff)
	for _, u := range utf16.Encode([]rune(string(text))) {
		out = order.AppendUint16(out, u)
	}
	return out
}

func asUTF16LE(text []byte) []byte { return asUTF16(text, binary.LittleEndian) }

func tabs(text []byte) []byte { return bytes.ReplaceAll(text, []byte(","), []byte("\t")) }

// Files as other programs save them are read, appended to, checked and backed up; what
// cannot be appended to in its own manner is made anew, and kept beside as it was.
func TestForeignFiles(t *testing.T) {
	for _, tc := range aThird([]struct {
		name string
		save func([]byte) []byte
		anew bool // made anew by the first append
	}{
		{"UTF-16, little end first", asUTF16LE, true},
		{"UTF-16, big end first", func(b []byte) []byte { return asUTF16(b, binary.BigEndian) }, true},
		{"UTF-16 with tabs", func(b []byte) []byte { return asUTF16LE(tabs(b)) }, true},
		{"CR alone", func(b []byte) []byte { return bytes.ReplaceAll(b, []byte("\n"), []byte("\r")) }, true},
		{"a line for the separator", func(b []byte) []byte { return append([]byte("sep=,\r\n"), b...) }, false},
		{"a line for another separator", func(b []byte) []byte { return append([]byte("\xef\xbb\xbfsep=\t\n"), tabs(b)...) }, false},
		{"a title", func(b []byte) []byte { return append([]byte("My slips of 2026,,,\n\n"), b...) }, false},
		{"a title in quotes", func(b []byte) []byte { return append([]byte("\"Slips, 2026\"\n"), b...) }, false},
		{"30,000 blank rows", func(b []byte) []byte {
			blank := strings.Repeat(",", bytes.Count(b[:lineEnd(b, 0)], []byte(","))) + "\n"
			return append(b, strings.Repeat(blank, 30_000)...)
		}, false},
	}) {
		t.Run(tc.name, func(t *testing.T) {
			lb := start(t)
			for n, note := range []string{"plain", "", "ünïcode 🏁"} {
				must(t, lb.AddSlips(marked(note, n)))
			}
			want, err := lb.Slips("")
			must(t, err)
			data, err := os.ReadFile(lb.path(slips.file))
			must(t, err)
			saved := tc.save(data)
			must(t, os.WriteFile(lb.path(slips.file), saved, 0o600))
			check := func() {
				t.Helper()
				lb = onDisk(t, lb)
				lb.newID = NewID
				got, err := lb.Slips("")
				must(t, err)
				if diff := cmp.Diff(want, got); diff != "" || len(lb.Problems()) > 0 {
					t.Errorf("slips differ, problems %v (-want +read):\n%s", lb.Problems(), diff)
				}
				noneGrave(t, lb)
			}
			check()
			n := kinds(t, lb)
			if blank := strings.Contains(tc.name, "blank"); (n[Foreign] > 0) != tc.anew || (n[Blank] > 0) != blank {
				t.Errorf("the check finds %v", n)
			}
			zip := filepath.Join(t.TempDir(), "log.zip")
			_, err = lb.Backup(zip, false)
			must(t, err)
			into := filepath.Join(t.TempDir(), "back")
			_, err = Restore(zip, into, Options{})
			must(t, err)
			back, err := Open(into, heldOptions())
			must(t, err)
			if got, err := back.Slips(""); err != nil || !cmp.Equal(got, want) {
				t.Errorf("restored: %v, %v", got, err)
			}
			s := marked("after", 9)
			must(t, lb.AddSlips(s))
			want = append(want, *s)
			check()
			after, err := os.ReadFile(lb.path(slips.file))
			must(t, err)
			if bytes.HasPrefix(after, saved) == tc.anew {
				t.Errorf("after the append the file begins %q", after[:min(60, len(after))])
			}
			if aside := besides(t, lb, slips.file); tc.anew != (len(aside) == 1 && bytes.Equal(aside[0], saved)) {
				t.Errorf("%d files kept aside", len(aside))
			}
			s = marked("driver", 10)
			s.Driver = "me" // a column more
			must(t, lb.AddSlips(s))
			want = append(want, *s)
			check()
		})
	}
}

// A stale copy saved in another alphabet is completed from the journal.
func TestForeignStaleCopyIsRepaired(t *testing.T) {
	lb := start(t)
	must(t, lb.AddSlips(marked("one", 1), marked("two", 2)))
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	must(t, lb.AddSlips(marked("three", 3)))
	want, err := lb.Slips("")
	must(t, err)
	must(t, os.WriteFile(lb.path(slips.file), asUTF16LE(tabs(data)), 0o600))
	repair(t, lb)
	got, err := lb.Slips("")
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("repaired (-want +read):\n%s", diff)
	}
	noneGrave(t, lb)
}

// An end of NULs, as a power cut can leave, costs no more than its reading: its line is
// not parsed. A quote open before it swallows none of it either.
func TestALongTailOfNULs(t *testing.T) {
	lb := start(t)
	must(t, lb.AddSlips(marked("one", 1), marked("two", 2)))
	data, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	for _, before := range []string{"", "s9,1,fact,\"open", "s9,1,fact,\"open\n"} {
		long := append(append(data[:len(data):len(data)], before...), make([]byte, 32<<20)...)
		var c *content
		used := allocated(func() {
			c, err = scan(slips.file, slips.schema, long, nil)
			must(t, err)
		})
		if len(c.rows) != 2 || !c.torn() {
			t.Errorf("after %q: %d rows, torn %v", before, len(c.rows), c.torn())
		}
		if used > uint64(len(long)/8) {
			t.Errorf("after %q: %d bytes took %d", before, len(long), used)
		}
	}
}
