package phone

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// answer is what became of a slip.
type answer struct {
	State   string // recorded, asked or refused
	ID      string
	Says    string   // in a line
	Verdict string   // in lines of the width of a phone
	Choices []choice // of a question
}

// choice is a button: a form with the slip as it would then be.
type choice struct {
	Label  string
	Action string
	Values [][2]string
}

// The states of a slip that was sent; the script reads them from the header slipState.
const (
	recorded  = "recorded"
	asked     = "asked"
	refused   = "refused"
	slipState = "Slipcase-Slip"
)

// columns are so many as a phone held upright has room for.
const columns = 46

// words is a page that writes into a buffer for a phone.
func (s *Server) words() (*page.Page, *bytes.Buffer) {
	var b bytes.Buffer
	return &page.Page{
		Out: &b, Err: &b, Format: table.Text, Units: s.Units, Bare: s.Bare,
		Window: func() (int, int) { return columns, 0 }, ErrWidth: func() int { return columns }, Mute: true,
	}, &b
}

// takeSlip records a slip, or asks about it.
func (s *Server) takeSlip(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Session.Refresh()
	id := r.PostForm.Get("id")
	if there, err := s.Session.HasSlip(id); err != nil {
		s.fail(w, err)
		return
	} else if there {
		s.answerWith(w, r, s.toldOf(id, "recorded before"))
		return
	}
	slip, err := s.readSlip(r.PostForm, crew.Slip{})
	if err != nil {
		s.answerWith(w, r, s.notRead(r.PostForm, id, "/slip", err))
		return
	}
	slip.ID = id
	err = logbook.ErrRecordedMeanwhile
	for errors.Is(err, logbook.ErrRecordedMeanwhile) { // then it is to be looked at again
		s.Session.Refresh()
		if a, ok := s.settle(r.PostForm, &slip, "/slip"); !ok {
			s.answerWith(w, r, a)
			return
		}
		_, err = s.Session.AddSlipOnce(&slip)
	}
	switch {
	case errors.Is(err, logbook.ErrID):
		s.answerWith(w, r, refusedFor(id, err.Error()))
		return
	case err != nil:
		s.fail(w, err)
		return
	}
	s.answerWith(w, r, s.toldOf(slip.ID, ""))
}

// amendSlip records a slip's next revision.
func (s *Server) amendSlip(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Session.Refresh()
	was, err := s.Session.Slip(r.PathValue("id"))
	if err != nil {
		s.answerWith(w, r, refusedFor(r.PathValue("id"), err.Error()))
		return
	}
	slip, err := s.readSlip(r.PostForm, was)
	if err != nil {
		s.answerWith(w, r, s.notRead(r.PostForm, was.ID, "/slip/"+was.ID, err))
		return
	}
	if a, ok := s.settle(r.PostForm, &slip, "/slip/"+was.ID); !ok {
		s.answerWith(w, r, a)
		return
	}
	_, err = s.Session.AmendSlip(was.ID, func(now *crew.Slip) error {
		if now.Rev != was.Rev {
			return errors.New("somebody has amended it just now: open it again")
		}
		entry := now.Entry
		*now = slip
		now.Entry = entry
		now.Forced = slip.Forced
		return nil
	})
	if err != nil {
		s.fail(w, err)
		return
	}
	s.Session.Refresh()
	s.answerWith(w, r, s.toldOf(was.ID, "amended"))
}

// voidSlip takes a slip out; its history stays.
func (s *Server) voidSlip(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	slip, err := s.Session.Slip(r.PathValue("id"))
	if err == nil {
		_, err = s.Session.AmendSlip(slip.ID, func(now *crew.Slip) error {
			now.Status = crew.Void
			return nil
		})
	}
	if err != nil {
		s.answerWith(w, r, refusedFor(r.PathValue("id"), err.Error()))
		return
	}
	s.Session.Refresh()
	s.answerWith(w, r, answer{State: recorded, ID: slip.ID, Says: "out: slipcase slip unvoid " + slip.ID + " puts it back"})
}

// showSlip is a slip with its verdict, and the form to amend it.
func (s *Server) showSlip(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Session.Refresh()
	slip, err := s.Session.Slip(r.PathValue("id"))
	if err != nil {
		http.Error(w, "no such slip stands", http.StatusNotFound)
		return
	}
	a := s.toldOf(slip.ID, "")
	v, err := s.view(r, slip.Vehicle, slip.Track)
	if err != nil {
		s.fail(w, err)
		return
	}
	values := url.Values{}
	s.writeFigures(slip, values)
	v.Answer, v.Amend, v.Fields = &a, &slip, s.fieldsFor(s.Session.TrackOf(slip), slip, values)
	v.Lane, v.Round, v.Title = slip.Lane, slip.Round, page.When(slip.Time.Time)
	s.render(w, http.StatusOK, "slip", v)
}

