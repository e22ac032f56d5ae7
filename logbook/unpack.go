package logbook

import (
	"archive/zip"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// The limits of what is unpacked. A log of a long life of racing is some 20 MB,
// and text as ours packs to a tenth, hardly to a fiftieth.
const (
	maxUnpacked = 1 << 30
	maxFiles    = 10_000
	maxGrowth   = 200
	freeGrowth  = 1 << 20 // what any file may grow to
)

// unpack reads a backup whole and verifies it against its manifest.
func unpack(packed []byte) (Manifest, map[string][]byte, error) {
	var m Manifest
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		return m, nil, fmt.Errorf("it is no zip file, or is cut off: %w", err)
	}
	if len(z.File) > maxFiles {
		return m, nil, fmt.Errorf("it holds %d files: the most is %d", len(z.File), maxFiles)
	}
	if err := apart(z.File); err != nil {
		return m, nil, err
	}
	files, taken := map[string][]byte{}, map[string]bool{}
	var total int64
	for _, f := range z.File {
		name := f.Name
		// Our names are plain: no folder, no drive, nothing that leads elsewhere.
		if name != manifestFile && (!belongs(name) || !plainName(name)) || !f.Mode().IsRegular() {
			return m, nil, fmt.Errorf("it holds %q, which is no file of a logbook", clip(name))
		}
		// Some file systems take upper and lower case for the same.
		if lower := strings.ToLower(name); taken[lower] {
			return m, nil, fmt.Errorf("it holds %q twice", clip(name))
		} else {
			taken[lower] = true
		}
		limit := min(maxUnpacked-total, max(freeGrowth, maxGrowth*int64(min(f.CompressedSize64, uint64(len(packed))))))
		data, err := unpackFile(f, limit)
		if err != nil {
			return m, nil, fmt.Errorf("%s in it: %w", clip(name), err)
		}
		files[name] = data
		total += int64(len(data))
	}
	manifest, ok := files[manifestFile]
	if !ok {
		return m, nil, fmt.Errorf("it holds no %s: it is no backup of a logbook", manifestFile)
	}
	delete(files, manifestFile)
	if err := json.Unmarshal(manifest, &m); err != nil {
		return m, nil, fmt.Errorf("its %s cannot be read: %w", manifestFile, err)
	}
	return m, files, m.verify(files)
}

// apart refuses files that lie over each other: that packs the same bytes many times.
func apart(files []*zip.File) error {
	type span struct{ from, to int64 }
	spans := make([]span, 0, len(files))
	for _, f := range files {
		from, err := f.DataOffset()
		if err != nil {
			return fmt.Errorf("%s in it: %w", clip(f.Name), err)
		}
		spans = append(spans, span{from, from + int64(f.CompressedSize64)})
	}
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	for i := 1; i < len(spans); i++ {
		if spans[i].from < spans[i-1].to {
			return errors.New("its files lie over each other, which no backup's do")
		}
	}
	return nil
}

func plainName(name string) bool {
	for _, r := range name {
		if r < ' ' || r == '/' || r == '\\' || r == ':' || r == 0x7f {
			return false
		}
	}
	return true
}

func unpackFile(f *zip.File, limit int64) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err == nil && int64(len(data)) > limit {
		err = fmt.Errorf("it unpacks to more than %d bytes, which no logbook does", limit)
	}
	return data, err
}

// verify holds the files against the manifest.
func (m Manifest) verify(files map[string][]byte) error {
	if m.Schema != Schema {
		return fmt.Errorf("it is of schema %d, %w", m.Schema, ErrVersion)
	}
	for _, f := range m.Files {
		data, there := files[f.Name]
		switch {
		case !there:
			return fmt.Errorf("%s is missing from it", clip(f.Name))
		case sumOf(data) != f.SHA256:
			return fmt.Errorf("%s in it is damaged: its SHA-256 is not that of the manifest", f.Name)
		}
	}
	if len(files) != len(m.Files) {
		return errors.New("it holds files that its manifest does not name")
	}
	if !slices.ContainsFunc(m.Files, func(f BackedFile) bool { return f.Name == metaFile }) {
		return fmt.Errorf("it holds no %s", metaFile)
	}
	return nil
}
