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

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
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
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox)
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
	Lost    []string // tables with a column that is out of sight
	Scripts int
}

// looks measures a page: its width, each piece of lettering, the tables in their frames, and
// in each picture whether the boxes of labels meet.
const looks = `(() => {
  const out = {Wide: document.documentElement.scrollWidth - window.innerWidth, Small: [], Over: [], Lost: [],
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
  for (const table of document.querySelectorAll('table')) {
    const box = table.getBoundingClientRect(), frame = table.closest('.wide,details,section').getBoundingClientRect();
    const end = Math.min(frame.right, document.documentElement.clientWidth);
    if (table.checkVisibility() && box.right > end + 0.5)
      out.Lost.push(Math.round(box.right - end) + ' px of ' + (table.caption || table).textContent.slice(0, 60));
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

func (f viewed) take(ctx context.Context) error {
	asked := emulation.SetEmulatedMediaParams{
		Media: "screen", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "light"}},
	}
	if f.dark {
		asked.Features[0].Value = "dark"
	}
	if f.print {
		asked.Media = "print"
	}
	return chromedp.Do(ctx, chromedp.EmulateViewport(f.width, 900), chromedp.Func(
		func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, asked)
			return err
		}))
}

// evaluate gives what a script gives.
func evaluate[T any](t *testing.T, ctx context.Context, script string, options ...chromedp.EvaluateOption) T {
	t.Helper()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, options...))
	if err != nil {
		t.Fatal(err)
	}
	return value
}

// Print on A4 and Letter is as wide between margins of 15 mm (ISO 216, ANSI/ASME Y14.1; CSS
// has 96 px to the inch).
const (
	a4     = (210 - 2*15) * 96 * 10 / 254
	letter = (2159 - 2*150) * 96 / 254
)

// views are all that a report is looked at in.
func views() (all []viewed) {
	all = []viewed{{width: a4, print: true}, {width: letter, print: true}}
	for _, width := range []int64{360, 768, 1280} {
		all = append(all, viewed{width: width}, viewed{width: width, dark: true}, viewed{width: width, print: true})
	}
	return all
}

// openAll opens all figures and a dozen runs.
const openAll = `document.querySelectorAll('figure details, .run:nth-of-type(-n+12)').forEach(d => d.open = true); true`

// lookAt opens a file in the browser in all forms, and holds it to what a page owes. With
// SLIPCASE_SHOTS a picture of each is left in that folder.
func lookAt(t *testing.T, file string) {
	t.Helper()
	ctx, script := browser(t), axe(t)
	var mutex sync.Mutex
	var asked []string
	if err := chromedp.Do(ctx); err != nil { // it is there
		t.Fatal(err)
	}
	err := chromedp.Listen(ctx, func(event any) {
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
	if err == nil {
		err = chromedp.Do(ctx, chromedp.Navigate(address))
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range views() {
		if err := f.take(ctx); err != nil {
			t.Fatal(err)
		}
		f.hold(t, evaluate[string](t, ctx, looks))
		if shots := os.Getenv("SLIPCASE_SHOTS"); shots != "" {
			shot, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
			if err == nil {
				err = os.WriteFile(filepath.Join(shots, f.String()+".png"), shot, 0o644)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		evaluate[bool](t, ctx, openAll) // what a reader comes to see counts too
		f.hold(t, evaluate[string](t, ctx, looks))
		if script != "" {
			holdAccess(t, ctx, script, f)
		}
		evaluate[bool](t, ctx, `document.querySelectorAll('details').forEach(d => d.open = false); true`)
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
	if f.width < a4 {
		l.Lost = nil // a telephone scrolls a wide table in its frame; no paper is as narrow
	}
	for what, all := range map[string][]string{
		"lettering under 11 px": l.Small, "labels over each other": l.Over, "tables not whole": l.Lost,
	} {
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
	evaluate[int](t, ctx, script+";0")
	found := evaluate[string](
		t,
		ctx,
		`axe.run({resultTypes: ['violations']}).then(r => JSON.stringify(r.violations.map(v =>
		[v.impact, v.id, v.nodes.length, v.nodes[0].html.slice(0, 200), v.nodes[0].failureSummary])))`,
		chromedp.EvalAwaitPromise,
	)
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
