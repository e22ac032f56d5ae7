package logbook

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
)

// slipID is what NewID makes for a slip.
var slipID = regexp.MustCompile(`^s[a-z2-7]{9}$`)

// ErrID is wrapped when what should be an id is none.
var ErrID = errors.New("want s and nine of a to z and 2 to 7")

// AddSlipOnce records a slip under the id that it brings, made where it was typed. Where the
// log has that entry already, void or amended as it may be, nothing is recorded: sent twice it
// is there once. fits is as with AddSlipsIf.
func (lb *Logbook) AddSlipOnce(fits func() error, s *Slip) (recorded bool, err error) {
	if !slipID.MatchString(s.ID) {
		return false, fmt.Errorf("%q is no id of a slip: %w", clip(s.ID), ErrID)
	}
	if err := s.Check(); err != nil {
		return false, err
	}
	err = lb.locked(func() error {
		there, err := lb.HasSlip(s.ID)
		if there || err != nil {
			return err
		}
		recorded = true
		return lb.putSlips(fits, []*Slip{s})
	})
	return recorded && err == nil, err
}

// HasSlip reports that the log has an entry of that id, whether it stands or not.
func (lb *Logbook) HasSlip(id string) (bool, error) {
	c, err := lb.read(slips, nil)
	if err != nil {
		return false, err
	}
	for other := range c.damaged {
		if strings.EqualFold(other, id) {
			return true, nil
		}
	}
	for _, r := range c.rows {
		if strings.EqualFold(r.id, id) {
			return true, nil
		}
	}
	return false, nil
}
