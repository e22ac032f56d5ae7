package logbook

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// quickest is the least time of some tries.
func quickest(tries int, f func()) (best time.Duration) {
	for try := range tries {
		began := time.Now()
		f()
		if took := time.Since(began); try == 0 || took < best {
			best = took
		}
	}
	return best
}

// TestNULTailCost: a gigabyte of NULs behind the rows, as a power cut can leave, costs at
// most ten times its plain reading, on reading and on checking.
func TestNULTailCost(t *testing.T) {
	leftToFullRun(t)
	size := int64(campaign(64<<20, 1<<30))
	lb := start(t)
	must(t, lb.AddSlips(marked("one", 1), marked("two", 2)))
	path := lb.path(slips.file)
	info, err := os.Stat(path)
	must(t, err)
	must(t, os.Truncate(path, info.Size()+size))
	plain := quickest(2, func() {
		_, err := os.ReadFile(path)
		must(t, err)
	})
	read := quickest(2, func() {
		got, err := lb.Slips("")
		must(t, err)
		if len(got) != 2 {
			t.Errorf("%d slips", len(got))
		}
	})
	checked := quickest(1, func() {
		found, err := lb.Check()
		must(t, err)
		if len(found) == 0 {
			t.Error("nothing found")
		}
	})
	t.Logf("%d MB of NULs: plain reading %v, slips %.1f x that, a check %.1f x", size>>20, plain,
		float64(read)/float64(plain), float64(checked)/float64(plain))
	if size == 1<<30 && (read > 10*plain || checked > 10*plain) {
		t.Error("want at most 10 times the plain reading")
	}
}

// overlapping is a zip whose directory names very many files that are all one and the same
// place in it, by the layout of the format's public specification (from memory).
func overlapping(t *testing.T, files, size int) []byte {
	t.Helper()
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.BestCompression)
	must(t, err)
	zeros := make([]byte, size)
	_, err = w.Write(zeros)
	must(t, err)
	must(t, w.Close())
	sum := crc32.ChecksumIEEE(zeros)
	u16, u32 := binary.LittleEndian.AppendUint16, binary.LittleEndian.AppendUint32
	sizes := func(b []byte) []byte {
		b = u16(u16(u16(b, 8), 0), 0) // deflate, no time, no date
		return u32(u32(u32(b, sum), uint32(packed.Len())), uint32(size))
	}
	out := sizes(u16(u16(u32(nil, 0x04034b50), 20), 0))
	name := "slips.csv.torn-0000.csv"
	out = append(u16(u16(out, uint16(len(name))), 0), name...)
	out = append(out, packed.Bytes()...)
	directory := len(out)
	for n := range files {
		name := fmt.Sprintf("slips.csv.torn-%04d.csv", n)
		out = sizes(u16(u16(u16(u32(out, 0x02014b50), 20), 20), 0))
		out = u16(u16(u16(u16(u16(out, uint16(len(name))), 0), 0), 0), 0)
		out = append(u32(u32(out, 0), 0), name...)
	}
	length := len(out) - directory
	out = u16(u16(u16(u16(u32(out, 0x06054b50), 0), 0), uint16(files)), uint16(files))
	return u16(u32(u32(out, uint32(length)), uint32(directory)), 0)
}

// TestOverlappingZip: a zip of files that lie over each other, some kilobytes that unpack
// to gigabytes, is refused for no more than ten times its plain reading, or than a moment.
func TestOverlappingZip(t *testing.T) {
	bomb := overlapping(t, 5000, 10<<20)
	z, err := zip.NewReader(bytes.NewReader(bomb), int64(len(bomb)))
	if err != nil || len(z.File) != 5000 {
		t.Fatalf("it is no zip: %v", err)
	}
	if f, err := z.File[17].Open(); err != nil {
		t.Fatalf("a file of it does not open: %v", err)
	} else {
		f.Close()
	}
	top := t.TempDir()
	path := filepath.Join(top, "bomb.zip")
	must(t, os.WriteFile(path, bomb, 0o600))
	plain := quickest(5, func() {
		z, err := zip.OpenReader(path)
		must(t, err)
		must(t, z.Close())
	})
	refused := quickest(5, func() {
		_, err := Restore(path, filepath.Join(top, "log"), Options{})
		if err == nil || !strings.Contains(err.Error(), "lie over each other") {
			t.Errorf("restored: %v", err)
		}
	})
	t.Logf(
		"%d kB that unpack to %d GB: reading its directory %v, refusing it %.1f x that",
		len(bomb)>>10,
		5000*10>>10,
		plain,
		float64(refused)/float64(plain),
	)
	if refused > 10*plain && refused > 100*time.Millisecond {
		t.Errorf("refused after %v", refused)
	}
	if names, err := os.ReadDir(top); err != nil || len(names) != 1 {
		t.Errorf("left behind: %v, %v", names, err)
	}
}
