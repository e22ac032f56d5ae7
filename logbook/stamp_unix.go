//go:build unix

package logbook

import (
	"os"
	"syscall"
)

// inodeOf tells a file from another that took its place.
func inodeOf(info os.FileInfo) uint64 {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return s.Ino
	}
	return 0
}
