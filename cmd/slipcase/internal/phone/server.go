package phone

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/skip2/go-qrcode"
	"golang.org/x/net/netutil"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// Config says what is served, where and how.
type Config struct {
	Session   *crew.Session
	Address   string // of this machine; 127.0.0.1 for no other
	Port      int    // 0 for any that is free
	TLS       bool
	Settings  string // the folder for what is kept beside the logbook
	Units     units.System
	Bare      units.System // what numbers without unit mean
	Now       func() time.Time
	Devices   Devices
	QRColumns int // the room for the code that a camera reads, 0 for none
}

// Server answers the phones.
type Server struct {
	Config
	pairing  pairing
	listener net.Listener
	secure   *tls.Certificate

	mu      sync.Mutex // the session's
	streams chan struct{}
	card    cardKept
}

// Limits of what a phone, or whatever else is on the network, can make this machine do.
const (
	mostBody        = 64 << 10
	mostHeader      = 16 << 10
	mostConnections = 64
	mostStreams     = 24 // of them those that wait for what is recorded
	phaseTime       = 10 * time.Second
	idleTime        = 90 * time.Second
)

// Listen opens the socket: nobody is let in before Serve.
func Listen(c Config) (*Server, error) {
	if !private(c.Address) {
		return nil, fmt.Errorf("%s is not a private address: this page is for the pit's own network", c.Address)
	}
	s := &Server{Config: c, streams: make(chan struct{}, mostStreams)}
	s.pairing.now = c.Now
	l, err := net.Listen("tcp", net.JoinHostPort(c.Address, strconv.Itoa(c.Port)))
	if err != nil {
		return nil, err
	}
	s.listener = netutil.LimitListener(l, mostConnections)
	if c.TLS {
		cert, err := certificateFor(c.Settings, c.Address, c.Now())
		if err != nil {
			return nil, errors.Join(err, l.Close())
		}
		s.secure = &cert
		s.listener = tls.NewListener(s.listener, &tls.Config{
			Certificates: []tls.Certificate{cert}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"},
		})
	}
	return s, nil
}

// URL is where the page is.
func (s *Server) URL() string {
	scheme := "http"
	if s.secure != nil {
		scheme = "https"
	}
	return scheme + "://" + s.listener.Addr().String() + "/"
}

// NewCode makes a pairing code, and makes the one before worthless.
func (s *Server) NewCode() string { return s.pairing.renew() }

// Fingerprint is that of the certificate, "" without one.
func (s *Server) Fingerprint() string {
	if s.secure == nil {
		return ""
	}
	return fingerprint(*s.secure)
}

// QR is the URL for a phone's camera, in half blocks, "" where it has no room.
func (s *Server) QR() string {
	code, err := qrcode.New(s.URL(), qrcode.Low)
	if err != nil || len(code.Bitmap()) > s.QRColumns {
		return ""
	}
	return code.ToSmallString(false)
}

// Serve answers until the context ends; what is being recorded then is finished.
func (s *Server) Serve(ctx context.Context) error {
	srv := &http.Server{
		Handler:           s.handler(),
		ReadHeaderTimeout: phaseTime,
		ReadTimeout:       phaseTime,
		WriteTimeout:      2 * phaseTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    mostHeader,
		ErrorLog:          log.New(io.Discard, "", 0), // no code, cookie or slip in any log
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(s.listener) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	patience, cancel := context.WithTimeout(context.WithoutCancel(ctx), phaseTime)
	defer cancel()
	return srv.Shutdown(patience)
}
