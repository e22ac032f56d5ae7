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
// readings that it allows.
const (
	hitBeside = 0.45
	swappedIn = 0.20
	droppedIn = 0.20
	doubledIn = 0.10
	misplaced = 0.05
)

// undo lists what may have been meant by a figure typed with so many decimals, with
// the chance of the slip that leads from it to what was typed.
func undo(typed float64, decimals int) map[float64]float64 {
	meant := map[float64]float64{}
	whole := strconv.FormatFloat(typed, 'f', decimals, 64)
	short := strings.TrimSuffix(strings.TrimRight(whole, "0"), ".")
	scale := math.Pow(10, float64(decimals))
	add := func(digits string, chance float64) {
		n, err := strconv.Atoi(digits)
		v := float64(n) / scale
		if err != nil || v <= 0 || v == typed || chance <= meant[v] {
			return
		}
		meant[v] = chance
	}
	for i, text := range []string{whole, short} {
		if i == 1 && short == whole {
			break
		}
		d := strings.Replace(text, ".", "", 1)
		add(d, misplaced)
		for _, shift := range []string{"0", "00"} {
			add(d+shift, misplaced/4)
			add(strings.TrimSuffix(d, shift), misplaced/4)
		}
		each := 1 / float64(len(d))
		for k := range d {
			for _, key := range besides[d[k]-'0'] {
				add(d[:k]+string(key)+d[k+1:], hitBeside*each/4)
			}
			if k+1 < len(d) && d[k] != d[k+1] {
				add(d[:k]+d[k+1:k+2]+d[k:k+1]+d[k+2:], swappedIn*each)
			}
			if k+1 < len(d) && d[k] == d[k+1] {
				add(d[:k]+d[k+1:], doubledIn*each)
			}
		}
		for k := range len(d) + 1 {
			for key := range 10 {
				add(d[:k]+strconv.Itoa(key)+d[k:], droppedIn/float64(len(d)+1))
			}
		}
	}
	return meant
}
