package tty

import (
	"os/exec"
	"path/filepath"
	"runtime"
)

// Open shows a file in the program that the system has for it.
func Open(path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	var c *exec.Cmd
	switch runtime.GOOS {
	case "windows":
		c = exec.Command("rundll32", "url.dll,FileProtocolHandler", path)
	case "darwin":
		c = exec.Command("open", path)
	default:
		c = exec.Command("xdg-open", path)
	}
	if err := c.Start(); err != nil {
		return err
	}
	return c.Process.Release()
}
