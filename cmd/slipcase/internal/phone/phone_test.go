package phone

import (
	"fmt"
	"html"
	"io"
	"math"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/weather"
	"slipcase/weather/units"
)

// raceDay is when the tests take place.
var raceDay = time.Date(2026, 5, 2, 15, 0, 0, 0, time.UTC)

// newLog makes a logbook with a car, a motorcycle, a quarter mile and an eighth, and n slips
// of the car on each of the days before.
func newLog(t testing.TB, n int, now func() time.Time) *crew.Session {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "log")
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	lb, err := logbook.Init(dir, logbook.Options{Now: now})
	must(err)
	must(lb.AddVehicle(&logbook.Vehicle{Entry: logbook.Entry{ID: "heron"}, Kind: "car", Aspiration: "natural", Drive: "rear"}))
	must(lb.AddVehicle(&logbook.Vehicle{Entry: logbook.Entry{ID: "plover"}, Kind: "motorcycle", Aspiration: "natural"}))
	must(lb.AddTrack(&logbook.Track{Entry: logbook.Entry{ID: "saltgrass"}, ElevationFt: units.Some(812), TimeZone: "UTC"}))
	must(lb.AddTrack(&logbook.Track{
		Entry: logbook.Entry{ID: "highmesa"}, ElevationFt: units.Some(4100), LengthsFt: logbook.Lengths{660}, TimeZone: "UTC",
	}))
	for _, s := range []logbook.Setup{
		{Vehicle: "heron", Name: "stock", WeightLb: units.Some(3450), PowerHP: units.Some(312), PowerAt: "wheels", PowerStandard: "sae"},
		{Vehicle: "plover", Name: "stock", WeightLb: units.Some(640), PowerHP: units.Some(118), PowerAt: "wheels", PowerStandard: "sae"},
	} {
		s.From = logbook.Time{Time: raceDay.AddDate(0, -2, 0)}
		must(lb.AddSetup(&s))
	}
	var slips []*logbook.Slip
	var airs []*logbook.Reading
	for i := range n {
		at := raceDay.AddDate(0, 0, -1-i/6).Add(time.Duration(i%6) * time.Hour / 2)
		off := .02 * math.Sin(float64(7*i)) // s at the finish, any pattern without a trend
		slips = append(slips, &logbook.Slip{
			Vehicle: "heron", Track: "saltgrass", Time: logbook.Time{Time: at}, Lane: "left",
			ReactionS: units.Some(.045), ET60S: units.Some(1.912 + off/4), ET330S: units.Some(5.437 + off/2),
			ET660S: units.Some(8.412 + off*.7), MPH660: units.Some(83.77), ET1000S: units.Some(10.98 + off*.85),
			ET1320S: units.Some(13.212 + off), MPH1320: units.Some(105.84 - off*4),
		})
		if i%6 == 0 {
			airs = append(airs, air(at))
		}
	}
	airs = append(airs, air(raceDay.Add(-10*time.Minute)))
	must(lb.AddSlips(slips...))
	must(lb.AddReading(airs...))
	return crew.NewSession(lb, now)
}

func air(at time.Time) *logbook.Reading {
	return &logbook.Reading{Track: "saltgrass", Time: logbook.Time{Time: at}, Reading: weather.Reading{
		TempF: units.Some(88), RHPct: units.Some(42), StationInHg: units.Some(28.94),
	}}
}

// serve starts a server on this machine alone and stops it when the test ends.
func serve(t testing.TB, lb *crew.Session) *Server {
	t.Helper()
	s, stop := start(t, lb, t.TempDir(), 0)
	t.Cleanup(stop)
	return s
}

// start starts a server, with its settings in a folder.
func start(t testing.TB, lb *crew.Session, dir string, port int) (s *Server, stop func()) {
	t.Helper()
	return startIn(t, units.US, lb, dir, port)
}

// handset is a phone without a script.
type handset struct {
	t     testing.TB
	s     *Server
	http  *http.Client
	token string
}

