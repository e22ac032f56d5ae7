package predict

import "math"

// A slip's figures as the forecast reads them: eight channels, each the natural
// logarithm of a time or of a speed, in the order in which the car makes them.
// What spoils a run at some point spoils the channels from there on.
const channels = 8

// vec is one number a channel.
type vec [channels]float64

// square is one number for each pair of channels.
type square [channels]vec

var channelOf = [channels]struct {
	mark  Mark
	speed bool
}{
	{At60, false},
	{At330, false},
	{At660, true},
	{At660, false},
	{At1000, true},
	{At1000, false},
	{At1320, true},
	{At1320, false},
}

// timeAt is the channel of the time at a mark, speedAt that of the speed, -1
// where none is read.
var timeAt, speedAt = func() (times, speeds [Marks]int) {
	for m := range speeds {
		speeds[m] = -1
	}
	for c, of := range channelOf {
		if of.speed {
			speeds[of.mark] = c
		} else {
			times[of.mark] = c
		}
	}
	return times, speeds
}()

// What no timer ever printed for a full run is a typing error, and not read: s and
// mph, common practice, no source.
const (
	leastET, mostET   = 0.4, 120
	leastMPH, mostMPH = 5, 500
)

// logs reads a slip; has tells which channels it knows.
func (s Splits) logs() (y vec, has [channels]bool) {
	for c, of := range channelOf {
		n, least, most := s.ETs[of.mark], leastET, float64(mostET)
		if of.speed {
			n, least, most = s.MPHs[of.mark], leastMPH, mostMPH
		}
		if v := n.Value(); n.Known() && v >= least && v <= most {
			y[c], has[c] = math.Log(v), true
		}
	}
	return y, has
}

// logs reads a computed run.
func (t Timing) logs() (y vec) {
	for c, of := range channelOf {
		if of.speed {
			y[c] = math.Log(t.MPH[of.mark])
		} else {
			y[c] = math.Log(t.ET[of.mark])
		}
	}
	return y
}

func (v vec) minus(w vec) vec {
	for c := range v {
		v[c] -= w[c]
	}
	return v
}

func (v vec) plus(w vec) vec {
	for c := range v {
		v[c] += w[c]
	}
	return v
}

func (v vec) scaled(k float64) vec {
	for c := range v {
		v[c] *= k
	}
	return v
}

// outer adds k v v' to the square.
func (s *square) outer(v vec, k float64) {
	for i := range v {
		for j := range v {
			s[i][j] += k * v[i] * v[j]
		}
	}
}

func (s *square) add(t *square, k float64) {
	for i := range s {
		for j := range s {
			s[i][j] += k * t[i][j]
		}
	}
}
