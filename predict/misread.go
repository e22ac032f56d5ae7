package predict

import (
	"math"
	"strconv"
	"strings"
)

// How fingers go wrong in a figure of a slip: a digit swapped with its neighbour,
// dropped, doubled, or hit beside; the point in the wrong place; two figures
// exchanged. Each is undone here, to find what may have been meant.

// besides are the keys next to each digit, in the row and on the number pad.
var besides = [10]string{"912", "2047", "1035", "2460", "35170", "46280", "573931", "684", "79502", "8060"}

// slip of the finger: how likely each kind is among typing errors, shared by the
// readings that it allows (common practice, no source).
const (
	hitBeside     = 0.45
	swappedIn     = 0.20
	droppedIn     = 0.20
	doubledIn     = 0.10
	noughtsUnsaid = 0.4 // of figures that end in noughts or begin with them, typed without
	misplaced     = 0.05
	otherUnit     = 0.05 // a speed typed in mph where km/h are meant, or the reverse
)

// undo lists what may have been meant by a figure typed with so many decimals, with
// the chance of the slip that leads from it to what was typed.
func undo(typed float64, decimals int) map[float64]float64 {
	u := undone{typed: typed, scale: math.Pow(10, float64(decimals)), meant: map[float64]float64{}}
	for i, d := range digitsOf(typed, decimals) {
		u.likely = 1
		if i > 0 {
			u.likely = noughtsUnsaid
		}
		u.hitsAndSwaps(d)
		u.dropsAndDoubles(d)
	}
	return u.meant
}

// digitsOf are the digits that may have been typed for a value: with all its decimals,
// first, or without its last noughts, with the noughts that were lost in front.
func digitsOf(typed float64, decimals int) []string {
	whole := strconv.FormatFloat(typed, 'f', decimals, 64)
	if exact := strconv.FormatFloat(typed, 'f', -1, 64); len(exact) > len(whole) {
		whole = exact // a digit more than is printed
	}
	d := strings.Replace(whole, ".", "", 1)
	list := []string{d}
	for most := decimals; most > 0 && strings.HasSuffix(d, "0"); most-- {
		d = strings.TrimSuffix(d, "0")
		list = append(list, d)
	}
	for _, d := range list {
		bare := strings.TrimLeft(d, "0")
		if bare == "" {
			continue
		}
		if bare != d {
			list = append(list, bare)
		}
		list = append(list, "0"+bare)
	}
	return list
}

// undone gathers what may have been meant.
type undone struct {
	typed, scale float64
	likely       float64 // of the digits at hand
	meant        map[float64]float64
}

func (u *undone) add(digits string, chance float64) {
	n, err := strconv.Atoi(digits)
	v := float64(n) / u.scale
	if chance *= u.likely; err == nil && v > 0 && v != u.typed && chance > u.meant[v] {
		u.meant[v] = chance
	}
}

func (u *undone) hitsAndSwaps(d string) {
	u.add(d, misplaced)
	u.add(d+"0", misplaced) // the nought may have been typed: it does not show
	u.add(d+"00", misplaced/4)
	each := 1 / float64(len(d))
	for k := range d {
		for _, key := range besides[d[k]-'0'] {
			u.add(d[:k]+string(key)+d[k+1:], hitBeside*each/4)
		}
		if k+1 < len(d) && d[k] != d[k+1] {
			u.add(d[:k]+d[k+1:k+2]+d[k:k+1]+d[k+2:], swappedIn*each)
		}
	}
}

func (u *undone) dropsAndDoubles(d string) {
	each := 1 / float64(len(d))
	for k := range len(d) + 1 {
		for key := range 10 {
			u.add(d[:k]+strconv.Itoa(key)+d[k:], droppedIn/float64(len(d)+1))
		}
		if k+1 < len(d) && d[k] == d[k+1] {
			u.add(d[:k]+d[k+1:], doubledIn*each)
		}
	}
}