// readSlip reads a form into a slip that holds what is to stay.
func (s *Server) readSlip(form url.Values, base crew.Slip) (crew.Slip, error) {
	slip := base
	if slip.ID == "" {
		v, err := s.Session.Vehicle(form.Get("vehicle"))
		if err != nil {
			return slip, err
		}
		if slip.Vehicle = v.ID; form.Get("track") != "" {
			t, err := s.Session.Track(form.Get("track"))
			if err != nil {
				return slip, err
			}
			slip.Track = t.ID
		}
	}
	track := s.Session.TrackOf(slip)
	zone := track.Location(s.Now().Location())
	at := slip.Time.In(zone)
	if slip.ID == "" {
		at = s.ranAt(form).In(zone).Truncate(time.Second)
	}
	text := strings.TrimSpace(form.Get("text")) != ""
	if text {
		var err error
		if at, err = s.readText(form, &slip, at); err != nil {
			return slip, err
		}
	}
	if !text || form.Has(figuresField) {
		if err := s.readFigures(form, &slip); err != nil {
			return slip, err
		}
	}
	tellLane(form, &slip, base)
	clock, times, err := typed.ParseHead(s.Bare, form.Get("words"), &slip)
	if err != nil {
		return slip, err
	}
	if len(times) > 0 {
		return slip, fmt.Errorf("%q: want words such as lifted, bye, 14:25, notes in their own field", times[0])
	}
	if clock != "" {
		if at, err = typed.Moment(clock, at, zone); err != nil {
			return slip, err
		}
	}
	if form.Has("notes") {
		slip.Notes = strings.TrimSpace(form.Get("notes"))
	}
	slip.Time.Time = at
	if err := readClass(form, &slip); err != nil {
		return slip, err
	}
	if base.ID == "" {
		s.Session.Fill(&slip)
	}
	return slip, nil
}

// readClass takes the class that the page is set to.
func readClass(form url.Values, slip *crew.Slip) error {
	if class := form.Get("class"); class != "" && slip.Class == "" {
		if err := typed.Class(slip, class); err != nil {
			return err
		}
		if class == string(crew.Index) && form.Get("index") != "" {
			return typed.Index(slip, form.Get("index"))
		}
	}
	return nil
}

// ranAt is when a slip was run: as the form says from an answer before, else so long ago as
// the phone says it was typed.
func (s *Server) ranAt(form url.Values) time.Time {
	if at, err := time.Parse(time.RFC3339, form.Get("at")); err == nil {
		return at
	}
	age, err := strconv.ParseInt(form.Get("age_ms"), 10, 64)
	if err != nil || age < 0 || age > int64(366*24*time.Hour/time.Millisecond) {
		age = 0
	}
	return s.Now().Add(-time.Duration(age) * time.Millisecond)
}

// settle holds a slip against what is known; what looks wrong is a question with a form for
// each way to take it.
func (s *Server) settle(form url.Values, slip *crew.Slip, action string) (a answer, ok bool) {
	p, _ := s.words()
	ds, err := s.Session.Look(slip)
	bad := (*crew.Impossible)(nil)
	if err != nil && !errors.As(err, &bad) {
		return refusedFor(slip.ID, units.In(err, s.Units)), false
	}
	offers := crew.Offers(*slip, ds, err != nil)
	switch {
	case len(offers) == 0:
		return refusedFor(slip.ID, units.In(err, s.Units)), false
	case len(ds) == 0:
		slip.Forced = ""
		return a, true
	case err == nil && form.Get("force") != "":
		slip.Forced = p.Doubts(ds)
		return a, true
	}
	a = answer{State: asked, ID: slip.ID, Says: p.Doubts(ds)}
	if err != nil {
		a.Says = units.In(err, s.Units)
	}
	for _, o := range offers {
		values := maps.Clone(form)
		values.Set(figuresField, "yes")
		values.Set("at", slip.Time.Format(time.RFC3339))
		values.Set("lane", o.Slip.Lane)
		values.Set("round", o.Slip.Round)
		s.writeFigures(o.Slip, values)
		label := "keep as typed"
		switch o.Kind {
		case crew.AsMeant:
			label = p.Meant(o.Meant)
		case crew.WithLift:
			label = "lifted"
			values.Set("words", strings.TrimSpace(form.Get("words")+" lifted"))
			values.Set("force", "yes")
		case crew.AsTyped:
			values.Set("force", "yes")
		}
		a.Choices = append(a.Choices, choiceOf(label, action, values))
	}
	return a, false
}

func refusedFor(id, why string) answer { return answer{State: refused, ID: id, Says: why} }

// toldOf is the verdict on a slip that stands.
func (s *Server) toldOf(id, says string) answer {
	a := answer{State: recorded, ID: id, Says: says}
	slip, err := s.Session.Slip(id)
	if err != nil {
		a.Says = "recorded, and taken out since"
		return a
	}
	j, err := s.Session.Judge(slip)
	if err != nil {
		a.Verdict = fmt.Sprintf("recorded, but it cannot be judged: %v", err)
		return a
	}
	p, b := s.words()
	if err := p.Recorded(j, true); err != nil {
		a.Verdict = err.Error()
		return a
	}
	a.Verdict = b.String()
	return a
}

// answerWith shows what became of a slip: alone for the script, else on the page.
func (s *Server) answerWith(w http.ResponseWriter, r *http.Request, a answer) {
	w.Header().Set(slipState, a.State)
	status := http.StatusOK
	if a.State == refused {
		status = http.StatusUnprocessableEntity
	}
	if r.Header.Get("Slipcase-Part") != "" {
		s.render(w, status, "answer", view{Answer: &a})
		return
	}
	form := r.PostForm
	v, err := s.view(r, form.Get("vehicle"), form.Get("track"))
	if err != nil {
		s.fail(w, err)
		return
	}
	v.Answer = &a
	if a.State == refused { // what was typed is not typed twice
		usual, _ := s.Session.LastOf(v.Vehicle.ID)
		v.Fields = s.fieldsFor(v.Track, usual, form)
		v.ID, v.Lane, v.Round, v.Words, v.Text = a.ID, form.Get("lane"), form.Get("round"), form.Get("words"), form.Get("text")
	}
	s.render(w, status, "page", s.withDay(v))
}
