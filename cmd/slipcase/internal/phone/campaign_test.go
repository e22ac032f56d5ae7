package phone

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// full says that the campaigns are wanted at full size.
func full() bool { return os.Getenv("SLIPCASE_CAMPAIGN") == "1" }

// sized is a size of a campaign: full, everyday or short.
func sized(most, everyday, least int) int {
	switch {
	case full():
		return most
	case testing.Short():
		return least
	}
	return everyday
}

// The test binary serves a logbook where servesLog says, so that it can be killed.
const servesLog = "SLIPCASE_TEST_SERVES"

func TestMain(m *testing.M) {
	if where := os.Getenv(servesLog); where != "" {
		words := strings.Split(where, "|")
		if err := serveLog(words[0], words[1], words[2]); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

func serveLog(dir, settings, port string) error {
	now := clock(raceDay)
	lb, err := logbook.Open(dir, logbook.Options{Now: now})
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(port)
	if err != nil {
		return err
	}
	devices, err := DevicesOf(settings, dir)
	if err != nil {
		return err
	}
	s, err := Listen(Config{
		Session: crew.NewSession(lb, now), Address: "127.0.0.1", Port: n, Settings: settings, Now: now, Devices: devices,
	})
	if err != nil {
		return err
	}
	return s.Serve(context.Background())
}

// freePort is one that nobody listens at.
func freePort(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	return port
}

// bad is a network that loses requests, or their answers, holds them back and doubles them.
type bad struct {
	next *http.Transport
	mu   sync.Mutex
	rand *rand.Rand
}

var errCut = errors.New("the network is cut")

func (b *bad) chance() float64 {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.rand.Float64()
}

func (b *bad) RoundTrip(r *http.Request) (*http.Response, error) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return nil, err
	}
	send := func() (*http.Response, error) {
		again := r.Clone(r.Context())
		again.Body = io.NopCloser(bytes.NewReader(body))
		return b.next.RoundTrip(again)
	}
	time.Sleep(time.Duration(20*b.chance()*b.chance()) * time.Millisecond) // later ones come first
	switch c := b.chance(); {
	case c < .1:
		return nil, errCut // on the way there
	case c < .25: // on the way back
		if answer, err := send(); err == nil {
			answer.Body.Close()
		}
		return nil, errCut
	case c < .35:
		if answer, err := send(); err == nil {
			answer.Body.Close()
		}
	}
	return send()
}

// TestEachSlipOnce: phones send their slips over a bad network to a server that is killed
// again and again, each until it hears that the slip is recorded.
func TestEachSlipOnce(t *testing.T) {
	t.Parallel()
	phones, slips, kills := sized(10, 4, 2), sized(200, 25, 4), sized(100, 5, 1)
	lb := newLog(t, 6, clock(raceDay))
	for n := range phones {
		v := logbook.Vehicle{Entry: logbook.Entry{ID: fmt.Sprintf("car-%c", 'a'+n)}, Kind: "car", Aspiration: "natural"}
		if err := lb.AddVehicle(&v); err != nil {
			t.Fatal(err)
		}
	}
	settings, port := t.TempDir(), freePort(t)
	devices, err := DevicesOf(settings, lb.Dir())
	if err != nil {
		t.Fatal(err)
	}
	var left atomic.Int64
	left.Store(int64(phones * slips))
	var wg sync.WaitGroup
	for n := range phones {
		secret, err := devices.add("phone", raceDay)
		if err != nil {
			t.Fatal(err)
		}
		wg.Go(func() {
			c := &http.Client{
				Transport: &bad{next: &http.Transport{}, rand: rand.New(rand.NewPCG(1, uint64(n)))}, Timeout: 20 * time.Second,
			}
			var inFlight sync.WaitGroup
			room := make(chan struct{}, 3)
			for i := range slips {
				room <- struct{}{}
				inFlight.Go(func() {
					defer func() { <-room; left.Add(-1) }()
					deliver(t, c, port, secret, url.Values{
						"token": {tokenOf(secret)}, "id": {id(1 + n*slips + i)}, "vehicle": {fmt.Sprintf("car-%c", 'a'+n)},
						"track": {"saltgrass"}, "reaction": {fmt.Sprintf(".%03d", 10+i)}, "et_1320": {fmt.Sprintf("13.%03d", i)},
						"age_ms": {strconv.Itoa((slips - i) * 120_000)}, "force": {"yes"},
					})
				})
			}
			inFlight.Wait()
		})
	}
	killed := killAgainAndAgain(t, lb.Dir(), settings, port, kills, &left)
	wg.Wait()
	other, err := logbook.Open(lb.Dir(), logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	all, err := other.Slips("")
	if err != nil || len(other.Problems()) > 0 {
		t.Fatalf("%v %v", err, other.Problems())
	}
	count := map[string]int{}
	for _, s := range all {
		count[s.ID]++
	}
	for n := range phones * slips {
		if got := count[id(1+n)]; got != 1 {
			t.Errorf("slip %s is there %d times", id(1+n), got)
		}
	}
	t.Logf("%d phones, %d slips each, the server killed %d times: %d slips of theirs", phones, slips, killed, len(all)-6)
}

// deliver sends a slip until it is recorded.
func deliver(t *testing.T, c *http.Client, port, secret string, form url.Values) {
	t.Helper()
	for deadline := time.Now().Add(3 * time.Minute); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		r, err := http.NewRequest(http.MethodPost, "http://127.0.0.1:"+port+"/slip", strings.NewReader(form.Encode()))
		if err != nil {
			t.Error(err)
			return
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Slipcase-Part", "1")
		r.AddCookie(&http.Cookie{Name: cookieName, Value: secret})
		answer, err := c.Do(r)
		if err != nil {
			continue
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		switch state := answer.Header.Get(slipState); {
		case err != nil, answer.StatusCode == http.StatusServiceUnavailable:
		case state == recorded:
			return
		default:
			t.Errorf("%s: %d %s", form.Get("id"), answer.StatusCode, text)
			return
		}
	}
	t.Errorf("%s was never recorded", form.Get("id"))
}

// killAgainAndAgain runs the server until nothing is left to be sent, killing it so often.
func killAgainAndAgain(t *testing.T, dir, settings, port string, kills int, left *atomic.Int64) (killed int) {
	t.Helper()
	lot := rand.New(rand.NewPCG(2, 3))
	for left.Load() > 0 {
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), servesLog+"="+dir+"|"+settings+"|"+port)
		c.Stderr = os.Stderr
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		life := time.Duration(60+lot.IntN(200)) * time.Millisecond
		for end := time.Now().Add(life); left.Load() > 0 && (killed >= kills || time.Now().Before(end)); {
			time.Sleep(10 * time.Millisecond)
		}
		if left.Load() > 0 {
			killed++
		}
		c.Process.Kill()
		c.Wait()
	}
	return killed
}

