package main

import (
	"bytes"
	"context"
	"encoding/gob"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// The start of a process costs ten times what an ordinary command does, and the scripts
// give more than two thousand commands. Where only what is quick is wanted, a clerk gives
// them: a process that answers one command after another. What asks on a terminal, goes
// on beside the script or is called by a shell stays a process of its own, and so does
// every command of the run without -short.

// order is a command for a clerk.
type order struct {
	Dir       string
	Env, Args []string
	In        string
}

type answer struct {
	Out, Err []byte
	Status   int
}

const asClerk = "SLIPCASE_TEST_CLERK"

// clerk answers orders until there are no more.
func clerk(in io.Reader, out io.Writer) error {
	orders, answers := gob.NewDecoder(in), gob.NewEncoder(out)
	for {
		var o order
		if err := orders.Decode(&o); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
		a, err := o.carryOut()
		if err == nil {
			err = answers.Encode(a)
		}
		if err != nil {
			return err
		}
	}
}

func (o order) carryOut() (answer, error) {
	os.Clearenv()
	for _, pair := range o.Env {
		name, value, _ := strings.Cut(pair, "=")
		if err := os.Setenv(name, value); err != nil {
			return answer{}, err
		}
	}
	var err error
	if time.Local, err = time.LoadLocation(os.Getenv("TZ")); err != nil {
		return answer{}, err
	}
	if err := os.Chdir(o.Dir); err != nil {
		return answer{}, err
	}
	ctx, done := context.WithCancel(context.Background())
	defer done()
	var out, errOut bytes.Buffer
	status := heldApp(strings.NewReader(o.In), &out, &errOut).run(ctx, o.Args)
	return answer{out.Bytes(), errOut.Bytes(), status}, nil
}

// idle has the clerks that have nothing to do.
var idle = make(chan *post, 64)

// post is a clerk at work.
type post struct {
	orders  *gob.Encoder
	answers *gob.Decoder
	said    bytes.Buffer // its last words
	leave   func()
}

// answered has a clerk carry out an order.
func (o order) answered(tb interface{ Fatalf(string, ...any) }) (a answer) {
	var p *post
	select {
	case p = <-idle:
	default:
		var err error
		if p, err = newPost(); err != nil {
			tb.Fatalf("no clerk: %v", err)
		}
	}
	err := p.orders.Encode(o)
	if err == nil {
		err = p.answers.Decode(&a)
	}
	if err != nil {
		p.leave()
		tb.Fatalf("%v: %s", err, p.said.Bytes())
	}
	idle <- p
	return a
}

func newPost() (*post, error) {
	path, err := exec.LookPath("slipcase")
	if err != nil {
		return nil, err
	}
	p, c := &post{}, exec.Command(path)
	c.Env, c.Stderr = append(os.Environ(), asClerk+"=1", "GOGC=400"), &p.said
	in, err := c.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	p.orders, p.answers = gob.NewEncoder(in), gob.NewDecoder(out)
	p.leave = func() { in.Close(); c.Wait() }
	return p, c.Start()
}

// desk is where a script gives its orders.
type desk struct {
	sets []string // the variables that scripts set
	in   string   // what the next command reads
}

// toClerks has the commands of the scripts given to clerks.
func toClerks(t *testing.T, p *testscript.Params) {
	var err error
	if p.Files, err = filepath.Glob(filepath.Join(p.Dir, "*.txtar")); err != nil {
		t.Fatal(err)
	}
	d, into := &desk{}, t.TempDir()
	for i, path := range p.Files {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range setsLine.FindAllSubmatch(text, -1) {
			d.sets = append(d.sets, string(m[1]))
		}
		p.Files[i] = filepath.Join(into, filepath.Base(path))
		if err := os.WriteFile(p.Files[i], []byte(clerked(string(text))), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	p.Dir, p.Cmds["clerk"], p.Cmds["clerkstdin"] = "", clerkCommand, clerkStdin
	setup := p.Setup
	p.Setup = func(env *testscript.Env) error {
		err := setup(env)
		env.Values[deskKey{}] = d.knowing(env.Vars)
		return err
	}
}

type deskKey struct{}

func deskOf(ts *testscript.TestScript) *desk { return ts.Value(deskKey{}).(*desk) }

// knowing is the desk that knows also the variables a script starts with.
func (d *desk) knowing(vars []string) *desk {
	one := *d
	one.sets = slices.Clone(d.sets)
	for _, pair := range vars {
		name, _, _ := strings.Cut(pair, "=")
		one.sets = append(one.sets, name)
	}
	return &one
}

var (
	setsLine = regexp.MustCompile(`(?m)^(?:\[[^\]]*\] *)*env (\w+)=`)
	feedLine = regexp.MustCompile(`^(stdin|ttyin) `)
	runsLine = regexp.MustCompile(`^((?:\[[^\]]*\] *)*(?:! *)?)(exec|(?:status|refused) \d+) (.*)$`)
)

// clerked is a script with its commands given to clerks, but for those that are asked on a
// terminal and those that go on beside the script.
func clerked(script string) string {
	lines, fed := strings.Split(script, "\n"), -1 // the line that gives the next command something to read
	for i, line := range lines {
		if strings.HasPrefix(line, "-- ") {
			break
		}
		if feedLine.MatchString(line) {
			fed = i
		}
		m := runsLine.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		asked := fed >= 0 && strings.HasPrefix(lines[fed], "ttyin ")
		if strings.HasPrefix(m[3], "slipcase ") && !asked && !strings.HasSuffix(line, "&") {
			lines[i] = m[1] + strings.TrimPrefix(m[2]+" clerk ", "exec ") + m[3]
			if fed >= 0 {
				lines[fed] = "clerk" + lines[fed]
			}
		}
		fed = -1
	}
	return strings.Join(lines, "\n")
}

// clerkStdin is stdin for the next command of a clerk: clerkstdin FILE.
func clerkStdin(ts *testscript.TestScript, _ bool, args []string) {
	deskOf(ts).in = ts.ReadFile(args[0])
}

// clerkCommand is exec by a clerk: clerk slipcase forecast.
func clerkCommand(ts *testscript.TestScript, neg bool, args []string) {
	if got, _, _ := deskOf(ts).ask(ts, args); neg != (got != 0) {
		ts.Fatalf("exit status %d", got)
	}
}

// ask has a clerk answer a command of a script.
func (d *desk) ask(ts *testscript.TestScript, args []string) (status int, out, errOut string) {
	if ts.Getenv("SLIPCASE_TEST_TTY") != "" {
		return ran(ts, args)
	}
	o := order{Dir: ts.MkAbs("."), Args: args[1:], In: d.in}
	d.in = ""
	for _, name := range d.sets {
		o.Env = append(o.Env, name+"="+ts.Getenv(name))
	}
	a := o.answered(ts)
	ts.Stdout().Write(a.Out)
	ts.Stderr().Write(a.Err)
	return a.Status, string(a.Out), string(a.Err)
}

// A command stays a process where it is asked on a terminal, and where it goes on beside.
func TestClerked(t *testing.T) {
	const script = `exec slipcase day
! exec slipcase day
[linux] status 1 slipcase day
refused 3 slipcase slip add -
stdin lines
exec slipcase slip add -
stdin lines
exec sort
exec slipcase day
ttyin -stdin keys
status 1 slipcase slip add
exec slipcase day &
exec sh -c 'slipcase day | wc'
-- script --
exec slipcase day
`
	const want = `clerk slipcase day
! clerk slipcase day
[linux] status 1 clerk slipcase day
refused 3 clerk slipcase slip add -
clerkstdin lines
clerk slipcase slip add -
stdin lines
exec sort
clerk slipcase day
ttyin -stdin keys
status 1 slipcase slip add
exec slipcase day &
exec sh -c 'slipcase day | wc'
-- script --
exec slipcase day
`
	if got := clerked(script); got != want {
		t.Errorf("clerked:\n%s", got)
	}
}
