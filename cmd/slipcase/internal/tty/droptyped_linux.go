package tty

import (
	"os"

	"golang.org/x/sys/unix"
)

// dropTyped forgets what was typed and not read yet.
func dropTyped(f *os.File) { _ = unix.IoctlSetInt(int(f.Fd()), unix.TCFLSH, unix.TCIFLUSH) }
