package logbook

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func backedUp(t *testing.T) (lb *Logbook, zipFile string) {
	t.Helper()
	lb = start(t)
	must(t, lb.AddSlips(slipAt(14, 0, 13.5), slipAt(14, 10, 13.4)))
	zipFile = filepath.Join(t.TempDir(), "log.zip")
	_, err := lb.Backup(zipFile, false)
	must(t, err)
	return lb, zipFile
}

func TestBackupAndRestore(t *testing.T) {
	lb, file := backedUp(t)
	if _, err := lb.Backup(file, false); !errors.Is(err, ErrBackupThere) {
		t.Errorf("backing up over a backup: %v", err)
	}
	_, err := lb.Backup(file, true)
	must(t, err)
	want, err := lb.Slips("")
	must(t, err)

	dir := filepath.Join(t.TempDir(), "new", "log")
	_, err = Restore(file, dir, Options{})
	must(t, err)
	back, err := Open(dir, heldOptions())
	must(t, err)
	got, err := back.Slips("")
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("restored slips differ:\n%s", diff)
	}
	back.newID = NewID
	must(t, back.AddSlips(slipAt(15, 0, 13.3)))
	if _, err := Restore(file, dir, Options{}); !errors.Is(err, ErrNotEmpty) {
		t.Errorf("restoring over a logbook: %v", err)
	}
	// An empty folder that is there already is as good as none.
	empty := t.TempDir()
	_, err = Restore(file, empty, Options{})
	must(t, err)
	must(t, filepath.WalkDir(filepath.Dir(empty), func(path string, d fs.DirEntry, err error) error {
		if strings.Contains(path, ".restore-") {
			t.Errorf("%s was left behind", path)
		}
		return err
	}))
	// Merged, a backup brings back what was lost since.
	must(t, os.WriteFile(back.path(slips.file), slips.header(), 0o600))
	m, err := back.RestoreMerge(file, nil)
	must(t, err)
	if n := m[len(m)-1].Added; n != 2 {
		t.Errorf("%d slips came back, want 2", n)
	}
}

func TestFilesAreTheRacersAlone(t *testing.T) {
	lb, file := backedUp(t)
	dir := filepath.Join(t.TempDir(), "log")
	_, err := Restore(file, dir, Options{})
	must(t, err)
	for _, d := range []string{lb.Dir(), dir} {
		must(t, filepath.WalkDir(d, func(path string, e fs.DirEntry, err error) error {
			must(t, err)
			info, err := e.Info()
			must(t, err)
			want := fs.FileMode(0o600)
			if e.IsDir() {
				want = 0o700
			}
			if info.Mode().Perm() != want {
				t.Errorf("%s has mode %v, want %v", path, info.Mode().Perm(), want)
			}
			return nil
		}))
	}
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the backup has mode %v, %v", info.Mode(), err)
	}
}

// zipOf packs files as Backup does, whatever they are called.
func zipOf(t testing.TB, files map[string]string, m Manifest, header func(*zip.FileHeader)) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	manifest, err := json.Marshal(m)
	must(t, err)
	all := maps.Clone(files)
	if m.Schema != 0 {
		all[manifestFile] = string(manifest)
	}
	for name, data := range all {
		h := &zip.FileHeader{Name: name, Method: zip.Deflate}
		if header != nil && name != manifestFile {
			header(h)
		}
		w, err := z.CreateHeader(h)
		must(t, err)
		_, err = w.Write([]byte(data))
		must(t, err)
	}
	must(t, z.Close())
	return b.Bytes()
}

func TestRestoreRefuses(t *testing.T) {
	_, file := backedUp(t)
	good, err := os.ReadFile(file)
	must(t, err)
	one := func(name, data string) Manifest {
		return Manifest{Schema: 1, Files: []BackedFile{{name, int64(len(data)), sumOf([]byte(data))}}}
	}
	with := func(name, data string) []byte { return zipOf(t, map[string]string{name: data}, one(name, data), nil) }
	newer := one(metaFile, "{}")
	newer.Schema = 99
	for _, tc := range []struct {
		name string
		zip  []byte
		want string
	}{
		{"cut off", good[:len(good)/2], "no zip file, or is cut off"},
		{"no zip", []byte("hello"), "no zip file"},
		{"a way out", with("../slips.csv", "x"), "no file of a logbook"},
		{"a way out in Windows' words", with(`..\slips.csv`, "x"), "no file of a logbook"},
		{"a drive", with("c:slips.csv", "x"), "no file of a logbook"},
		{"an absolute path", with("/tmp/slips.csv", "x"), "no file of a logbook"},
		{"a folder", with("sub/slips.csv", "x"), "no file of a logbook"},
		{"another kind of file", with("run.sh", "x"), "no file of a logbook"},
		{"a hidden file", with(".csv", "x"), "no file of a logbook"},
		{"a link", zipOf(t, map[string]string{"slips.csv": "/etc/passwd"}, one("slips.csv", "/etc/passwd"), func(h *zip.FileHeader) { h.SetMode(0o777 | fs.ModeSymlink) }), "no file of a logbook"},
		{"a bomb", with("slips.csv", strings.Repeat("0", 20<<20)), "unpacks to more than"},
		{"no manifest", zipOf(t, map[string]string{"slips.csv": "x"}, Manifest{}, nil), "holds no manifest.json"},
		{"other contents", zipOf(t, map[string]string{"slips.csv": "x"}, one("slips.csv", "y"), nil), "SHA-256"},
		{"a file too few", zipOf(t, map[string]string{}, one("slips.csv", "y"), nil), "is missing from it"},
		{"a file too many", zipOf(t, map[string]string{"slips.csv": "x", "air.csv": "x"}, one("slips.csv", "x"), nil), "does not name"},
		{"no version", with("slips.csv", "x"), "holds no logbook.json"},
		{"newer", zipOf(t, map[string]string{metaFile: "{}"}, newer, nil), "schema 99"},
		{"cases", zipOf(t, map[string]string{"slips.csv": "x", "SLIPS.csv": "x"}, one("slips.csv", "x"), nil), "twice"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			top := t.TempDir()
			file := filepath.Join(top, "bad.zip")
			must(t, os.WriteFile(file, tc.zip, 0o600))
			_, err := Restore(file, filepath.Join(top, "log"), Options{})
			if err == nil || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("got %v, want %q", err, tc.want)
			}
			if names, err := os.ReadDir(top); err != nil || len(names) != 1 {
				t.Errorf("left behind: %v, %v", names, err)
			}
		})
	}
}

// Each bit of a backup is flipped: it is refused, or restores the same.
func TestBackupWithABitFlipped(t *testing.T) {
	lb, file := backedUp(t)
	good, err := os.ReadFile(file)
	must(t, err)
	want, err := os.ReadFile(lb.path(slips.file))
	must(t, err)
	refused := 0
	for bit := 0; bit < 8*len(good); bit += campaign(7, 1) {
		bad := bytes.Clone(good)
		bad[bit/8] ^= 1 << (bit % 8)
		_, files, err := unpack(bad)
		if err != nil {
			refused++
		} else if !bytes.Equal(files[slips.file], want) {
			t.Fatalf("bit %d: restored with other slips", bit)
		}
	}
	t.Logf("%d refused", refused)
}
