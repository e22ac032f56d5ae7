package phone

import (
	"crypto/tls"
	"crypto/x509"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestWhoGetsIn: who has no cookie, another page, another name of this machine, a form
// without its token or a revoked phone records nothing and reads nothing.
func TestWhoGetsIn(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 6, clock(raceDay)))
	h := s.pairedHandset(t)
	u, err := url.Parse(s.URL())
	if err != nil {
		t.Fatal(err)
	}
	cookie := h.http.Jar.Cookies(u)[0]
	for _, c := range []struct {
		name   string
		change func(r *http.Request)
		form   url.Values
		status int
	}{
		{"no cookie", func(r *http.Request) { r.Header.Del("Cookie") }, h.slip(id(1)), http.StatusForbidden},
		{"another cookie", func(r *http.Request) { r.Header.Set("Cookie", cookieName+"=x") }, h.slip(id(1)), http.StatusForbidden},
		{"another origin", func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }, h.slip(id(1)), http.StatusForbidden},
		{"from another site", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, h.slip(id(1)), http.StatusForbidden},
		{"another host", func(r *http.Request) { r.Host = "evil.example:" + u.Port() }, h.slip(id(1)), http.StatusMisdirectedRequest},
		{"no token", func(*http.Request) {}, h.slip(id(1), "token", ""), http.StatusForbidden},
		{"another token", func(*http.Request) {}, h.slip(id(1), "token", tokenOf("x")), http.StatusForbidden},
		{"too much", func(*http.Request) {}, h.slip(id(1), "notes", strings.Repeat("x", mostBody)), http.StatusRequestEntityTooLarge},
		{"its own", func(r *http.Request) { r.Header.Set("Origin", strings.TrimSuffix(s.URL(), "/")) }, h.slip(id(1)), http.StatusOK},
	} {
		r, err := http.NewRequest(http.MethodPost, s.URL()+"slip", strings.NewReader(c.form.Encode()))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.AddCookie(cookie)
		c.change(r)
		answer, err := (&http.Client{}).Do(r)
		if status, body := read(t, answer, err); status != c.status {
			t.Errorf("%s: %d, want %d: %.200s", c.name, status, c.status, body)
		}
		there, err := s.Session.HasSlip(id(1))
		if err != nil || there != (c.status == http.StatusOK) {
			t.Errorf("%s: recorded %v, %v", c.name, there, err)
		}
	}
	list, err := s.Devices.List()
	if err != nil || len(list) != 1 || list[0].Name != "kits-phone" {
		t.Fatalf("%+v %v", list, err)
	}
	if err := s.Devices.Revoke("Kits-Phone"); err != nil {
		t.Fatal(err)
	}
	if status, _ := h.get("/now"); status != http.StatusForbidden {
		t.Errorf("a revoked phone reads: %d", status)
	}
	if err := s.Devices.Revoke("kits-phone"); err == nil {
		t.Error("revoked twice")
	}
}

// TestHeaders holds what browsers are told, and that the page is one request under 60 KB.
func TestHeaders(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 30, clock(raceDay)))
	h := s.pairedHandset(t)
	r, err := h.http.Get(s.URL())
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	if len(body) > 60_000 {
		t.Errorf("the page has %d bytes", len(body))
	}
	for _, other := range []string{"src=", "@import", "url(", "//cdn"} {
		if strings.Contains(string(body), other) {
			t.Errorf("the page fetches more: %s", other)
		}
	}
	policy := r.Header.Get("Content-Security-Policy")
	for _, want := range []string{"default-src 'none'", "script-src 'sha256-", "style-src 'sha256-", "frame-ancestors 'none'"} {
		if !strings.Contains(policy, want) {
			t.Errorf("%q lacks %s", policy, want)
		}
	}
	if strings.Contains(policy, "unsafe") || r.Header.Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("%v", r.Header)
	}
	t.Logf("the page has %d bytes", len(body))
}

// TestCookie holds what a cookie is, and that the file of the phones tells it to nobody.
func TestCookie(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 6, clock(raceDay)))
	c := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	r, err := c.PostForm(s.URL()+"pair", url.Values{"code": {s.NewCode()}})
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	got := r.Cookies()[0]
	if !got.HttpOnly || got.SameSite != http.SameSiteStrictMode || got.Secure || len(got.Value) != 43 {
		t.Errorf("%+v", got)
	}
	data, err := os.ReadFile(s.Devices.path)
	if err != nil || strings.Contains(string(data), got.Value) {
		t.Errorf("the file holds the cookie: %v", err)
	}
	info, err := os.Stat(s.Devices.path)
	if err != nil || info.Mode().Perm()&0o077 != 0 {
		t.Errorf("%v %v", info.Mode(), err)
	}
}

func TestCodes(t *testing.T) {
	t.Parallel()
	now := raceDay
	p := &pairing{now: func() time.Time { return now }}
	code := p.renew()
	if err := p.take(code); err != nil {
		t.Error(err)
	}
	if err := p.take(code); err == nil {
		t.Error("one code let two in")
	}
	code = p.renew()
	for range codeTries {
		p.take("x")
	}
	if err := p.take(code); err == nil {
		t.Error("let in at the sixth try")
	}
	code = p.renew()
	now = now.Add(codeLife + time.Second)
	if err := p.take(code); err == nil {
		t.Error("let in after five minutes")
	}
}

// TestTLS: the certificate is made once, kept, and good for the page.
func TestTLS(t *testing.T) {
	t.Parallel()
	lb, dir := newLog(t, 6, time.Now), t.TempDir()
	devices, err := DevicesOf(dir, lb.Dir())
	if err != nil {
		t.Fatal(err)
	}
	var prints []string
	for range 2 {
		s, err := Listen(Config{Session: lb, Address: "127.0.0.1", TLS: true, Settings: dir, Now: time.Now, Devices: devices})
		if err != nil {
			t.Fatal(err)
		}
		prints = append(prints, s.Fingerprint())
		go s.Serve(t.Context())
		pem, err := os.ReadFile(filepath.Join(dir, "certificate.pem"))
		if err != nil {
			t.Fatal(err)
		}
		roots := x509.NewCertPool()
		roots.AppendCertsFromPEM(pem)
		c := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}}}
		r, err := c.Get(s.URL())
		if status, body := read(t, r, err); status != http.StatusOK || !strings.Contains(body, "six digits") {
			t.Errorf("%d %s", status, body)
		}
	}
	if prints[0] != prints[1] || len(prints[0]) != 95 {
		t.Errorf("%q", prints)
	}
}

func TestPrivateAlone(t *testing.T) {
	t.Parallel()
	lb := newLog(t, 1, clock(raceDay))
	for _, address := range []string{"0.0.0.0", "8.8.8.8", "::", "x", ""} {
		if _, err := Listen(Config{Session: lb, Address: address, Settings: t.TempDir(), Now: lb.Now}); err == nil {
			t.Errorf("%q is served", address)
		}
	}
}
