package phone

import (
	"context"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// TestMetricPage: a racer with a metric log types km/h and reads metric figures alone, within
// 360 px.
func TestMetricPage(t *testing.T) {
	leftToFullRun(t)
	s, stop := startIn(t, units.Metric, newLog(t, 12, clock(raceDay)), t.TempDir(), 0)
	t.Cleanup(stop)
	b := s.open(t, false)
	b.pair()
	b.tap(`#slip [value="right"]`)
	b.tap("#f-reaction")
	b.keys("042" + "1912" + "5437" + "8412" + "13481" + "10980" + "13212" + "17033" + "n")
	b.tap("#slip .go")
	b.wait(`!!document.querySelector("#answer [data-state]")`)
	if state := b.state(); state != recorded {
		t.Errorf("%s: %s", state, b.text("#answer"))
	}
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details").forEach((d) => { d.open = true; })`))
	b.shot("metric")
	last, err := s.Session.Slip("last")
	if err != nil || math.Abs(last.MPH1320.Value()-105.84) > .01 || math.Abs(last.MPH660.Value()-83.77) > .01 {
		t.Errorf("%+v %v", last, err)
	}
	usUnits := regexp.MustCompile(`[0-9] ?(mph|inHg|lb|hp|F)\b|[0-9] ft of density`)
	if us := usUnits.FindAllString(b.text("body"), -1); us != nil {
		t.Errorf("US units on the page: %q", us)
	}
	airs := ask(b, chromedp.Evaluate[[]string](
		`[...document.querySelectorAll("#card table:last-of-type tbody tr td:first-child, #card table:last-of-type tbody tr th:first-child")].map((c) => c.textContent.trim()).filter((t) => !t.includes(":"))`))
	for _, da := range airs {
		if !strings.HasSuffix(da, "00") {
			t.Errorf("density altitudes by whole hundreds of meters: %q", airs)
			break
		}
	}
	if len(airs) < 8 {
		t.Errorf("%q: want a card by the air", airs)
	}
	example := ask(b, chromedp.Evaluate[string](`document.querySelector("#air").placeholder`))
	if example != "31C 42 980" {
		t.Errorf("a reading as %q", example)
	}
	if wide := ask(b, chromedp.Evaluate[bool](`document.documentElement.scrollWidth > innerWidth`)); wide {
		t.Error("the page scrolls sideways")
	}
}

// startIn starts one that shows and reads the units of a system.
func startIn(t testing.TB, system units.System, lb *crew.Session, dir string, port int) (s *Server, stop func()) {
	t.Helper()
	devices, err := DevicesOf(dir, lb.Dir())
	if err != nil {
		t.Fatal(err)
	}
	s, err = Listen(Config{
		Session: lb, Address: "127.0.0.1", Port: port, Settings: dir, Now: lb.Now, Devices: devices,
		Units: system, Bare: system,
	})
	if err != nil {
		t.Fatal(err)
	}
	ctx, end := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx) }()
	return s, func() {
		end()
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
}
