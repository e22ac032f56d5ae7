//go:build !linux

package tty

import (
	"os"
	"time"
)

// dropTyped would forget what was typed and not read yet; elsewhere than on Linux
// it is read as an answer.
func dropTyped(*os.File) {}

// keyWithin cannot tell here: a key is taken as it is typed.
func keyWithin(*os.File, time.Duration) bool { return false }
