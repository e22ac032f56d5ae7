//go:build unix

package logbook

import (
	"io/fs"
	"os"
	"syscall"
)

// openSafely refuses a link that was put in the place of a file just looked at, and does
// not wait for the other end of a pipe.
const openSafely = syscall.O_NOFOLLOW | syscall.O_NONBLOCK

// links is how many names a file has.
func links(info fs.FileInfo) uint64 {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(s.Nlink)
	}
	return 1
}

func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
