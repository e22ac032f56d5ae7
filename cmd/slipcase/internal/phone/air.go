package phone

import (
	"cmp"
	"net/http"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// takeAir records a reading typed in a line, or asks about it.
func (s *Server) takeAir(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Session.Refresh()
	a, err := s.readAir(r)
	if err != nil {
		a = refusedFor("", units.In(err, s.Units))
	}
	s.answerWith(w, r, a)
}

func (s *Server) readAir(r *http.Request) (a answer, err error) {
	tracks, err := s.Session.Tracks()
	if err != nil {
		return a, err
	}
	airs, err := typed.ParseAir(s.Bare, r.PostForm.Get("air"), tracks)
	if err != nil {
		return a, err
	}
	if airs[0].Err != nil {
		return a, airs[0].Err
	}
	track, err := s.Session.Track(cmp.Or(airs[0].Track, r.PostForm.Get("track")))
	if err != nil {
		return a, err
	}
	zone := track.Location(s.Now().Location())
	at := s.ranAt(r.PostForm).In(zone).Truncate(time.Second)
	switch {
	case airs[0].At != "":
		at, err = typed.Moment(airs[0].At, at, zone)
	case airs[0].Report.Raw != "":
		at = airs[0].Report.Time(s.Now().Add(crew.ReportAhead)).In(zone)
	}
	if err != nil {
		return a, err
	}
	rec := crew.Reading{Track: track.ID, Reading: airs[0].Reading, Raw: airs[0].Report.Raw, Source: airs[0].Report.Station}
	rec.Time.Time = at
	checked, err := s.Session.CheckReading(rec, track)
	if err != nil {
		return a, err
	}
	p, b := s.words()
	if doubts := p.ReadingDoubts(checked); len(doubts) > 0 {
		says := strings.Join(doubts, "; ")
		if r.PostForm.Get("force") == "" {
			keep := [][2]string{
				{"air", r.PostForm.Get("air")},
				{"track", track.ID},
				{"vehicle", r.PostForm.Get("vehicle")},
				{"at", at.Format(time.RFC3339)},
				{"force", "yes"},
				{"token", r.PostForm.Get("token")},
			}
			return answer{State: asked, Says: says, Choices: []choice{{"keep as typed", "/air", keep}}}, nil
		}
		rec.Forced = says
	}
	if err := s.Session.AddReading(&rec); err != nil {
		return a, err
	}
	s.Session.Refresh()
	checked.Reading = rec
	now, err := s.Session.AirAt(track.ID, at)
	if err != nil {
		now = crew.Estimate{} // it is recorded
	}
	err = p.ReadingAdded(checked.Aired, now, true, p.ReadingRemarks(checked, airs[0].Report.Notes()))
	return answer{State: recorded, Verdict: b.String()}, err
}