// TestJunk sends what no phone sends: the server answers or hangs up, and serves on.
func TestJunk(t *testing.T) {
	leftToFullRun(t)
	t.Parallel()
	s := serve(t, newLog(t, 6, clock(raceDay)))
	h := s.pairedHandset(t)
	u, err := url.Parse(s.URL())
	if err != nil {
		t.Fatal(err)
	}
	own := h.http.Jar.Cookies(u)[0].Value
	n := sized(10_000, 600, 600)
	var wrong atomic.Int64
	var wg sync.WaitGroup
	for worker := range 8 {
		wg.Go(func() {
			lot := rand.New(rand.NewPCG(7, uint64(worker)))
			for range n / 8 {
				switch status := junk(lot, u.Host, own); {
				case status < 500, status == http.StatusServiceUnavailable:
				case status == http.StatusHTTPVersionNotSupported, status == http.StatusNotImplemented:
					// net/http's own answer to what is no HTTP that it speaks
				default:
					wrong.Add(1)
					t.Errorf("status %d", status)
				}
			}
		})
	}
	wg.Wait()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	t.Logf("%d requests, %.0f MB in use, %.0f MB of the system", n, float64(m.HeapInuse)/1e6, float64(m.Sys)/1e6)
	if m.HeapInuse > 64e6 {
		t.Errorf("%d bytes in use", m.HeapInuse)
	}
	if status, _ := h.get("/"); status != http.StatusOK {
		t.Errorf("after it all: %d", status)
	}
	if slips, err := s.Session.Slips(""); err != nil || len(slips) != 6 {
		t.Errorf("%d slips, %v", len(slips), err)
	}
}

