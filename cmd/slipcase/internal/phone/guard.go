package phone

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"net"
	"net/http"
	"strconv"
	"strings"
)

const cookieName = "slipcase"

// handler is every page behind its guards.
func (s *Server) handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /pair", s.pairPage)
	mux.HandleFunc("POST /pair", s.pair)
	mux.HandleFunc("GET /worker.js", s.worker)
	for pattern, h := range map[string]http.HandlerFunc{
		"GET /{$}":        s.home,
		"GET /now":        s.part("now", func(v *view) { v.Now = s.nowOf(*v) }),
		"GET /card":       s.part("card", func(v *view) { v.Card = s.cardOf(*v) }),
		"GET /slip/{id}":  s.showSlip,
		"POST /slip":      s.takeSlip,
		"POST /slip/{id}": s.amendSlip,
		"POST /void/{id}": s.voidSlip,
		"POST /air":       s.takeAir,
		"GET /events":     s.events,
	} {
		mux.Handle(pattern, s.paired(h))
	}
	origin := http.NewCrossOriginProtection()
	return s.guarded(origin.Handler(mux))
}

// guarded holds every request to this machine's own names, which a page elsewhere that
// renames itself to this address cannot know, and to small bodies; it tells browsers to
// take nothing from elsewhere.
func (s *Server) guarded(next http.Handler) http.Handler {
	policy := contentPolicy()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if !s.ownHost(r.Host) {
			http.Error(w, "this is not the name of this machine", http.StatusMisdirectedRequest)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostBody)
		next.ServeHTTP(w, r)
	})
}

// ownHost reports a name that this server goes by.
func (s *Server) ownHost(host string) bool {
	_, port, _ := net.SplitHostPort(s.listener.Addr().String())
	for _, name := range []string{s.Address, "localhost", "127.0.0.1"} {
		if host == net.JoinHostPort(name, port) && (name == s.Address || isLoopback(s.Address)) {
			return true
		}
	}
	return false
}

func isLoopback(address string) bool { return net.ParseIP(address).IsLoopback() }

// contentPolicy lets the page's own style and script run, known by their hashes.
func contentPolicy() string {
	hash := func(text string) string {
		sum := sha256.Sum256([]byte(text))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	return strings.Join([]string{
		"default-src 'none'", "script-src " + hash(script), "style-src " + hash(style), "connect-src 'self'",
		"worker-src 'self'", "img-src data:", "form-action 'self'", "frame-ancestors 'none'", "base-uri 'none'",
	}, "; ")
}

// paired lets in who has paired, and forms that this server has given out.
func (s *Server) paired(next http.HandlerFunc) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		secret := secretOf(r)
		switch {
		case !s.Devices.has(secret) && r.Method == http.MethodGet && r.URL.Path == "/":
			http.Redirect(w, r, "/pair", http.StatusSeeOther)
		case !s.Devices.has(secret):
			http.Error(w, "this phone is not paired: open "+s.URL()+"pair; what was typed stays on it", http.StatusForbidden)
		case r.Method != http.MethodPost:
			next(w, r)
		case r.ParseForm() != nil:
			http.Error(w, "more than a slip: "+strconv.Itoa(mostBody)+" bytes at most", http.StatusRequestEntityTooLarge)
		case subtle.ConstantTimeCompare([]byte(r.PostForm.Get("token")), []byte(tokenOf(secret))) != 1:
			http.Error(w, "the form is not of this server: open the page again", http.StatusForbidden)
		default:
			next(w, r)
		}
	})
}

func secretOf(r *http.Request) string {
	c, err := r.Cookie(cookieName)
	if err != nil {
		return ""
	}
	return c.Value
}

func (s *Server) pairPage(w http.ResponseWriter, r *http.Request) {
	s.render(w, http.StatusOK, "pair", view{Server: s})
}

// pair lets a phone in that has the code.
func (s *Server) pair(w http.ResponseWriter, r *http.Request) {
	if err := r.ParseForm(); err != nil {
		http.Error(w, "want six digits", http.StatusBadRequest)
		return
	}
	if err := s.pairing.take(strings.TrimSpace(r.PostForm.Get("code"))); err != nil {
		s.render(w, http.StatusForbidden, "pair", view{Server: s, Wrong: err.Error()})
		return
	}
	secret, err := s.Devices.add(deviceName(r.PostForm.Get("name")), s.Now())
	if err != nil {
		s.fail(w, err)
		return
	}
	http.SetCookie(w, &http.Cookie{
		Name: cookieName, Value: secret, Path: "/", MaxAge: 366 * 24 * 3600,
		HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: s.secure != nil,
	})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

// deviceName is what a phone is to be called: letters, digits and dashes.
func deviceName(text string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '-':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r == ' ':
			return '-'
		}
		return -1
	}, text)
	if name = strings.Trim(name, "-"); name == "" {
		return "phone"
	}
	return name[:min(len(name), 30)]
}
