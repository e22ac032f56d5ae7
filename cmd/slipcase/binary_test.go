//go:build unix

package main

import (
	"bufio"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"slipcase/cmd/slipcase/internal/phone"
)

// mostBinary is what the program may take stripped, bytes: it is sent to a phone.
const mostBinary = 28_000_000

// stripped builds the program as it is released, for this system and an architecture.
func stripped(t *testing.T, arch string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "slipcase-"+arch)
	c := exec.Command("go", "build", "-ldflags=-s -w", "-o", path, ".")
	c.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS=linux", "GOARCH="+arch)
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if info.Size() > mostBinary {
		t.Errorf("%s: %d bytes stripped, want %d at most: go tool nm -size -sort size tells of what",
			arch, info.Size(), mostBinary)
	}
	return path
}

func TestBinaryIsSmall(t *testing.T) {
	leftToFullRun(t)
	stripped(t, "amd64")
}

// emulated is the phone's program on this machine.
type emulated struct {
	*testing.T
	qemu, path, home string
}

func (e *emulated) command(log string, words ...string) *exec.Cmd {
	c := exec.Command(e.qemu, append([]string{e.path}, words...)...)
	c.Dir = e.home
	c.Env = append(os.Environ(),
		"HOME="+e.home, "XDG_CONFIG_HOME="+e.home, "SLIPCASE_LOGBOOK="+filepath.Join(e.home, log), "TZ=UTC")
	return c
}

func (e *emulated) run(log, line string) string {
	e.Helper()
	out, err := e.command(log, strings.Fields(line)...).CombinedOutput()
	if err != nil {
		e.Fatalf("%s: %v\n%s", line, err, out)
	}
	return string(out)
}

var codeSaid = regexp.MustCompile(`pairing code (\d{6})`)

// serves serves as a line says, and goes through the door as a browser does: it gives the
// page behind.
func (e *emulated) serves(line string) string {
	e.Helper()
	c := e.command("phone", strings.Fields(line)...)
	keys, err := c.StdinPipe()
	if err != nil {
		e.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		e.Fatal(err)
	}
	if err := c.Start(); err != nil {
		e.Fatal(err)
	}
	at, code := "", ""
	for lines := bufio.NewScanner(out); code == "" && lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "http") {
			at = lines.Text()
		}
		if m := codeSaid.FindStringSubmatch(lines.Text()); m != nil {
			code = m[1]
		}
	}
	jar := filepath.Join(e.home, "cookies")
	asks := []string{"-sS", "-f", "-L", "-c", jar, "-b", jar, "-d", "code=" + code + "&name=phone", at + "pair"}
	body, err := exec.Command("curl", asks...).CombinedOutput()
	if err != nil {
		e.Fatalf("%s: %v\n%s", at, err, body)
	}
	io.WriteString(keys, "q\n")
	if err := c.Wait(); err != nil {
		e.Fatal(err)
	}
	return string(body)
}

// TestThreeWays goes the ways that serve --help names with the program as a phone has it,
// for linux/arm64, under an emulator: by the laptop's network, the phone alone, and each by
// itself with the logs brought together.
func TestThreeWays(t *testing.T) {
	leftToFullRun(t)
	qemu, err := exec.LookPath("qemu-aarch64-static")
	_, err2 := exec.LookPath("curl")
	if err := errors.Join(err, err2); err != nil {
		t.Skipf("%v: apt-get install qemu-user-static curl", err)
	}
	e := &emulated{T: t, qemu: qemu, path: stripped(t, "arm64"), home: t.TempDir()}
	e.run("phone", "init")
	e.run("phone", "vehicle add heron --kind car")
	e.run("phone", "track add saltgrass --elevation 812ft --length 1320ft")
	if page := e.serves("serve --port 0"); !strings.Contains(page, `name="vehicle" value="heron"`) {
		t.Errorf("the phone alone: behind the door is\n%s", page)
	}
	if list, err := phone.Addresses(); err == nil && len(list) > 0 {
		if page := e.serves("serve --port 0 --lan=" + list[0]); !strings.Contains(page, `name="vehicle" value="heron"`) {
			t.Errorf("at %s behind the door is\n%s", list[0], page)
		}
	}
	e.run("phone", "slip add 042 1912 5437 8412@8377 10980 13212@10584 L E1")
	// Each with a log of its own, brought together in the evening.
	for _, line := range []string{
		"init", "vehicle add heron --kind car", "track add saltgrass --elevation 812ft --length 1320ft",
	} {
		e.run("laptop", line)
	}
	e.run("phone", "backup today.zip")
	e.run("laptop", "restore today.zip phone-restored")
	e.run("laptop", "merge phone-restored")
	if list := e.run("laptop", "slip list"); !strings.Contains(list, "13.212") {
		t.Errorf("the phone's slip is not in the laptop's log:\n%s", list)
	}
}
