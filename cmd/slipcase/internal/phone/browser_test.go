package phone

import (
	"context"
	"fmt"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"slipcase/cmd/slipcase/internal/crew"
)

// absent skips a test for want of a program; in CI, which installs it, that is a failure.
func absent(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not here: install it", what)
	}
	t.Skipf("%s is not here", what)
}

// leftToFullRun skips a test that drives a browser in the inner loop.
func leftToFullRun(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("left to the full run")
	}
}

// browser is a page of Debian's chromium of the size of a telephone.
type browser struct {
	t    *testing.T
	ctx  context.Context
	s    *Server
	taps int

	mu    sync.Mutex
	wrong []string // requests that left this machine
}

func (s *Server) open(t *testing.T, dark bool) *browser {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		absent(t, "chromium")
	}
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(path))
	if os.Getuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	alloc, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, done := chromedp.NewContext(alloc)
	t.Cleanup(done)
	b := &browser{t: t, ctx: ctx, s: s}
	if err := chromedp.Do(ctx); err != nil { // starts it, with no limit of time
		t.Fatal(err)
	}
	own, err := url.Parse(s.URL())
	if err != nil {
		t.Fatal(err)
	}
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	b.do(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile))
	b.do(chromedp.Func(func(ctx context.Context, p *chromedp.Target) error {
		focused := emulation.SetFocusEmulationEnabledParams{Enabled: true}
		_, err := cdp.Call(ctx, p, emulation.SetFocusEmulationEnabled, focused)
		if err != nil {
			return err
		}
		_, err = cdp.Call(ctx, p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
		})
		return err
	}))
	err = chromedp.Listen(ctx, func(ev any) {
		if e, ok := ev.(*network.EventRequestWillBeSent); ok {
			if u, err := url.Parse(e.Request.URL); err == nil && u.Scheme != "data" && u.Host != own.Host {
				b.mu.Lock()
				b.wrong = append(b.wrong, e.Request.URL)
				b.mu.Unlock()
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		for _, w := range b.wrong {
			t.Errorf("left this machine: %s", w)
		}
	})
	return b
}

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, late := context.WithTimeout(b.ctx, 20*time.Second)
	defer late()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.fatal(err)
	}
}

// fatal ends the test with what the page shows.
func (b *browser) fatal(err error) {
	b.t.Helper()
	ctx, late := context.WithTimeout(b.ctx, 5*time.Second)
	defer late()
	body, _ := chromedp.Run(ctx, chromedp.Text("body")) // as much as there is
	b.t.Fatalf("%v\n%s", err, body)
}

// pair types the code.
func (b *browser) pair() {
	b.t.Helper()
	b.do(chromedp.Navigate(b.s.URL()), chromedp.WaitVisible("#code"),
		chromedp.SendKeys("#code", b.s.NewCode()))
	b.tap(".use button")
	b.do(chromedp.WaitVisible("#slip"))
}

// tap presses what a selector finds, as a finger does.
func (b *browser) tap(selector string) {
	b.t.Helper()
	b.taps++
	selector = strings.ReplaceAll(selector, "`", "")
	hit := ask(b, chromedp.Evaluate[string]("("+tapping+")(`"+selector+"`)"))
	if hit != "" {
		b.fatal(fmt.Errorf("tap %s: %s", selector, hit))
	}
}

// tapping presses what lies at the middle of an element, and says what is in its way.
const tapping = `(selector) => {
	const e = document.querySelector(selector);
	if (!e) return "is not there";
	let r = e.getBoundingClientRect();
	if (r.top < 0 || r.bottom > innerHeight) e.scrollIntoView({block: "center", behavior: "instant"});
	r = e.getBoundingClientRect();
	const at = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2);
	if (!at || at !== e && !e.contains(at) && !at.contains(e)) return "lies under " + (at && at.outerHTML.slice(0, 80));
	if (at.matches("input,textarea,select,summary,a,button")) at.focus();
	at.click();
	return "";
}`

// keys presses the keypad's keys; - is minus, n next, b back.
func (b *browser) keys(text string) {
	b.t.Helper()
	for _, k := range text {
		name := string(k)
		switch k {
		case 'n':
			name = "next"
		case 'b':
			name = "back"
		}
		b.tap(`#pad [data-key="` + name + `"]`)
	}
}

func (b *browser) text(selector string) string {
	b.t.Helper()
	return ask(b, chromedp.Text(selector))
}

// ask runs an action that has an answer.
func ask[T any](b *browser, a chromedp.Action[T]) T {
	b.t.Helper()
	ctx, late := context.WithTimeout(b.ctx, 20*time.Second)
	defer late()
	v, err := chromedp.Run(ctx, a)
	if err != nil {
		b.fatal(err)
	}
	return v
}

