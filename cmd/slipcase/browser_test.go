package main

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// axeVersion is that of axe-core, a checker of pages for people with disabilities (WCAG),
// which npm gets at test time.
const axeVersion = "4.14.1"

// browser is Debian's chromium, for the time of a test.
func browser(t *testing.T) context.Context {
	t.Helper()
	leftToFullRun(t)
	path, err := exec.LookPath("chromium")
	if err != nil {
		missing(t, "chromium is not here (Debian: apt-get install chromium)")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.Flag("disable-dev-shm-usage", true))
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 8*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// missing skips a test for want of a tool; in CI that is a failure.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// axe is the script of axe-core, "" where npm cannot get it and nobody has to have it.
func axe(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	c := exec.CommandContext(ctx, "npm", "pack", "--silent", "axe-core@"+axeVersion)
	c.Dir = dir
	if out, err := c.CombinedOutput(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("npm gets no axe-core: %v\n%s", err, out)
		}
		t.Logf("without axe-core, which npm does not get here: %v", err)
		return ""
	}
	packed, err := os.ReadFile(filepath.Join(dir, "axe-core-"+axeVersion+".tgz"))
	if err != nil {
		t.Fatal(err)
	}
	plain, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	for files := tar.NewReader(plain); ; {
		f, err := files.Next()
		if err != nil {
			t.Fatal(err)
		}
		if f.Name == "package/axe.min.js" {
			script, err := io.ReadAll(files)
			if err != nil {
				t.Fatal(err)
			}
			return string(script)
		}
	}
}

// look is what is seen of a page in one form.
type look struct {
	Wide    int      // how far it reaches beyond the window
	Small   []string // lettering under 11 px
	Over    []string // labels over each other
	Scripts int
}

// looks measures a page: its width, each piece of lettering, and in each picture whether
// the boxes of labels meet.
const looks = `(() => {
  const out = {Wide: document.documentElement.scrollWidth - window.innerWidth, Small: [], Over: [],
    Scripts: document.scripts.length + (window.hurt ? 1 : 0)};
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || e.closest('title,desc,.for')) continue;
    const box = e.getBoundingClientRect();
    if (!box.width || !box.height) continue;
    let px = parseFloat(getComputedStyle(e).fontSize);
    const svg = e.closest('svg');
    if (svg) px *= svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    if (px < 11) out.Small.push(px + ' ' + walk.currentNode.data);
  }
  for (const svg of document.querySelectorAll('svg')) {
    const boxes = [...svg.querySelectorAll('text')].map(e => [e.getBoundingClientRect(), e.textContent]);
    const frame = svg.getBoundingClientRect();
    boxes.forEach(([a, one], i) => {
      if (a.left < frame.left - 0.5 || a.right > frame.right + 0.5 || a.top < frame.top - 0.5 || a.bottom > frame.bottom + 0.5)
        out.Over.push(one + ' | its picture');
      for (const [b, other] of boxes.slice(i + 1)) {
        const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        // The box of a line of lettering has room above and below the letters.
        const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) - 0.3 * Math.min(a.height, b.height);
        if (wide > 0.5 && high > 0.5) out.Over.push(one + ' | ' + other);
      }
    });
  }
  return JSON.stringify(out);
})()`

// viewed is how a page is looked at.
type viewed struct {
	width       int64
	dark, print bool
}

func (f viewed) String() string {
	name := fmt.Sprintf("%d-light", f.width)
	if f.dark {
		name = fmt.Sprintf("%d-dark", f.width)
	}
	if f.print {
		name = fmt.Sprintf("%d-print", f.width)
	}
	return name
}

func (f viewed) take() chromedp.Action {
	scheme, media := "light", "screen"
	if f.dark {
		scheme = "dark"
	}
	if f.print {
		media = "print"
	}
	return chromedp.Tasks{
		chromedp.EmulateViewport(f.width, 900),
		emulation.SetEmulatedMedia().WithMedia(media).WithFeatures(
			[]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}),
	}
}

