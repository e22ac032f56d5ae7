package phone

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// onPaper is the text of a slip with a letter for a digit and a digit lost.
const onPaper = "05/02/2026 2:25PM\nLANE R\nR/T .O53\n6O' 1..9Z2\n330' S.42\n\n1/8 8395\nMPH B3.85\n" +
	"1OOO' 10,9S3\nl/4 I3.179\nMPH 105. 80\nDIAL 13.20\n"

// bothLanes are two cars that run alike.
const bothLanes = "LANE  LEFT  RIGHT\nR/T  .056  .085\n60'  1.880  1.901\n330'  5.408  5.411\n1/8  8.386  8.390\n" +
	"MPH  83.78  83.70\n1/4  13.190  13.201\nMPH  105.89  105.60\nDIAL  13.15  13.19\n"

// pasted is a form with a text in place of its figures.
func (h *handset) pasted(n int, text string, with ...string) url.Values {
	form := h.slip(id(n), append([]string{"text", text}, with...)...)
	for _, f := range figures {
		form.Set(f.name, "")
	}
	return form
}

// answers sends a form and taps buttons until the slip stands, and gives it.
func (h *handset) answers(form url.Values, buttons ...string) crew.Slip {
	h.t.Helper()
	status, body := h.part("/slip", form)
	for _, label := range buttons {
		forms := formsIn(body)
		if status != http.StatusOK || forms[label] == nil {
			h.t.Fatalf("no button %q: %d %s", label, status, body)
		}
		status, body = h.part("/slip", forms[label])
	}
	slip, err := h.s.Session.Slip(form.Get("id"))
	if err != nil || status != http.StatusOK {
		h.t.Fatalf("%v: %d %s", err, status, body)
	}
	return slip
}

// figuresOf are the known figures of a slip as the page writes them, by their fields.
func (s *Server) figuresOf(slip crew.Slip) (all []string) {
	values := url.Values{}
	s.writeFigures(slip, values)
	for _, f := range figures {
		if v := values.Get(f.name); v != "" {
			all = append(all, f.name+" "+v)
		}
	}
	return all
}

// TestPastedText pastes the text of printed slips: what the text tells goes before what is set
// on the page, and what it does not tell for sure is asked.
func TestPastedText(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	_, body := h.part("/slip", h.pasted(1, onPaper))
	if !strings.Contains(body, "330 ft 5.420, printed as &#34;S.42&#34;") {
		t.Error(body)
	}
	own := []string{
		"reaction .053", "et_60 1.922", "et_330 5.420", "et_660 8.395", "speed_660 83.85", "et_1000 10.953", "et_1320 13.179",
		"speed_1320 105.80", "dial 13.20",
	}
	taken := h.answers(h.pasted(1, onPaper), "take it")
	if got := s.figuresOf(taken); !slices.Equal(got, own) || taken.Lane != "right" || taken.Round != "E1" ||
		taken.Source != "printed" || taken.Time.Format("15:04") != "14:25" {
		t.Errorf("%v of %+v", got, taken)
	}
	// A sender that writes lines as browsers do, and a figure left out.
	h.part("/void/"+id(1), url.Values{"token": {h.token}})
	left := h.answers(h.pasted(2, strings.ReplaceAll(onPaper, "\n", "\r\n")), "leave it out")
	if left.ET330S.Known() || left.ET660S.Value() != 8.395 {
		t.Errorf("%+v", left)
	}
	// Whose lane is whose cannot be told by the times: the page's own lane is that of the last run.
	both := h.answers(h.pasted(3, bothLanes), "right (13.201)")
	if both.Lane != "right" || both.ET1320S.Value() != 13.201 || both.DialS.Value() != 13.19 ||
		both.OpponentDialS.Value() != 13.15 ||
		both.OpponentETS.Value() != 13.19 ||
		both.OpponentReactionS.Value() != .056 {
		t.Errorf("%+v", both)
	}
	// What the rest of the text speaks against is asked, then what looks wrong beside the forecast, and
	// nothing of the text is lost by it.
	wrong := strings.ReplaceAll(onPaper, "330' S.42", "330' 4.420\nRESULT WON")
	as := h.answers(h.pasted(4, wrong), "take it", "keep as typed")
	if as.ET330S.Value() != 4.42 || as.Result != "won" || as.Source != "printed" {
		t.Errorf("%+v", as)
	}
}

// TestPastedLine: a line has its own lane and round, however many lines the phone made of it.
func TestPastedLine(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	slip := h.answers(h.pasted(1, "066 1947 5478\n8415@8367 10990 13222@10538\nR E2"))
	if slip.Lane != "right" || slip.Round != "E2" || slip.ET1320S != units.Some(13.222) {
		t.Errorf("%+v", slip)
	}
	if slip = h.answers(h.pasted(2, "14:05 061 1945 5474 8411@8371 10986 13218@10541")); slip.Lane != "left" ||
		slip.Round != "E1" {
		t.Errorf("%+v", slip)
	}
	for _, c := range [][2]string{
		{"Dear Lee,\nno slips today.", "no times of a run"},
		{"DATE 04/25/2026\n" + bothLanes, "the slip says its day, 2026-04-25"},
	} {
		status, body := h.part("/slip", h.pasted(3, c[0], oursField, "0"))
		if status != http.StatusUnprocessableEntity || !strings.Contains(body, c[1]) {
			t.Errorf("%q: %d %s", c[0], status, body)
		}
	}
	day := h.answers(h.pasted(5, "DATE 04/25/2026\n"+bothLanes, oursField, "0", "words", "15:25 lost"))
	if got := day.Time.Format("2006-01-02 15:04"); got != "2026-04-25 15:25" || day.Result != "lost" {
		t.Errorf("%s %+v", got, day)
	}
}

// TestPastedAmendment puts the text of the right slip in the place of what was typed.
func TestPastedAmendment(t *testing.T) {
	t.Parallel()
	s := serve(t, newLog(t, 12, clock(raceDay)))
	h := s.pairedHandset(t)
	h.answers(h.slip(id(1), "notes", "hot lap", "other_et", "12430"))
	form := h.pasted(1, strings.ReplaceAll(onPaper, "S.42", "5.429"))
	if status, body := h.part("/slip/"+id(1), form); status != http.StatusOK || !strings.Contains(body, "13.179") {
		t.Fatalf("%d %s", status, body)
	}
	got, err := s.Session.Slip(id(1))
	if err != nil || got.Rev != 2 || got.ET330S.Value() != 5.429 || got.OpponentETS.Known() || got.Lane != "right" {
		t.Errorf("%+v %v", got, err)
	}
}

// TestPasteOnThePage pastes a slip's text into the page and answers with its big buttons.
func TestPasteOnThePage(t *testing.T) {
	leftToFullRun(t)
	s := serve(t, newLog(t, 12, clock(raceDay)))
	b := s.open(t, false)
	b.pair()
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details").forEach((d) => { d.open = true; })`))
	b.do(chromedp.SetValue("#f-text", onPaper))
	b.tap("#slip .go")
	b.wait(`!!document.querySelector("#answer .choice button")`)
	b.shot("paste-asked")
	b.tap("#answer .choice button")
	b.wait(`document.querySelector("#answer [data-state]").dataset.state === "recorded"`)
	b.shot("paste-recorded")
	last, err := s.Session.Slip("last")
	if err != nil || last.ET330S.Value() != 5.42 || last.ET1320S.Value() != 13.179 || last.Lane != "right" ||
		b.waiting() != 0 {
		t.Errorf("%+v %v, %d waiting", last, err, b.waiting())
	}
}