// wait waits until a condition in the page's own language holds.
func (b *browser) wait(condition string) {
	b.t.Helper()
	poll := chromedp.Poll[bool](condition, chromedp.WithPollingTimeout(20*time.Second))
	if _, err := chromedp.Run(b.ctx, poll); err != nil {
		b.fatal(fmt.Errorf("%s never came: %w", condition, err))
	}
}

// shot keeps a picture of the page, to be looked at, where SLIPCASE_SHOTS says.
func (b *browser) shot(name string) {
	b.t.Helper()
	dir := os.Getenv("SLIPCASE_SHOTS")
	if dir == "" {
		return
	}
	png := ask(b, chromedp.FullScreenshot(100))
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// TestTaps types a slip of each kind on the keypad and counts.
func TestTaps(t *testing.T) {
	leftToFullRun(t)
	now := clock(raceDay)
	for _, c := range []struct {
		name, vehicle, track string
		most                 int
		type_                func(b *browser)
		check                func(s crew.Slip) bool
	}{
		{"eighth", "plover", "highmesa", 30, func(b *browser) {
			b.tap(`#slip [value="right"]`)
			b.tap("#f-reaction")
			b.keys("042" + "1412" + "4137" + "6512" + "10377")
			b.keys("n") // no dial
			b.tap("#slip .go")
		}, func(s crew.Slip) bool {
			return s.ET660S.Value() == 6.512 && s.MPH660.Value() == 103.77 && s.ReactionS.Value() == .042 && s.Lane == "right"
		}},
		{"quarter", "heron", "saltgrass", 50, func(b *browser) {
			b.tap(`#slip [value="right"]`)
			b.tap("#f-reaction")
			b.keys("042" + "1912" + "5437" + "8412" + "8377" + "10980" + "13212" + "10584" + "n")
			b.tap("#slip .go")
		}, func(s crew.Slip) bool { return s.ET1320S.Value() == 13.212 && s.MPH1320.Value() == 105.84 }},
		{"both lanes, eighth", "plover", "highmesa", 56, func(b *browser) {
			b.tap(`#slip [value="right"]`)
			b.tap(".other summary")
			b.tap("#f-reaction")
			b.keys("042" + "1412" + "4137" + "6512" + "10377" + "650" + "051" + "7010" + "9940" + "695" + "n")
			b.tap("#slip .go")
		}, func(s crew.Slip) bool {
			return s.DialS.Value() == 6.5 && s.OpponentETS.Value() == 7.01 && s.OpponentMPH.Value() == 99.4 &&
				s.OpponentDialS.Value() == 6.95
		}},
		{"both lanes", "heron", "saltgrass", 76, func(b *browser) {
			b.tap(`#slip [value="right"]`)
			b.tap(".other summary")
			b.tap("#f-reaction")
			b.keys("042" + "1912" + "5437" + "8412" + "8377" + "10980" + "13212" + "10584" + "1325")
			b.keys("051" + "12430" + "10940" + "1240")
			b.tap("#slip .go")
		}, func(s crew.Slip) bool {
			return s.DialS.Value() == 13.25 && s.OpponentReactionS.Value() == .051 && s.OpponentETS.Value() == 12.43 &&
				s.OpponentMPH.Value() == 109.4 && s.OpponentDialS.Value() == 12.4
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := serve(t, newLog(t, 12, now))
			b := s.open(t, false)
			b.pair()
			b.do(chromedp.Navigate(s.URL()+"?vehicle="+c.vehicle+"&track="+c.track), chromedp.WaitVisible("#slip"))
			b.shot("empty-" + c.name)
			b.taps = 0
			c.type_(b)
			b.wait(`!!document.querySelector("#answer [data-state]")`)
			taps := b.taps
			if state := b.state(); state != recorded {
				t.Errorf("%s: %s", state, b.text("#answer"))
			}
			b.shot("verdict-" + c.name)
			last, err := s.Session.Slip("last")
			if err != nil || !c.check(last) {
				t.Errorf("%+v %v", last, err)
			}
			t.Logf("%d taps", taps)
			if taps > c.most {
				t.Errorf("%d taps, %d at most", taps, c.most)
			}
		})
	}
}

func (b *browser) state() string {
	b.t.Helper()
	return ask(b, chromedp.Evaluate[string](`document.querySelector("#answer [data-state]").dataset.state`))
}

// TestOfflineAndBack types slips with no network, reloads, and finds each recorded once
// when it is back, and a typing error asked about then.
func TestOfflineAndBack(t *testing.T) {
	leftToFullRun(t)
	lb, dir := newLog(t, 12, clock(raceDay)), t.TempDir()
	s, stop := start(t, lb, dir, 0)
	b := s.open(t, true)
	b.pair()
	b.wait(`!!navigator.serviceWorker.controller || navigator.serviceWorker.ready.then(() => true)`)
	b.do(chromedp.Reload(), chromedp.WaitVisible("#slip"))
	stop()
	b.tap("#f-reaction")
	b.keys("042" + "1912" + "5437" + "8412" + "8377" + "10980" + "13212" + "10584" + "n")
	b.tap("#slip .go")
	b.wait(`document.querySelectorAll("#waiting li").length === 1 && !document.getElementById("waiting").hidden`)
	b.tap("#f-reaction")
	b.keys("051" + "1912" + "4437") // the second is left half typed
	b.shot("offline-dark")
	b.do(chromedp.Reload(), chromedp.WaitVisible("#slip"))
	b.wait(`document.querySelectorAll("#waiting li").length === 1`)
	b.wait(`document.getElementById("f-et_330").value === "4437"`)
	if card := b.text("#card"); !strings.Contains(card, "by the density altitude") || !strings.Contains(card, "made 15:00") {
		t.Errorf("the card is not there without a server: %s", card)
	}
	b.tap("#f-et_660")
	b.keys("8412" + "8377" + "10980" + "13212" + "10584" + "n")
	b.tap("#slip .go")
	b.wait(`document.querySelectorAll("#waiting li").length === 2`)
	if slips, err := s.Session.Slips("heron"); err != nil || len(slips) != 12 {
		t.Fatalf("%d slips, %v", len(slips), err)
	}
	_, port, err := net.SplitHostPort(s.listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	n, err := strconv.Atoi(port)
	if err != nil {
		t.Fatal(err)
	}
	_, stop = start(t, lb, dir, n)
	defer stop()
	b.wait(`!!document.querySelector('#answer [data-state="asked"]')`)
	b.shot("asked-dark")
	if left := b.waiting(); left != 1 {
		t.Errorf("%d wait, want the one that is asked about", left)
	}
	b.tap("#answer .choice button") // the time that was meant; then the two lie within a minute
	b.wait(`!document.querySelector("#answer").textContent.includes("330 ft")`)
	b.tap("#answer .choice button")
	b.wait(`document.querySelectorAll("#waiting li").length === 0`)
	slips, err := s.Session.Slips("heron")
	if err != nil || len(slips) != 14 || slips[13].ET330S.Value() == 4.437 {
		t.Errorf("%d slips, %v", len(slips), err)
	}
}

func (b *browser) waiting() int {
	return ask(b, chromedp.Evaluate[int](`document.querySelectorAll("#waiting li").length`))
}

// TestTwoPhones: what one records the other shows within two seconds.
func TestTwoPhones(t *testing.T) {
	leftToFullRun(t)
	s := serve(t, newLog(t, 12, clock(raceDay)))
	one, two := s.open(t, false), s.open(t, true)
	one.pair()
	two.pair()
	one.tap("#f-reaction")
	one.keys("042" + "1912" + "5437" + "8412" + "8377" + "10980" + "13212" + "10584" + "n")
	one.do(chromedp.SetValue("#f-words", "14:30"))
	one.tap("#slip .go")
	one.wait(`!!document.querySelector('#answer [data-state="recorded"]')`)
	at := time.Now()
	two.wait(`document.querySelectorAll(".runs li").length === 1`)
	if took := time.Since(at); took > 2*time.Second {
		t.Errorf("the other phone shows it after %v", took)
	}
	two.shot("two-dark")
	// The round goes on by itself: an E1 that was not lost is followed by E2.
	one.do(chromedp.SetValue("#f-round", "E1"))
	one.tap("#f-reaction")
	one.keys("042" + "1912" + "5437" + "8412" + "8377" + "10980" + "13202" + "10594" + "n")
	one.tap("#slip .go")
	one.wait(`document.getElementById("f-round").value === "E2" || !!document.querySelector('[data-state="asked"]')`)
	if state := one.state(); state != recorded {
		t.Errorf("%s: %s", state, one.text("#answer"))
	}
}

// TestFits: no page scrolls sideways, no text is under 11 px, no target under 44 px, in both
// themes, and a screen reader finds its way (axe-core, the rules of WCAG 2 A to AAA).
func TestFits(t *testing.T) {
	leftToFullRun(t)
	axe := axeCore(t)
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	h.post("/slip", h.slip(id(1), "dial", "13.25", "other_et", "12.430", "other_dial", "12.40"))
	for _, dark := range []bool{false, true} {
		b := s.open(t, dark)
		b.do(chromedp.Navigate(s.URL()), chromedp.WaitVisible("#code"))
		b.holds(axe, "pair")
		b.pair()
		for _, c := range []struct{ name, path, open string }{
			{"page", "", ""}, {"slip", "slip/" + id(1), ""}, {"typing", "", "#f-et_60"},
		} {
			b.do(chromedp.Navigate(s.URL() + c.path))
			b.wait(`document.readyState === "complete" && !!document.querySelector(".go")`)
			b.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details").forEach((d) => { d.open = true; })`))
			if c.open != "" {
				b.tap(c.open)
			}
			b.holds(axe, c.name)
			name := c.name
			if dark {
				name += "-dark"
			}
			b.shot(name)
		}
	}
}
