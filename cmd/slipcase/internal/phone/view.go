package phone

import (
	"bytes"
	"cmp"
	"embed"
	"errors"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/weather/units"
)

//go:embed assets
var assets embed.FS

var (
	style    = asset("style.css")
	script   = asset("page.js")
	workerJS = asset("worker.js")
)

// templates are read when the first page is shown.
var templates = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"style":  func() template.CSS { return template.CSS(style) },
		"script": func() template.JS { return template.JS(script) },
	}).ParseFS(assets, "assets/*.html"))
})

func asset(name string) string {
	data, err := assets.ReadFile("assets/" + name)
	if err != nil {
		panic(err) // it is built in
	}
	return string(data)
}

// view is all that a page shows.
type view struct {
	Server   *Server
	Token    string
	Wrong    string
	Title    string
	Vehicles []crew.Vehicle
	Tracks   []crew.Track
	Vehicle  crew.Vehicle
	Track    crew.Track
	Class    string
	Index    string
	ID       string // of the slip to be typed, "" where the phone makes it
	Lane     string
	Round    string
	Words    string
	Text     string
	Fields   []field
	Amend    *crew.Slip
	Answer   *answer
	Now      nowView
	Card     cardView
}

// Lanes, Classes, Keys and KeyNames are what the page offers.
func (view) Lanes() []string   { return []string{"left", "right"} }
func (view) Classes() []string { return []string{"dial", "index", "heads-up", "test"} }
func (view) Keys() []string {
	return []string{"1", "2", "3", "back", "4", "5", "6", "-", "7", "8", "9", ".", "0", "next", "done"}
}

// KeyNames are what a screen reader says of a key that is not named by its sign.
func (view) KeyNames() map[string]string { return map[string]string{"-": "minus, red", ".": "point"} }

// AirExample is a reading as it is typed.
func (v view) AirExample() string { return units.Examples(v.Server.Bare, "{88F 42 28.94|31C 42 980}") }

// OtherTold says that a field of the other lane is filled in.
func (v view) OtherTold() bool {
	return slices.ContainsFunc(v.Fields, func(f field) bool { return f.Other && f.Value != "" })
}

// nowView is what changes as slips and air are recorded.
type nowView struct {
	Next  string // in a line
	NoAir string
	Boxes []page.DialBox
	Due   string
	Runs  []runLine
	Note  string
}

// runLine is a run of today.
type runLine struct{ ID, Clock, Round, Lane, Run string }

// view gathers the page for a vehicle and a track, those last used when "".
func (s *Server) view(r *http.Request, vehicle, track string) (v view, err error) {
	v = view{Server: s, Token: tokenOf(secretOf(r))}
	use := useOf(r)
	if v.Vehicles, err = s.Session.Vehicles(); err != nil {
		return v, err
	}
	if v.Tracks, err = s.Session.Tracks(); err != nil {
		return v, err
	}
	if len(v.Vehicles) == 0 {
		return v, errors.New("no vehicle is in the logbook yet: slipcase vehicle add NAME at the laptop")
	}
	last, err := s.Session.Slip("last")
	if err != nil {
		last = crew.Slip{} // the first, or one that cannot be read: nothing to go by
	}
	v.Vehicle = pick(v.Vehicles, vehicleID, vehicle, use.Get("vehicle"), last.Vehicle)
	v.Track = pick(v.Tracks, trackID, track, use.Get("track"), last.Track)
	v.Class, v.Index = use.Get("class"), use.Get("index")
	zone := v.Track.Location(s.Now().Location())
	now := s.Now().In(zone)
	usual, _ := s.Session.LastOf(v.Vehicle.ID)
	v.Fields = s.fieldsFor(v.Track, usual, nil)
	v.Lane = usual.Lane
	result, _ := crew.TellResult(usual, s.Session.TrackOf(usual))
	v.Round = crew.NextRound(usual, result, now)
	v.ID = logbook.NewID('s')
	return v, nil
}

// withDay adds what is asked of the log: the next run, the runs of today, the card.
func (s *Server) withDay(v view) view {
	v.Now, v.Card = s.nowOf(v), s.cardOf(v)
	return v
}

func vehicleID(v crew.Vehicle) string { return v.ID }
func trackID(t crew.Track) string     { return t.ID }

// pick is the first of the names that there is, else the first of all.
func pick[T any](list []T, id func(T) string, names ...string) (none T) {
	for _, name := range names {
		if i := slices.IndexFunc(list, func(t T) bool { return name != "" && strings.EqualFold(id(t), name) }); i >= 0 {
			return list[i]
		}
	}
	if len(list) == 0 {
		return none
	}
	return list[0]
}