func (s *Server) newHandset(t testing.TB) *handset {
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &handset{t: t, s: s, http: &http.Client{Jar: jar, Timeout: 30 * time.Second}}
}

// paired is a phone that has been let in.
func (s *Server) pairedHandset(t testing.TB) *handset {
	t.Helper()
	h := s.newHandset(t)
	status, body := h.post("/pair", url.Values{"code": {s.NewCode()}, "name": {"Kit's phone"}})
	if status != http.StatusOK || !strings.Contains(body, "Next run") {
		t.Fatalf("pairing: %d %s", status, body)
	}
	h.token = tokenIn.FindStringSubmatch(body)[1]
	return h
}

var tokenIn = regexp.MustCompile(`name="token" value="([^"]+)"`)

func (h *handset) get(path string) (int, string) {
	h.t.Helper()
	r, err := h.http.Get(strings.TrimSuffix(h.s.URL(), "/") + path)
	return read(h.t, r, err)
}

func (h *handset) post(path string, form url.Values) (int, string) {
	h.t.Helper()
	r, err := h.http.PostForm(strings.TrimSuffix(h.s.URL(), "/")+path, form)
	return read(h.t, r, err)
}

func read(t testing.TB, r *http.Response, err error) (int, string) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, string(body)
}

// slip is a form as a phone sends it.
func (h *handset) slip(id string, with ...string) url.Values {
	form := url.Values{
		"token": {h.token}, "id": {id}, "vehicle": {"heron"}, "track": {"saltgrass"}, "lane": {"left"}, "round": {"E1"},
		"reaction": {"042"}, "et_60": {"1912"}, "et_330": {"5437"}, "et_660": {"8412"}, "speed_660": {"8377"},
		"et_1000": {"10980"}, "et_1320": {"13212"}, "speed_1320": {"10584"},
	}
	for i := 0; i+1 < len(with); i += 2 {
		form.Set(with[i], with[i+1])
	}
	return form
}

func clock(at time.Time) func() time.Time { return func() time.Time { return at } }

// id is one as a phone makes it, different for each number.
func id(n int) string {
	text := []byte("saaaaaaaaa")
	for i := len(text) - 1; n > 0; i-- {
		text[i] = "abcdefghijklmnopqrstuvwxyz234567"[n%32]
		n /= 32
	}
	return string(text)
}

func TestSlipFromThePhone(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	status, body := h.post("/slip", h.slip(id(1), "dial", "1325", "age_ms", "600000"))
	if status != http.StatusOK || !strings.Contains(body, "13.212 @ 105.84") {
		t.Fatalf("%d %s", status, body)
	}
	for range 2 { // what came twice is there once
		if _, body = h.post("/slip", h.slip(id(1))); !strings.Contains(body, "recorded before") {
			t.Errorf("sent twice: %s", body)
		}
	}
	slips, err := s.Session.Slips("heron")
	if err != nil {
		t.Fatal(err)
	}
	last := slips[len(slips)-1]
	if len(slips) != 13 || last.ID != id(1) || last.DialS.Value() != 13.25 || last.ET1320S.Value() != 13.212 ||
		last.MPH1320.Value() != 105.84 || last.ReactionS.Value() != .042 || last.Lane != "left" || last.Round != "E1" {
		t.Errorf("%d slips, the last is %+v", len(slips), last)
	}
	if want := raceDay.Add(-10 * time.Minute); !last.Time.Equal(want) {
		t.Errorf("run at %v, want %v: ten minutes ago by the phone", last.Time, want)
	}
}