// junk sends one request of no sense, and gives the status of its answer, 0 without one.
func junk(lot *rand.Rand, host, secret string) int {
	c, err := net.DialTimeout("tcp", host, 5*time.Second)
	if err != nil {
		return 0
	}
	defer c.Close()
	c.SetDeadline(time.Now().Add(5 * time.Second))
	any := func(of ...string) string { return of[lot.IntN(len(of))] }
	bytesOf := func(n int) string {
		b := make([]byte, lot.IntN(n))
		for i := range b {
			b[i] = byte(lot.UintN(256))
		}
		return string(b)
	}
	body := any(
		"", bytesOf(200), "id="+bytesOf(30), strings.Repeat("a=b&", lot.IntN(20_000)),
		"token="+tokenOf(secret)+"&id="+id(lot.IntN(99))+"&text="+url.QueryEscape(bytesOf(400)),
	)
	length := any(strconv.Itoa(len(body)), "-1", "99999999999", "7", "x")
	if lot.IntN(3) > 0 {
		length = strconv.Itoa(len(body))
	}
	path := any(
		"/", "/slip", "/pair", "/air", "/events", "/now", "/card", "/void/"+url.PathEscape(bytesOf(20)), "/slip/..%2f..",
		"/"+bytesOf(3000), "//", "/slip/"+id(3), "*",
	)
	method := any("GET", "POST", "PUT", "DELETE", "TRACE", bytesOf(10))
	fmt.Fprintf(c, "%s %s HTTP/%s\r\n", method, path, any("1.1", "1.0", "9.9"))
	fmt.Fprintf(c, "Host: %s\r\n", any(host, host, "evil.example", bytesOf(10)))
	fmt.Fprintf(c, "Cookie: %s=%s\r\n", cookieName, any(secret, secret, bytesOf(50)))
	fmt.Fprintf(c, "Content-Type: %s\r\n", any(
		"application/x-www-form-urlencoded", "multipart/form-data", "multipart/form-data; boundary=x", "text/plain; charset=utf-7",
	))
	if lot.IntN(4) == 0 {
		fmt.Fprintf(c, "Transfer-Encoding: chunked\r\n%s: %s\r\n", any("X", "Content-Encoding", "Accept-Encoding"), bytesOf(300))
	} else {
		fmt.Fprintf(c, "Content-Length: %s\r\n", length)
	}
	if lot.IntN(10) == 0 {
		return 0 // half open
	}
	io.WriteString(c, "\r\n"+body)
	if path == "/events" || lot.IntN(20) == 0 {
		c.SetDeadline(time.Now().Add(50 * time.Millisecond))
	} else {
		c.(*net.TCPConn).CloseWrite()
	}
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		return 0
	}
	defer r.Body.Close()
	return r.StatusCode
}

// TestGuessing guesses codes for an hour, with a new code at the laptop as often as one
// runs out: fewer than 100 guesses count, of a million codes.
func TestGuessing(t *testing.T) {
	t.Parallel()
	now := raceDay
	p := &pairing{now: func() time.Time { return now }}
	counted := 0
	for ; now.Before(raceDay.Add(time.Hour)); now = now.Add(100 * time.Millisecond) {
		if now.Sub(raceDay)%codeLife == 0 {
			p.renew()
		}
		before := p.tries
		if p.take("x") == nil {
			t.Fatal("let in")
		}
		counted += p.tries - before
	}
	if chance := float64(counted) / 1e6; chance >= 1e-4 || counted == 0 {
		t.Errorf("%d guesses count in an hour: a chance of %g", counted, chance)
	}
}

// TestSideBySide records from commands and phones at once: all is there, and no reader
// finds a row that it cannot read.
func TestSideBySide(t *testing.T) {
	leftToFullRun(t)
	t.Parallel()
	const writers = 4
	n := sized(5_000, 80, 12) / writers
	lb := newLog(t, 6, clock(raceDay))
	s := serve(t, lb)
	var wg sync.WaitGroup
	for w := range writers {
		if w%2 == 0 {
			h := s.pairedHandset(t)
			wg.Go(func() {
				for i := range n {
					form := h.slip(id(1+w*n+i), "vehicle", "plover", "track", "highmesa", "force", "yes",
						"age_ms", strconv.Itoa((w*n+i)*150_000), "et_660", "6.5", "speed_660", "104",
						"et_1000", "", "et_1320", "", "speed_1320", "")
					if status, body := h.part("/slip", form); status != http.StatusOK {
						t.Errorf("%d %s", status, body)
					}
				}
			})
			continue
		}
		wg.Go(func() {
			other, err := logbook.Open(lb.Dir(), logbook.Options{})
			if err != nil {
				t.Error(err)
				return
			}
			for i := range n {
				slip := logbook.Slip{
					Vehicle: "heron", Track: "saltgrass", Time: logbook.Time{Time: raceDay.Add(-time.Duration(w*n+i) * time.Minute)},
					ET1320S: units.Some(13.3),
				}
				if err := other.AddSlips(&slip); err != nil {
					t.Error(err)
				}
			}
		})
	}
	done := make(chan struct{})
	go func() { wg.Wait(); close(done) }()
	for reads := 0; ; reads++ {
		other, err := logbook.Open(lb.Dir(), logbook.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := other.Slips(""); err != nil || len(other.Problems()) > 0 {
			t.Fatalf("a reader: %v %v", err, other.Problems())
		}
		select {
		case <-done:
			slips, err := other.Slips("")
			if err != nil || len(slips) != 6+writers*n {
				t.Errorf("%d slips, want %d; %v", len(slips), 6+writers*n, err)
			}
			t.Logf("%d slips, read %d times meanwhile", writers*n, reads)
			return
		case <-time.After(20 * time.Millisecond):
		}
	}
}
