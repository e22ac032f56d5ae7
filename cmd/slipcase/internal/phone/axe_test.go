package phone

import (
	"archive/tar"
	"compress/gzip"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// holds finds what does not fit, and what axe-core calls serious or critical.
func (b *browser) holds(axe, page string) {
	b.t.Helper()
	wrong := ask(b, chromedp.Evaluate[[]string](`(() => {
		const wrong = [], root = document.documentElement;
		if (root.scrollWidth > root.clientWidth) wrong.push("scrolls sideways: " + root.scrollWidth + " of " + root.clientWidth);
		const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
		while (walk.nextNode()) {
			const of = walk.currentNode.parentElement;
			if (!walk.currentNode.textContent.trim() || !of.offsetParent || of.tagName === "SCRIPT") continue;
			if (parseFloat(getComputedStyle(of).fontSize) < 11) wrong.push("small: " + walk.currentNode.textContent.slice(0, 30));
		}
		document.querySelectorAll("button,input:not([type=hidden]):not([type=radio]),select,summary,.runs a,.lanes label").forEach((e) => {
			const r = e.getBoundingClientRect();
			if (r.width && (r.height < 48 || r.width < 48)) wrong.push("target " + r.width + "x" + r.height + ": " + (e.name || e.textContent).slice(0, 30));
		});
		return wrong;
	})()`))
	for _, w := range wrong {
		b.t.Errorf("%s: %s", page, w)
	}
	if axe == "" {
		return
	}
	b.do(chromedp.Evaluate[chromedp.Void](axe))
	found := ask(b, chromedp.Evaluate[string](`axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21aa", "wcag22aa", "best-practice"]}).then((r) =>
		JSON.stringify(r.violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => v.id + ": " + v.nodes.map((n) => n.html).slice(0, 3).join(" | "))))`,
		chromedp.EvalAwaitPromise))
	var violations []string
	if err := json.Unmarshal([]byte(found), &violations); err != nil {
		b.t.Fatal(err)
	}
	for _, v := range violations {
		b.t.Errorf("%s: axe-core: %s", page, v)
	}
}

// axeCore is the script of axe-core as npm gives it, "" where it cannot be had.
func axeCore(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	c := exec.Command("npm", "pack", "--silent", "axe-core@4.14.1")
	c.Dir = dir
	out, err := c.Output()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("npm pack axe-core: %v", err)
		}
		t.Logf("npm pack axe-core: %v: its rules are not held", err)
		return ""
	}
	f, err := os.Open(filepath.Join(dir, strings.TrimSpace(string(out))))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	for files := tar.NewReader(z); ; {
		h, err := files.Next()
		if errors.Is(err, io.EOF) {
			t.Fatal("no axe.min.js in axe-core")
		}
		if err != nil {
			t.Fatal(err)
		}
		if h.Name == "package/axe.min.js" {
			text, err := io.ReadAll(files)
			if err != nil {
				t.Fatal(err)
			}
			return string(text)
		}
	}
}