// TestQuestion takes each way to answer a question of the proofreader.
func TestQuestion(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	choices := func(n int) (string, map[string]url.Values) {
		status, body := h.part("/slip", h.slip(id(n), "et_330", "4437"))
		if status != http.StatusOK || !strings.Contains(body, "Is this right?") {
			t.Fatalf("%d %s", status, body)
		}
		if there, _ := s.Session.HasSlip(id(n)); there {
			t.Fatal("recorded unasked")
		}
		return body, formsIn(body)
	}
	choices(1)
	for label, want := range map[string]float64{"keep as typed": 4.437, "5.437 was meant": 5.437} {
		n := 2
		if want == 5.437 {
			n = 3
		}
		_, forms := choices(n)
		var form url.Values
		for l, f := range forms {
			if strings.Contains(l, label) {
				form = f
			}
		}
		if form == nil {
			t.Fatalf("no button %q in %v", label, forms)
		}
		if status, body := h.part("/slip", form); status != http.StatusOK || !strings.Contains(body, "recorded ") {
			t.Fatalf("%d %s", status, body)
		}
		got, err := s.Session.Slip(id(n))
		if err != nil || got.ET330S.Value() != want || (got.Forced != "") != (want == 4.437) {
			t.Errorf("%s: %v %q %v", label, got.ET330S, got.Forced, err)
		}
		if err == nil {
			h.part("/void/"+id(n), url.Values{"token": {h.token}})
		}
	}
}

var (
	formIn   = regexp.MustCompile(`(?s)<form method="post" action="/[a-z/0-9]+" class="choice">(.*?)</form>`)
	hiddenIn = regexp.MustCompile(`<input type="hidden" name="([^"]*)" value="([^"]*)">`)
	buttonIn = regexp.MustCompile(`<button>([^<]*)</button>`)
)

// formsIn are the buttons of a question, by their words.
func formsIn(body string) map[string]url.Values {
	forms := map[string]url.Values{}
	for _, f := range formIn.FindAllStringSubmatch(body, -1) {
		form := url.Values{}
		for _, h := range hiddenIn.FindAllStringSubmatch(f[1], -1) {
			form.Set(h[1], html.UnescapeString(h[2]))
		}
		forms[html.UnescapeString(buttonIn.FindStringSubmatch(f[1])[1])] = form
	}
	return forms
}

func TestRefused(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	for _, c := range []struct{ field, typed, says string }{
		{"et_60", "x", "60 ft"},
		{"id", "s1", "no id"},
		{"vehicle", "gannet", "gannet"},
		{"words", "sideways", "sideways"},
		{"lane", "middle", "lane"},
		{"text", "nonsense", "nonsense"},
	} {
		status, body := h.part("/slip", h.slip(id(1), c.field, c.typed))
		if i := strings.Index(body, "<main>"); i > 0 {
			body = body[i:]
		}
		if status != http.StatusUnprocessableEntity || !strings.Contains(body, c.says) {
			t.Errorf("%s %q: %d %s", c.field, c.typed, status, body)
		}
	}
	if slips, err := s.Session.Slips(""); err != nil || len(slips) != 12 {
		t.Errorf("%d slips, %v", len(slips), err)
	}
}

func TestAmendAndVoid(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	h.part("/slip", h.slip(id(1), "notes", "hot lap", "words", "lifted"))
	status, body := h.get("/slip/" + id(1))
	if status != http.StatusOK || !strings.Contains(body, "hot lap") || !strings.Contains(body, `value="13.212"`) {
		t.Fatalf("%d %s", status, body)
	}
	form := h.slip(id(1), "et_1320", "13.222", "notes", "warm lap", "dial", "13.25")
	if status, body = h.part("/slip/"+id(1), form); status != http.StatusOK {
		t.Fatalf("%d %s", status, body)
	}
	got, err := s.Session.Slip(id(1))
	if err != nil || got.Rev != 2 || got.ET1320S.Value() != 13.222 || got.Notes != "warm lap" ||
		got.FullPower != "lifted" {
		t.Errorf("%+v %v", got, err)
	}
	if status, body = h.part("/void/"+id(1), url.Values{"token": {h.token}}); status != http.StatusOK {
		t.Fatalf("%d %s", status, body)
	}
	if _, err := s.Session.Slip(id(1)); err != nil {
		t.Logf("voided: %v", err)
	}
	if slips, _ := s.Session.Slips("heron"); len(slips) != 12 {
		t.Errorf("%d slips stand", len(slips))
	}
	// The phone sends it once more: it stays out.
	h.part("/slip", h.slip(id(1)))
	if slips, _ := s.Session.Slips("heron"); len(slips) != 12 {
		t.Errorf("%d slips stand after it was sent again", len(slips))
	}
}

