package tty

import (
	"os"
	"time"

	"golang.org/x/sys/unix"
)

// dropTyped forgets what was typed and not read yet.
func dropTyped(f *os.File) { _ = unix.IoctlSetInt(int(f.Fd()), unix.TCFLSH, unix.TCIFLUSH) }

// keyWithin reports that a key is typed within a time.
func keyWithin(f *os.File, d time.Duration) bool {
	for until := time.Now().Add(d); ; {
		n, err := unix.Poll([]unix.PollFd{{Fd: int32(f.Fd()), Events: unix.POLLIN}}, int(time.Until(until).Milliseconds()))
		if err != unix.EINTR || time.Now().After(until) {
			return n > 0
		}
	}
}
