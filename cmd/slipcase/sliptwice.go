package main

import (
	"fmt"
	"time"
)

// enough are so many figures in common that two runs of one day do not have them by
// chance: each is printed to a thousandth and spread over fifty of them or more.
const enough = 2

// twiceDoubt finds the slip that this one is a second copy of, in the log or beside it.
func twiceDoubt(s slip, logged []slip, beside []*slip) string {
	for _, other := range logged {
		if t := twice(s, other, "("+other.ID+")"); t != "" {
			return t
		}
	}
	for _, other := range beside {
		if t := twice(s, *other, "on another line"); t != "" {
			return t
		}
	}
	return ""
}

func twice(s, other slip, where string) string {
	if other.Vehicle != s.Vehicle {
		return ""
	}
	at := other.Time.In(s.Time.Location())
	switch {
	case at.Sub(s.Time.Time).Abs() < time.Minute:
		return fmt.Sprintf("%s has the slip of %s %s within a minute of it: typed twice, or without its own time", s.Vehicle, at.Format("15:04"), where)
	case at.Format(time.DateOnly) == s.Time.Format(time.DateOnly) && sameFigures(s, other):
		return fmt.Sprintf("its figures are those of the slip of %s %s: typed twice", at.Format("15:04"), where)
	}
	return ""
}

// sameFigures reports that the figures which both slips have are equal, and enough.
func sameFigures(a, b slip) bool {
	as, _ := timeCells(&a)
	bs, _ := timeCells(&b)
	n := 0
	for i := range as {
		if !as[i].Known() || !bs[i].Known() {
			continue
		}
		if as[i].Value() != bs[i].Value() {
			return false
		}
		n++
	}
	return n >= enough
}
