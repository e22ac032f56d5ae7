package crew

import (
	"slices"
	"time"

	"slipcase/predict"
	"slipcase/weather/units"
)

// Board is what a racer has before him between rounds.
type Board struct {
	Use      Use
	Now      time.Time // at the track
	Vehicle  Vehicle   // zero where none is in use
	Track    Track     // the same
	Vehicles []string  // to choose from where none is in use
	Tracks   []string
	Air      Estimate // of now, at the track
	Rules    Rules    // of the run to come
	Last     *LastRun // nil before the first
	Next     *DialChoice
	NoNext   error    // why there is none
	Lanes    *LaneGap // nil where only one lane was run here
	Box      [2]units.Number
	Lights   *Lights // nil where there are too few
	Due      []Worn
}

// LastRun is the last run of a vehicle, and how its round ended.
type LastRun struct {
	Run    Run
	Mark   Mark // the farthest timed
	Splits Splits
	LimitS units.Number // its dial, or the index
	Result string       // "" where the slip does not tell
	Round  Round        // judged by both lanes, where they are told
}

// LaneGap is what one lane costs beside the other, s.
type LaneGap struct{ LeftS, RightS float64 }

// Lights are how a driver leaves, after the perfect light.
type Lights struct{ MeanS, Red float64 }

// The lanes by their place in a pair.
const laneLeft, laneRight = "left", "right"

// Board gathers what there is to say now of what is in use.
func (s *Session) Board() (b Board, err error) {
	if err := s.goesWithoutSaying(); err != nil {
		return b, err
	}
	b.Use = s.InUse()
	b.Vehicle, b.Track = s.vehicleOf(b.Use.Vehicle), s.TrackOf(Slip{Track: b.Use.Track})
	b.Now = s.Now().In(b.Track.Location(s.Now().Location()))
	if err := s.toChoose(&b); err != nil || b.Vehicle.ID == "" {
		return b, err
	}
	c, err := s.car(b.Vehicle.ID)
	if err != nil {
		return b, err
	}
	if n := len(c.runs); n > 0 {
		b.Last = s.lastRun(c.runs[n-1])
	}
	b.Box, b.Lights = boxOf(c.runs), lightsOf(c.runs)
	if b.Due, err = s.DueOf(b.Vehicle.ID, s.Now()); err != nil {
		return b, err
	}
	s.lookOut(&b, c)
	return b, nil
}

func (s *Session) vehicleOf(id string) Vehicle {
	v, err := s.Vehicle(id)
	if id == "" || err != nil || Stands("vehicle", v.Entry) != nil {
		return Vehicle{}
	}
	return v
}

// toChoose names the vehicles and tracks where none is in use.
func (s *Session) toChoose(b *Board) error {
	if b.Vehicle.ID == "" {
		all, err := s.Vehicles()
		if err != nil {
			return err
		}
		for _, v := range all {
			b.Vehicles = append(b.Vehicles, v.ID)
		}
	}
	if b.Track.ID == "" {
		all, err := s.Tracks()
		if err != nil {
			return err
		}
		for _, t := range all {
			b.Tracks = append(b.Tracks, t.ID)
		}
	}
	return nil
}

func (s *Session) lastRun(r Run) *LastRun {
	l := &LastRun{Run: r, Splits: PrintedSplits(r.Slip), LimitS: LimitOf(r.Slip, r.Track)}
	l.Mark, _ = l.Splits.Finish()
	l.Result, _ = TellResult(r.Slip, r.Track)
	l.Round = RoundOf(r.Slip, r.Track, RulesOf(r.Slip, r.Track))
	if HasOther(r.Slip) {
		l.Round.Judge()
	}
	return l
}

// boxOf are the settings of the delay box that the driver last used, left and right.
func boxOf(runs []Run) (box [2]units.Number) {
	for _, r := range ofDriver(runs) {
		if at := slices.Index([]string{laneLeft, laneRight}, r.Slip.Lane); at >= 0 && r.Slip.DelayS.Known() {
			box[at] = r.Slip.DelayS
		}
	}
	return box
}

// lightsOf are those of whoever drove last.
func lightsOf(runs []Run) *Lights {
	var late []float64
	for _, r := range runs {
		if t := LateBy(r.Slip, r.Track); t.Known() && r.Slip.Driver == runs[len(runs)-1].Slip.Driver {
			late = append(late, t.Value())
		}
	}
	l, err := predict.NewLaunch(late)
	if err != nil {
		return nil
	}
	return &Lights{l.Mean(0), l.Red(0)}
}

// lookOut tells the run to come, with its dial and what the lanes cost.
func (s *Session) lookOut(b *Board, c *car) {
	ask := NextAsk{Vehicle: b.Vehicle.ID, Track: b.Track.ID, At: b.Now}
	d, err := s.DialAhead(ask, Slip{})
	b.Air, b.Rules = d.Run.Air, d.Rules
	if b.NoNext = err; err != nil {
		return
	}
	b.Next = &d
	if lanes := s.lanesAhead(ask, c); len(lanes) == 2 {
		inLeft, _ := lanes[0].Expect()
		inRight, _ := lanes[1].Expect()
		left, right := inLeft.ETs[d.Mark].Centre, inRight.ETs[d.Mark].Centre
		quicker := min(left, right)
		b.Lanes = &LaneGap{left - quicker, right - quicker}
	}
}

// lanesAhead is the run to come in each lane, nothing where the vehicle has run here in one
// of them alone.
func (s *Session) lanesAhead(ask NextAsk, c *car) (lanes []Next) {
	for _, lane := range []string{laneLeft, laneRight} {
		ran := func(r Run) bool { return r.Slip.Lane == lane && r.Slip.Track == ask.Track }
		if !slices.ContainsFunc(c.runs, ran) {
			return nil
		}
		ask.Lane = lane
		next, err := s.Next(ask)
		if err != nil {
			return nil
		}
		lanes = append(lanes, next)
	}
	return lanes
}
