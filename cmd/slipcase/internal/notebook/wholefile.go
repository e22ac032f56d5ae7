package notebook

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// ErrThere is wrapped when a file would be written over.
var ErrThere = errors.New("there already")

// Placing is files on their way: written beside their places, and named when all of them
// are whole.
type Placing struct {
	Over  bool // what is there already is replaced
	files []placed
}

type placed struct{ beside, path string }

// Write writes a file that is to stand at a path.
func (p *Placing) Write(path string, fill func(io.Writer) error) error {
	if err := p.Free(path); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".slipcase-*.new")
	if err != nil {
		return writing(path, err)
	}
	p.files = append(p.files, placed{f.Name(), path})
	out := bufio.NewWriterSize(f, 1<<16)
	if err = fill(out); err == nil {
		err = out.Flush()
	}
	if err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	return writing(path, err)
}

// writing says what went wrong with a path, and not with the file beside it.
func writing(path string, err error) error {
	if err == nil {
		return nil
	}
	var beside *fs.PathError
	if errors.As(err, &beside) {
		err = beside.Err
	}
	return fmt.Errorf("writing %s: %w", path, err)
}

// Free refuses a place that is taken: by anything but a file at any rate.
func (p *Placing) Free(path string) error {
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is no plain file: want a name that is free", path)
	case !p.Over:
		return fmt.Errorf("%s is %w", path, ErrThere)
	}
	return nil
}

// Done gives all files their names.
func (p *Placing) Done() error {
	for len(p.files) > 0 {
		f := p.files[0]
		if err := p.Free(f.path); err != nil {
			return err
		}
		if err := os.Rename(f.beside, f.path); err != nil {
			return err
		}
		p.files = p.files[1:]
	}
	return nil
}

// Drop removes what has not got its name.
func (p *Placing) Drop() {
	for _, f := range p.files {
		os.Remove(f.beside)
	}
	p.files = nil
}
