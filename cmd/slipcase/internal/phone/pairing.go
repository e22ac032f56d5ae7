package phone

import (
	"crypto/rand"
	"crypto/subtle"
	"errors"
	"fmt"
	"math/big"
	"sync"
	"time"
)

// A code may be tried so often, and so long.
const (
	codeTries = 5
	codeLife  = 5 * time.Minute
)

var (
	errWrongCode = errors.New("that is not the code")
	errNoCode    = errors.New("the code has run out: Enter at the laptop makes a new one")
)

// pairing is the code that lets one phone in. A new one is made at the laptop alone.
type pairing struct {
	mu    sync.Mutex
	now   func() time.Time
	code  string
	until time.Time
	tries int
}

// renew makes a new code.
func (p *pairing) renew() string {
	n, err := rand.Int(rand.Reader, big.NewInt(1_000_000))
	if err != nil {
		panic(err) // the system has no random numbers: crypto/rand itself would not go on
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.code, p.tries, p.until = fmt.Sprintf("%06d", n), 0, p.now().Add(codeLife)
	return p.code
}

// take tries a code; a right one is used up.
func (p *pairing) take(code string) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.code == "" || p.tries >= codeTries || p.now().After(p.until) {
		p.code = ""
		return errNoCode
	}
	p.tries++
	if subtle.ConstantTimeCompare([]byte(code), []byte(p.code)) != 1 {
		if p.tries == codeTries {
			p.code = ""
			return errNoCode
		}
		return errWrongCode
	}
	p.code = ""
	return nil
}
