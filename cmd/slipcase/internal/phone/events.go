package phone

import (
	"fmt"
	"maps"
	"net/http"
	"time"

	"slipcase/logbook"
)

// A phone is told within a second of what was recorded, by whomever, and that the server
// is there. It asks again after a while.
const (
	lookEvery  = time.Second
	tellEvery  = 15 * time.Second
	streamLife = 10 * time.Minute
)

// events tells a phone that the log has changed.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	select {
	case s.streams <- struct{}{}:
		defer func() { <-s.streams }()
	default:
		w.Header().Set("Retry-After", "30")
		http.Error(w, "too many phones wait already", http.StatusServiceUnavailable)
		return
	}
	rc := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	tell := func(text string) bool {
		if rc.SetWriteDeadline(time.Now().Add(phaseTime)) != nil {
			return false
		}
		_, err := fmt.Fprint(w, text)
		return err == nil && rc.Flush() == nil
	}
	if rc.SetReadDeadline(time.Time{}) != nil || !tell("retry: 3000\n\n") {
		return
	}
	stamp, told := s.Session.Stamp(), time.Now()
	end := time.After(streamLife)
	for look := time.NewTicker(lookEvery); ; {
		select {
		case <-r.Context().Done():
			return
		case <-end:
			return
		case <-look.C:
		}
		switch now := s.Session.Stamp(); {
		case !sameStamp(stamp, now):
			stamp, told = now, time.Now()
			if !tell("event: changed\ndata: log\n\n") {
				return
			}
		case time.Since(told) > tellEvery:
			told = time.Now()
			if !tell(": here\n\n") {
				return
			}
		}
	}
}

func sameStamp(a, b logbook.Stamp) bool { return maps.Equal(a, b) }
