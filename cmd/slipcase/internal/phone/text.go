package phone

import (
	"errors"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/printed"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// The fields of a form that hold the answers about the text of a printed slip: the place of
// the racer's lane on it, the columns taken as guessed and those left out.
const (
	oursField  = "ours"
	takenField = "taken"
	leftField  = "left_out"
)

// figuresField says that the figures of a form go before those of its text.
const figuresField = "figures"

// unsure is what the text of a printed slip does not tell for sure: whose lane is whose where
// there are ends, else a figure.
type unsure struct {
	ends  [][2]string // of the lanes, as page.BothLanes wants them
	doubt printed.Doubt
}

func (u *unsure) Error() string { return "the text does not tell it for sure" }

// readText reads what stands in place of the figures, a slip's line or the text of a printed
// slip, into a slip run at a moment unless it says another. An error may be unsure.
func (s *Server) readText(form url.Values, slip *crew.Slip, at time.Time) (time.Time, error) {
	text := strings.TrimSpace(form.Get("text"))
	usual, _ := s.Session.LastOf(slip.Vehicle) // the zero Slip will do
	track := s.Session.TrackOf(*slip)
	l, notLine := typed.ParseLine(s.Bare, text, *slip, usual, track.LengthsFt...)
	read, notPrinted := printed.Read(text)
	switch several := strings.Contains(text, "\n"); {
	case notPrinted == nil && (several || notLine != nil):
		return s.readPrinted(form, read, slip, usual, at)
	case notLine != nil && several:
		return at, notPrinted
	case notLine != nil:
		return at, notLine
	}
	*slip = l.Slip
	if l.At == "" {
		return at, nil
	}
	return typed.Moment(l.At, at, at.Location())
}

// readPrinted puts what was read of a printed slip in the place of a slip's figures.
func (s *Server) readPrinted(
	form url.Values,
	read printed.Slip,
	slip *crew.Slip,
	usual crew.Slip,
	at time.Time,
) (time.Time, error) {
	ours, told := read.Ours("", "", usual)
	if n, err := strconv.Atoi(form.Get(oursField)); err == nil && n >= 0 && n < len(read.Ends()) {
		ours, told = read.Choose(n), true
	}
	if !told {
		return at, &unsure{ends: read.Ends()}
	}
	for _, f := range figures {
		*f.at(slip) = units.Number{}
	}
	slip.Lane, slip.Round, slip.Result = "", "", ""
	rules := crew.RulesOf(*slip, s.Session.TrackOf(*slip))
	for _, d := range read.Fill(slip, ours, rules.PerfectS) {
		switch {
		case form.Has(figuresField), slices.Contains(strings.Fields(form.Get(leftField)), d.Column):
		case slices.Contains(strings.Fields(form.Get(takenField)), d.Column):
			d.Set(slip)
		default:
			return at, &unsure{doubt: d}
		}
	}
	text, err := read.When(at)
	switch {
	case err != nil:
		return at, err
	case text == "":
		return at, nil
	case typed.DayAlone(text):
		return s.onDay(form, text, at)
	}
	return typed.Moment(text, at, at.Location())
}

// onDay is the end of a day that a slip was run on, for the clock that the form must tell; on
// the day itself it is run at the moment.
func (s *Server) onDay(form url.Values, day string, at time.Time) (time.Time, error) {
	if day == at.Format(time.DateOnly) {
		return at, nil
	}
	clock, _, _ := typed.ParseHead(s.Bare, form.Get("words"), &crew.Slip{}) // what is wrong with them is told later
	if clock == "" {
		return at, fmt.Errorf("the slip says its day, %s, but not when: want its clock, as 14:25, among the words", day)
	}
	end, err := time.ParseInLocation(time.DateOnly, day, at.Location())
	return end.Add(24*time.Hour - time.Second), err
}

// notRead is the answer to a form that could not be read into a slip: a question where its
// text is not sure, else why.
func (s *Server) notRead(form url.Values, id, action string, err error) answer {
	u := (*unsure)(nil)
	if !errors.As(err, &u) {
		return refusedFor(id, units.In(err, s.Units))
	}
	a := answer{State: asked, ID: id, Says: "Which lane is yours?"}
	offer := func(label, name, value string) {
		values := maps.Clone(form)
		values.Set(name, value)
		a.Choices = append(a.Choices, choiceOf(label, action, values))
	}
	for i := range u.ends {
		offer(page.BothLanes(u.ends[i:i+1]), oursField, strconv.Itoa(i))
	}
	if len(u.ends) == 0 {
		p, _ := s.words()
		a.Says = p.Printed(u.doubt.Column, u.doubt.Text, u.doubt.Value)
		offer("take it", takenField, form.Get(takenField)+" "+u.doubt.Column)
		offer("leave it out", leftField, form.Get(leftField)+" "+u.doubt.Column)
	}
	return a
}

// choiceOf is a button that sends a form.
func choiceOf(label, action string, values url.Values) choice {
	c := choice{Label: label, Action: action}
	for _, name := range slices.Sorted(maps.Keys(values)) {
		c.Values = append(c.Values, [2]string{name, values.Get(name)})
	}
	return c
}

// tellLane takes the lane and the round of a form, unless its text has told them; was is the
// slip that it amends, if any.
func tellLane(form url.Values, slip *crew.Slip, was crew.Slip) {
	for name, at := range map[string][2]*string{"lane": {&slip.Lane, &was.Lane}, "round": {&slip.Round, &was.Round}} {
		told := form.Get("text") != "" && *at[0] != "" && *at[0] != *at[1]
		if !told && form.Has(name) && (form.Get(name) != "" || was.ID != "") {
			*at[0] = strings.TrimSpace(form.Get(name))
		}
	}
}