func TestAirFromThePhone(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	form := url.Values{"token": {h.token}, "track": {"saltgrass"}, "vehicle": {"heron"}, "air": {"91F 40 28.90"}}
	if status, body := h.part("/air", form); status != http.StatusOK || !strings.Contains(body, "recorded") {
		t.Fatalf("%d %s", status, body)
	}
	form.Set("air", "140F 40 28.90")
	_, body := h.part("/air", form)
	if !strings.Contains(body, "Is this right?") {
		t.Errorf("140 F went in unasked: %s", body)
	}
	form.Set("air", "warm")
	if status, body := h.part("/air", form); status != http.StatusUnprocessableEntity || !strings.Contains(body, "warm") {
		t.Errorf("%d %s", status, body)
	}
	rs, err := s.Session.Readings("saltgrass")
	if err != nil || rs[len(rs)-1].TempF.Value() != 91 || len(rs) != 4 {
		t.Errorf("%d readings, %v", len(rs), err)
	}
}

// TestSoonKnown: what another program records is told within two seconds.
func TestSoonKnown(t *testing.T) {
	leftToFullRun(t)
	t.Parallel()
	now := clock(raceDay)
	lb := newLog(t, 6, now)
	s := serve(t, lb)
	h := s.pairedHandset(t)
	r, err := h.http.Get(s.URL() + "events")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	told := make(chan string, 1)
	go func() {
		var all strings.Builder
		b := make([]byte, 512)
		for {
			n, err := r.Body.Read(b)
			all.Write(b[:n])
			if strings.Contains(all.String(), "event: changed") || err != nil {
				told <- all.String()
				return
			}
		}
	}()
	other, err := logbook.Open(lb.Dir(), logbook.Options{Now: now})
	if err != nil {
		t.Fatal(err)
	}
	slip := logbook.Slip{Vehicle: "heron", Track: "saltgrass", ET1320S: units.Some(13.3)}
	slip.Time.Time = raceDay
	if err := other.AddSlips(&slip); err != nil {
		t.Fatal(err)
	}
	select {
	case text := <-told:
		if !strings.Contains(text, "event: changed") {
			t.Errorf("the stream ended: %q", text)
		}
	case <-time.After(2 * time.Second):
		t.Error("not told within 2 s")
	}
	if _, body := h.get("/now"); !strings.Contains(body, slip.ID) {
		t.Errorf("the page has it not: %s", body)
	}
}

func BenchmarkVerdict(b *testing.B) {
	lb := newLog(b, 300, clock(raceDay))
	var others []*logbook.Slip
	for i := range 9_700 {
		others = append(others, &logbook.Slip{
			Vehicle: "plover", Track: "highmesa", Time: logbook.Time{Time: raceDay.Add(-time.Duration(i) * time.Hour)},
			ET660S: units.Some(6.5), MPH660: units.Some(104),
		})
	}
	if err := lb.AddSlips(others...); err != nil {
		b.Fatal(err)
	}
	s := serve(b, lb)
	h := s.pairedHandset(b)
	h.part("/slip", h.slip(id(1), "words", "12:00"))
	n := 1
	for b.Loop() {
		n++
		at := raceDay.Add(-time.Duration(n) * 3 * time.Minute).Format("15:04")
		form := h.slip(id(n), "words", at, "reaction", fmt.Sprintf(".%03d", 10+n%80), "force", "yes")
		if status, body := h.part("/slip", form); status != http.StatusOK {
			b.Fatal(body)
		}
	}
}

// part posts as the script does, which takes the answer alone.
func (h *handset) part(path string, form url.Values) (int, string) {
	h.t.Helper()
	r, err := http.NewRequest(http.MethodPost, strings.TrimSuffix(h.s.URL(), "/")+path, strings.NewReader(form.Encode()))
	if err != nil {
		h.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Slipcase-Part", "1")
	answer, err := h.http.Do(r)
	return read(h.t, answer, err)
}
