package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather/units"
)

// rival is the other lane of the next round.
type rival struct {
	predict.Opponent
	name string
}

// What is taken of a driver or a car that nothing is known of: common practice, no
// source, and said on the screen.
var (
	usualReaction = predict.RacersReaction
	usualETSD     = 0.030
	usualOverDial = 0.020
)

// takeRival reads --opponent and the reactions of both lanes.
func (a *app) takeRival(c *cobra.Command, lb *crew.Session, d *dialling) error {
	text, _ := c.Flags().GetString("opponent")
	own, _ := c.Flags().GetString("reaction")
	if text == "" {
		return aloneFlags(c)
	}
	runs, err := lb.Runs(d.run.Vehicle.ID)
	if err != nil {
		return err
	}
	d.rival = &rival{name: "the other lane"}
	mine := spoken{d: d}
	if own != "" {
		if err := mine.read(append([]string{"reaction"}, strings.Fields(own)...)); err != nil {
			return usagef("--reaction: %v", err)
		}
	}
	if d.reaction = mine.reaction; d.reaction.SD == 0 {
		d.reaction = d.fromLog("your", runs, mine)
	}
	words := strings.Fields(text)
	var known predict.Opponent
	if len(words) > 0 && !isKeyword(words[0]) {
		v, err := lb.Vehicle(words[0])
		if err != nil {
			return err
		}
		if known, err = a.logged(c, lb, d, v); err != nil {
			return err
		}
		d.rival.name, words = v.Name(), words[1:]
	}
	said := spoken{d: d}
	if err := said.read(words); err != nil {
		return usagef("--opponent: %v", err)
	}
	return usage(d.rival.settle(d, known, said))
}

// aloneFlags refuses what says something of a round when there is no other lane.
func aloneFlags(c *cobra.Command) error {
	for _, flag := range []string{"reaction", "perfect-reaction", "both-red"} {
		if c.Flags().Changed(flag) {
			return usagef("--%s counts only against another lane: want --opponent \"dial 12.40\" with it", flag)
		}
	}
	return nil
}

// settle puts together what was said of the other lane, what the log knows and
// what has to be assumed.
func (r *rival) settle(d *dialling, known predict.Opponent, said spoken) error {
	r.Opponent = known
	if said.dial.Known() {
		r.DialS = said.dial.Value()
	}
	if d.rules.Format == predict.Dialled && r.DialS == 0 {
		return errors.New("--opponent: want its dial, as \"dial 12.40\"")
	}
	if said.et != (predict.Spread{}) {
		r.ET = said.et
	}
	switch {
	case said.reacts:
		r.Reaction = said.reaction
	case r.Reaction.SD == 0:
		r.Reaction = usualReaction
		d.notes = append(d.notes, fmt.Sprintf("the other reaction is taken as %.3f, sd %.3f", usualReaction.Mean+d.rules.PerfectS, usualReaction.SD))
	}
	if r.Reaction.SD == 0 {
		r.Reaction.SD = usualReaction.SD
		d.notes = append(d.notes, fmt.Sprintf("the spread of the other reaction is taken as %.3f", usualReaction.SD))
	}
	if r.ET.Mean == 0 {
		if r.DialS == 0 {
			return errors.New("--opponent: want its ET, as \"et 12.43 sd .03\"")
		}
		r.ET = predict.Spread{Mean: r.DialS + usualOverDial}
		d.notes = append(d.notes, fmt.Sprintf("the other ET is taken as %.3f over its dial", usualOverDial))
	}
	if r.ET.SD == 0 {
		r.ET.SD = usualETSD
		d.notes = append(d.notes, fmt.Sprintf("the spread of the other ET is taken as %.3f", usualETSD))
	}
	return nil
}

func isKeyword(word string) bool {
	switch strings.ToLower(word) {
	case "dial", "reaction", "et", "sd":
		return true
	}
	return false
}

// spoken is what is said of a lane in words: dial 12.40 reaction .042 sd .020.
type spoken struct {
	d            *dialling
	dial         units.Number
	reaction, et predict.Spread
	reacts       bool            // a reaction was said; of a perfect one the mean is 0
	last         *predict.Spread // what an sd belongs to
}