// nowOf tells the next run and those of today.
func (s *Server) nowOf(v view) (n nowView) {
	now := s.Now().In(v.Track.Location(s.Now().Location()))
	p, _ := s.words()
	d, err := s.dial(v, now)
	if err != nil {
		n.Note = units.In(err, s.Units)
	} else {
		n.Next, n.NoAir, n.Boxes = p.NextLine(d), p.NoAirFor(d), p.DialBoxes(d)
	}
	if due, err := s.Session.DueOf(v.Vehicle.ID, now); err == nil {
		n.Due = page.Due(due)
	}
	runs, err := s.Session.Runs(v.Vehicle.ID)
	if err != nil {
		n.Note = units.In(err, s.Units)
	}
	for _, run := range slices.Backward(runs) {
		at := run.Slip.Time.In(now.Location())
		if at.Format(time.DateOnly) != now.Format(time.DateOnly) {
			continue
		}
		line := runLine{
			ID:    run.Slip.ID,
			Clock: at.Format("15:04"),
			Round: run.Slip.Round,
			Lane:  run.Slip.Lane,
			Run:   "no time",
		}
		splits := crew.PrintedSplits(run.Slip)
		if m, timed := splits.Finish(); timed {
			line.Run = p.RunText(splits, m)
		}
		n.Runs = append(n.Runs, line)
	}
	return n
}

// said is the class that the page is set to.
func (v view) said() (slip crew.Slip, err error) {
	return slip, readClass(url.Values{"class": {v.Class}, "index": {v.Index}}, &slip)
}

// dial is the choice of dials for the next run.
func (s *Server) dial(v view, at time.Time) (crew.DialChoice, error) {
	said, err := v.said()
	if err != nil {
		return crew.DialChoice{}, err
	}
	return s.Session.DialAhead(crew.NextAsk{Vehicle: v.Vehicle.ID, Track: v.Track.ID, Lane: v.Lane, At: at}, said)
}

// home is the page; what is chosen on it is kept for the day.
func (s *Server) home(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Session.Refresh()
	q := r.URL.Query()
	if q.Has("vehicle") {
		use := url.Values{}
		for _, name := range []string{"vehicle", "track", "class", "index"} {
			use.Set(name, q.Get(name))
		}
		http.SetCookie(w, &http.Cookie{
			Name: useCookie, Value: url.QueryEscape(use.Encode()), Path: "/", MaxAge: 20 * 3600,
			HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: s.secure != nil,
		})
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	v, err := s.view(r, "", "")
	if err != nil {
		s.fail(w, err)
		return
	}
	s.render(w, http.StatusOK, "page", s.withDay(v))
}

// useCookie keeps the vehicle, the track and the class for the day.
const useCookie = "slipcase-use"

func useOf(r *http.Request) url.Values {
	c, err := r.Cookie(useCookie)
	if err != nil {
		return url.Values{}
	}
	text, _ := url.QueryUnescape(c.Value)
	use, _ := url.ParseQuery(text) // what it does not say is not used
	return use
}

// part is a part of the page that changes.
func (s *Server) part(name string, fill func(*view)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.Session.Refresh()
		v, err := s.view(r, "", "")
		if err != nil {
			s.fail(w, err)
			return
		}
		fill(&v)
		s.render(w, http.StatusOK, name, v)
	}
}

// cardView is the dial card as tables.
type cardView struct {
	Of     string
	Clock  string // when it was made
	MadeMS int64  // the same for the script, ms
	Tables []cardTable
	Note   string
}

type cardTable struct {
	Caption string
	table.Table
}

// cardKept is the card made last, and what it was made of.
type cardKept struct {
	of    string
	stamp logbook.Stamp
	view  cardView
}

// cardLife is how long a card is good for, as long as nothing is recorded.
const cardLife = 10 * time.Minute

// cardOf makes the card, or takes the one made last.
func (s *Server) cardOf(v view) cardView {
	of := strings.Join([]string{v.Vehicle.ID, v.Track.ID, v.Class, v.Index}, " ")
	stamp := s.Session.Stamp()
	age := s.Now().Sub(time.UnixMilli(s.card.view.MadeMS))
	if s.card.of == of && sameStamp(s.card.stamp, stamp) && age >= 0 && age < cardLife {
		return s.card.view
	}
	p, _ := s.words()
	said, err := v.said()
	if err != nil {
		return cardView{Note: units.In(err, s.Units)}
	}
	c, err := s.Session.Card(v.Vehicle, v.Track, said, s.Units)
	if err != nil {
		return cardView{Note: units.In(err, s.Units)}
	}
	out := cardView{
		Of:     v.Vehicle.Name() + " at " + cmp.Or(v.Track.Name(), "no track"),
		Clock:  c.MadeAt.Format("15:04"),
		MadeMS: c.MadeAt.UnixMilli(),
		Tables: []cardTable{{"by the time of the run", p.CardByTime(c)}, {"by the density altitude", p.CardByAir(c)}},
	}
	s.card = cardKept{of, stamp, out}
	return out
}

func (s *Server) worker(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	_, _ = w.Write([]byte(workerJS)) // the reader has gone away
}

// render writes a page that is made whole before any of it is sent.
func (s *Server) render(w http.ResponseWriter, status int, name string, v view) {
	var b bytes.Buffer
	if err := templates().ExecuteTemplate(&b, name, v); err != nil {
		s.fail(w, err)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // the reader has gone away
}

// fail tells what could not be: the log is busy or gone, the phone keeps what was typed.
func (s *Server) fail(w http.ResponseWriter, err error) {
	http.Error(w, units.In(err, s.Units), http.StatusServiceUnavailable)
}