// views are all that a report is looked at in.
func views() (all []viewed) {
	for _, width := range []int64{360, 768, 1280} {
		all = append(all, viewed{width: width}, viewed{width: width, dark: true}, viewed{width: width, print: true})
	}
	return all
}

// lookAt opens a file in the browser in all forms, and holds it to what a page owes. With
// SLIPCASE_SHOTS a picture of each is left in that folder.
func lookAt(t *testing.T, file string) {
	t.Helper()
	ctx, script := browser(t), axe(t)
	var mutex sync.Mutex
	var asked []string
	chromedp.ListenTarget(ctx, func(event any) {
		if sent, is := event.(*network.EventRequestWillBeSent); is {
			mutex.Lock()
			defer mutex.Unlock()
			asked = append(asked, sent.Request.URL)
		}
		if _, is := event.(*page.EventJavascriptDialogOpening); is {
			t.Error("a script of the log ran")
		}
	})
	address := "file://" + file
	if err := chromedp.Run(ctx, network.Enable(), chromedp.Navigate(address)); err != nil {
		t.Fatal(err)
	}
	// All that opens is open: what a reader comes to see counts too.
	open := chromedp.Evaluate(
		`document.querySelectorAll('figure details, .run:nth-of-type(-n+12)').forEach(d => d.open = true)`,
		nil,
	)
	for _, f := range views() {
		var text string
		var shot []byte
		tasks := chromedp.Tasks{f.take(), chromedp.Evaluate(looks, &text)}
		if os.Getenv("SLIPCASE_SHOTS") != "" {
			tasks = append(tasks, chromedp.FullScreenshot(&shot, 100))
		}
		for _, opened := range []bool{false, true} {
			if opened {
				tasks = chromedp.Tasks{open, chromedp.Evaluate(looks, &text)}
			}
			if err := chromedp.Run(ctx, tasks); err != nil {
				t.Fatal(err)
			}
			f.hold(t, text)
		}
		if shot != nil {
			if err := os.WriteFile(filepath.Join(os.Getenv("SLIPCASE_SHOTS"), f.String()+".png"), shot, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if script != "" {
			holdAccess(t, ctx, script, f)
		}
		if err := chromedp.Run(ctx, chromedp.Evaluate(`document.querySelectorAll('details').forEach(d => d.open = false)`, nil)); err != nil {
			t.Fatal(err)
		}
	}
	mutex.Lock()
	defer mutex.Unlock()
	if len(asked) != 1 || asked[0] != address {
		t.Errorf("requests: %q, want the file alone", asked)
	}
}

func (f viewed) hold(t *testing.T, text string) {
	t.Helper()
	var l look
	if err := json.Unmarshal([]byte(text), &l); err != nil {
		t.Fatal(err)
	}
	if l.Wide > 0 {
		t.Errorf("%s: %d px beyond the window", f, l.Wide)
	}
	for what, all := range map[string][]string{"lettering under 11 px": l.Small, "labels over each other": l.Over} {
		if n := len(all); n > 0 {
			t.Errorf("%s: %d %s: %q", f, n, what, all[:min(n, 6)])
		}
	}
	if l.Scripts > 0 {
		t.Errorf("%s: %d scripts", f, l.Scripts)
	}
}

// holdAccess wants nothing serious or critical of axe-core.
func holdAccess(t *testing.T, ctx context.Context, script string, f viewed) {
	t.Helper()
	var found string
	err := chromedp.Run(
		ctx,
		chromedp.Evaluate(script+";0", nil),
		chromedp.Evaluate(
			`axe.run({resultTypes: ['violations']}).then(r => JSON.stringify(r.violations.map(v =>
				[v.impact, v.id, v.nodes.length, v.nodes[0].html.slice(0, 200), v.nodes[0].failureSummary])))`,
			&found, chromedp.EvalAsValue, awaited,
		),
	)
	if err != nil {
		t.Fatal(err)
	}
	var all [][]any
	if err := json.Unmarshal([]byte(found), &all); err != nil {
		t.Fatal(err)
	}
	for _, v := range all {
		if v[0] == "serious" || v[0] == "critical" {
			t.Errorf("%s: %v", f, v)
		}
	}
}

// TestReportInBrowser looks at the report of the invented season.
func TestReportInBrowser(t *testing.T) {
	leftToFullRun(t)
	file := filepath.Join(t.TempDir(), "report.html")
	if status, _, said := runLine(t, "report", "-o", file, "--logbook", demoSeason(t)); status != exitDone {
		t.Fatal(said)
	}
	lookAt(t, file)
}

// TestHostileLogInBrowser looks at the report of a log whose every text is meant to hurt.
func TestHostileLogInBrowser(t *testing.T) {
	leftToFullRun(t)
	dir := t.TempDir()
	log, file := filepath.Join(dir, "log"), filepath.Join(dir, "report.html")
	hurt := `<script>window.hurt=1;alert(1)</script><img src=x onerror="window.hurt=1"><svg/onload=alert(1)>` +
		`"'><a href="javascript:alert(1)">{{.}}</a><link rel=stylesheet href=http://127.0.0.1:9/x.css>`
	long := strings.Repeat("wide", 125)
	for _, line := range [][]string{
		{"init"},
		{"vehicle", "add", "heron", "--title", hurt, "--kind", "car"},
		{"vehicle", "add", "plover", "--title", long, "--kind", "motorcycle"},
		{"vehicle", "add", "tern", "--title", "שלום " + "\u202e" + "مرحبا", "--kind", "car"},
		{"track", "add", "saltgrass", "--title", hurt, "--elevation", "812ft"},
		{
			"setup", "add", "--vehicle", "heron", "--from", "2026-04-01", "--name", hurt, "--weight", "3450", "--power", "312hp",
			"--power-at", "wheels", "--standard", "sae",
		},
		{
			"setup", "add", "--vehicle", "heron", "--from", "2026-05-03", "--name", long, "--weight", "3450", "--power", "320hp",
			"--power-at", "wheels", "--standard", "sae",
		},
		{"air", "add", "--track", "saltgrass", "--temp", "80F", "--rh", "50", "--station", "28.94inHg", "--at", "2026-05-02 10:00"},
		{"air", "add", "--track", "saltgrass", "--temp", "88F", "--rh", "40", "--station", "28.94inHg", "--at", "2026-05-09 10:00"},
	} {
		if status, _, said := runLine(t, append(line, "--logbook", log)...); status != exitDone {
			t.Fatal(line, said)
		}
	}
	for _, v := range []string{"heron", "plover", "tern"} {
		for i := range 6 {
			at := fmt.Sprintf("2026-05-%02d 10:%02d", 2+7*(i/3), 10+15*(i%3))
			status, _, said := runLine(
				t,
				"slip",
				"add",
				"--vehicle",
				v,
				"--track",
				"saltgrass",
				"--at",
				at,
				"--60",
				fmt.Sprintf("1.9%d", i),
				"--660",
				fmt.Sprintf("8.4%d@83.7", i),
				"--1320",
				fmt.Sprintf("13.2%d@105.%d", i, i),
				"--round",
				hurt,
				"--meet",
				hurt,
				"--dial",
				"13.2",
				"--reaction",
				".03",
				"--opponent",
				hurt,
				"--opponent-et",
				"12.43",
				"--opponent-dial",
				"12.40",
				"--opponent-reaction",
				".05",
				"--notes",
				hurt+long,
				"--lane",
				"left",
				"--force",
				"--logbook",
				log,
			)
			if status != exitDone {
				t.Fatal(said)
			}
		}
	}
	if status, _, said := runLine(t, "report", "-o", file, "--logbook", log); status != exitDone {
		t.Fatal(said)
	}
	lookAt(t, file)
}

// awaited has a promise waited for.
func awaited(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }
