package logbook

import (
	"errors"
	"slices"
	"sync"
	"testing"
	"time"
)

// Of two windows that add one part at once, one is told that it is there: the question is
// asked while nobody else records.
func TestOnePartAddedTwiceAtOnce(t *testing.T) {
	lb := start(t)
	errThere := errors.New("there already")
	for round := range 10 {
		part := []string{"plugs", "belts", "slicks", "net", "oil", "clutch", "springs", "bottle", "bearings", "helmet"}[round]
		errs := make([]error, 2)
		var both sync.WaitGroup
		for i := range errs {
			both.Go(func() {
				window, err := Open(lb.Dir(), Options{})
				if err != nil {
					errs[i] = err
					return
				}
				w := &Wear{Time: Time{time.Now()}, What: WearAdd, Part: part, Vehicle: "heron"}
				errs[i] = window.AddWear(w, func(there []Wear) error {
					if slices.ContainsFunc(there, func(w Wear) bool { return w.Part == part }) {
						return errThere
					}
					return nil
				})
			})
		}
		both.Wait()
		if slices.IndexFunc(errs, func(err error) bool { return err == nil }) < 0 || !slices.Contains(errs, errThere) {
			t.Errorf("%s: %v and %v, want one recorded and one refused", part, errs[0], errs[1])
		}
	}
}