func (s *spoken) read(words []string) error {
	for i := 0; i < len(words); i += 2 {
		key := strings.ToLower(words[i])
		if !isKeyword(key) || i+1 == len(words) {
			return fmt.Errorf("%q: want dial 12.40 reaction .042 sd .020 et 12.43 sd .03", strings.Join(words[i:], " "))
		}
		if err := s.one(key, words[i+1]); err != nil {
			return fmt.Errorf("%s: %w", key, err)
		}
	}
	return nil
}

func (s *spoken) one(key, text string) error {
	var n units.Number
	var err error
	switch key {
	case "dial":
		s.dial, err = typed.Dial(text)
		return positive(s.dial, err)
	case "reaction":
		n, err = typed.Reaction(text)
		s.reaction.Mean, s.last = n.Value()-s.d.rules.PerfectS, &s.reaction
		s.reacts = true
		if err == nil {
			err = s.nearPerfect()
		}
		return err
	case "et":
		n, err = typed.OtherET(text)
		s.et.Mean, s.last = n.Value(), &s.et
		return positive(n, err)
	}
	if s.last == nil {
		return errors.New("it belongs behind a reaction or an et")
	}
	n, err = typed.Reaction(text)
	s.last.SD = n.Value()
	return positive(n, err)
}

// Usual reactions are no further from the perfect light, s; further off another
// track's perfect light is meant (common practice, no source).
const reddestUsual, latestUsual = -0.3, 1.0

func (s *spoken) nearPerfect() error {
	if late := s.reaction.Mean; late < reddestUsual || late > latestUsual {
		perfect := s.d.rules.PerfectS
		return fmt.Errorf("%.3f: want %.3f to %.3f, since a perfect light is %.3f", late+perfect, perfect+reddestUsual, perfect+latestUsual, perfect)
	}
	return nil
}

func positive(n units.Number, err error) error {
	if err == nil && !(n.Value() > 0) {
		return errors.New("want more than 0")
	}
	return err
}

// logged is a vehicle of the log as the other lane.
func (a *app) logged(c *cobra.Command, lb *crew.Session, d *dialling, v logbook.Vehicle) (o predict.Opponent, err error) {
	next, history, err := a.nextRunOf(c, lb, v)
	if err != nil {
		return o, err
	}
	runs, err := lb.Runs(v.ID)
	if err != nil {
		return o, err
	}
	f, err := predict.Expect(history, crew.PassOf(next))
	if err != nil {
		return o, fmt.Errorf("%s: %w", v.ID, err)
	}
	o.ET = f.ETSpread(d.mark)
	o.Reaction = d.fromLog(v.ID+"'s", runs, spoken{})
	for _, r := range runs {
		if r.Slip.DialS.Known() && racedTo(r.Slip, r.Track) == d.mark {
			o.DialS = r.Slip.DialS.Value()
		}
	}
	return o, nil
}

// fromLog is a driver's reaction as the log knows it; a mean that was said without its
// spread is kept.
func (d *dialling) fromLog(whose string, runs []logbook.Run, said spoken) predict.Spread {
	var late []float64
	for _, r := range runs {
		late = append(late, list(lateBy(r))...)
	}
	s, some := predict.UsualReaction(late)
	if !some {
		s = usualReaction
	}
	if said.reacts {
		s.Mean = said.reaction.Mean
	}
	if !some {
		d.notes = append(d.notes, fmt.Sprintf("%s reaction is taken as %.3f, sd %.3f: fewer than five in the log", whose, s.Mean+d.rules.PerfectS, s.SD))
	}
	return s
}

func (a *app) rivalText(w io.Writer, d *dialling, out dialJSON) {
	r := d.rival
	if head := out.HeadStartS; head.Known() {
		who, by := r.name+" leaves first", head.Value()
		if by < 0 {
			who, by = "you leave first", -by
		}
		a.say(w, "start", fmt.Sprintf("%s by %.2f s", who, by))
	}
	a.say(w, "other lane", fmt.Sprintf("%sreaction %.3f sd %.3f, ET %.3f sd %.3f; yours %.3f sd %.3f", dialWord(r.DialS),
		r.Reaction.Mean+d.rules.PerfectS, r.Reaction.SD, r.ET.Mean, r.ET.SD, d.reaction.Mean+d.rules.PerfectS, d.reaction.SD))
	a.say(w, "assumed", "neither lane lifts")
}

func dialWord(s float64) string {
	if s == 0 {
		return ""
	}
	return fmt.Sprintf("dial %s, ", hundredths(units.Some(s)))
}
