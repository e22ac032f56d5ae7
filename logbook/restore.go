package logbook

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// ErrNotEmpty is wrapped when a folder to restore to holds something.
var ErrNotEmpty = errors.New("the folder is not empty")

// Restore unpacks a backup into a folder that is empty or not there, verified,
// whole or not at all.
func Restore(path, dir string, o Options) (Manifest, error) {
	dir, err := destination(dir)
	if err != nil {
		return Manifest{}, fmt.Errorf("restoring: %w", err)
	}
	lb := newLogbook(dir, o)
	m, files, err := lb.readBackup(path)
	if err != nil {
		return m, err
	}
	err = lb.uninterrupted(func() error { return lb.place(files) })
	if err != nil {
		err = fmt.Errorf("restoring: %w", err)
	}
	return m, err
}

// destination is the folder that a backup goes to: what a link leads to, where there is
// one. It is put in the place of an empty one, so that must not be where we stand.
func destination(dir string) (string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	if _, err := os.Lstat(dir); os.IsNotExist(err) {
		return dir, nil
	}
	real, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return "", fmt.Errorf("%s is a link to nowhere: %w", dir, err)
	}
	names, err := os.ReadDir(real)
	if err != nil {
		return "", err
	}
	if len(names) > 0 {
		return "", fmt.Errorf("%s: %w", real, ErrNotEmpty)
	}
	if inside(real) {
		return "", fmt.Errorf("%s is the folder you are in: name a new folder, as %s", real, filepath.Join(real, "log"))
	}
	return real, nil
}

// inside reports whether a folder is the one that the program runs in.
func inside(dir string) bool {
	here, err := os.Stat(".")
	there, err2 := os.Stat(dir)
	return err == nil && err2 == nil && os.SameFile(here, there)
}

// place puts the files of a logbook into its folder, all of them or none.
func (lb *Logbook) place(files map[string][]byte) error {
	beside, err := lb.unpackBeside(files, lb.dir)
	if err != nil {
		return err
	}
	// An empty folder makes place for the full one.
	if err = os.Remove(lb.dir); err == nil || os.IsNotExist(err) {
		err = lb.fs.Rename(beside, lb.dir)
	}
	if err != nil {
		return errors.Join(err, os.RemoveAll(beside))
	}
	return lb.fs.SyncDir(filepath.Dir(lb.dir))
}

// RestoreMerge merges a backup into this logbook.
func (lb *Logbook) RestoreMerge(path string, progress func(done, of int) error) ([]Merged, error) {
	_, files, err := lb.readBackup(path)
	if err != nil {
		return nil, err
	}
	other := newLogbook("", Options{Now: lb.now})
	other.fs, other.pause = packed(files), 0
	theirs, err := other.copied()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return lb.mergeFiles(theirs, progress)
}

func (lb *Logbook) readBackup(path string) (Manifest, map[string][]byte, error) {
	packed, absent, err := readOrAbsent(lb.fs, path)
	if absent {
		return Manifest{}, nil, fmt.Errorf("%s: no such backup", path)
	}
	if err != nil {
		return Manifest{}, nil, fmt.Errorf("reading the backup: %w", err)
	}
	m, files, err := unpack(packed)
	if err != nil {
		return m, nil, fmt.Errorf("%s: %w", path, err)
	}
	return m, files, nil
}

// unpackBeside writes the files of a backup to a new folder beside dir.
func (lb *Logbook) unpackBeside(files map[string][]byte, dir string) (beside string, err error) {
	if err := os.MkdirAll(filepath.Dir(dir), 0o700); err != nil {
		return "", err
	}
	// Made with mode 0700.
	beside, err = os.MkdirTemp(filepath.Dir(dir), filepath.Base(dir)+restoreSuffix)
	if err != nil {
		return "", err
	}
	for name, data := range files {
		if err := writeNew(lb.fs, filepath.Join(beside, name), data); err != nil {
			return "", errors.Join(err, os.RemoveAll(beside))
		}
	}
	return beside, nil
}

// restoreSuffix, and digits behind it, end the name of a folder that is being unpacked.
const restoreSuffix = ".restore-"

// halfRestored names the folders beside the logbook that a killed restore to it left. They
// are not looked for where the folder around it cannot be read.
func (lb *Logbook) halfRestored() (names []string) {
	dir, err := filepath.Abs(lb.dir)
	if err != nil {
		return nil
	}
	beside, _ := os.ReadDir(filepath.Dir(dir))
	for _, e := range beside {
		digits, ours := strings.CutPrefix(e.Name(), filepath.Base(dir)+restoreSuffix)
		if ours && e.IsDir() && digits != "" && strings.Trim(digits, "0123456789") == "" {
			names = append(names, e.Name())
		}
	}
	return names
}
