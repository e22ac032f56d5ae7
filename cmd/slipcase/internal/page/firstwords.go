package page

import (
	"errors"
	"fmt"
	"io"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/weather/units"
)

// LogbookThere adds to the error that a folder holds a logbook already how its racer comes by the
// other units.
func (p *Page) LogbookThere(err error) error {
	var there *crew.ThereError
	if !errors.As(err, &there) {
		return err
	}
	other := [...]units.System{units.US: units.Metric, units.Metric: units.US}[there.Units]
	if !there.Recorded {
		return fmt.Errorf("%w; it is empty still: slipcase init --units %s makes it %[2]s", err, other)
	}
	return fmt.Errorf(units.Examples(other, "%w, with records in it: type the unit with a figure, "+
		"as {88F or 3450lb|31C or 1565kg}, and look at it with --units %s; "+
		"or begin another: slipcase init --units %[2]s --logbook FOLDER"), err, other)
}

// LogbookMade tells where a new logbook is, and what to type into it.
func (p *Page) LogbookMade(dir string) error {
	t := table.Table{Columns: []table.Column{{Head: "logbook", Key: "logbook"}, {Head: "units", Key: "units"}}}
	t.Add(dir, p.Units.String())
	return p.Answer(logbookJSON{dir, p.Units.String()}, t, func(w io.Writer) {
		fmt.Fprintf(w, "made a logbook in %s\n", dir)
		if p.Units == units.Metric {
			fmt.Fprint(w, "  bare numbers are metric: 31 is 31 C, a weight kg, a speed km/h, a length m\n")
		} else {
			fmt.Fprint(w, "  bare numbers are US: 88 is 88 F, a weight lb; metric: slipcase init --units metric\n")
		}
		fmt.Fprintf(w, `  next, the car or bike   slipcase vehicle add heron --kind car --aspiration natural
  then where you race     slipcase track add saltgrass --elevation %s
`, p.typed(units.Length, 812))
	})
}

type logbookJSON struct {
	Logbook string `json:"logbook"`
	Units   string `json:"units"` // what is shown, and what bare numbers mean
}

// DemoBegun says before anything else that the demo is invented.
func (p *Page) DemoBegun() {
	fmt.Fprint(p.Out, "An invented season: no such car, motorcycle, track or meet exists.\n")
}

// DemoTyped tells what the demo typed into its logbook.
func (p *Page) DemoTyped(commands int) {
	fmt.Fprintf(p.Out, "%d commands typed: two vehicles, two tracks, three meets, the air and the slips.\n", commands)
}

// DemoStop shows a command of the demo and the question that it answers.
func (p *Page) DemoStop(question, command string) {
	fmt.Fprintf(p.Out, "\n%s\n$ slipcase %s\n", question, command)
}

// DemoDone tells where the demo's logbook and the report of it are, for the racer to go on
// with.
func (p *Page) DemoDone(dir, report string) {
	fmt.Fprintf(p.Out, `
The logbook is in %[1]s
It is yours to play with, and any spreadsheet opens it. Type next:
  slipcase slip list --logbook %[1]s
  slipcase forecast --vehicle plover --track highmesa --temp 75F --rh 30 --station 24.9inHg --logbook %[1]s
The season as a page for your browser: %[2]s
Your own log starts with   slipcase init
`, dir, report)
}

// FirstWords are for whoever has no logbook yet.
func (p *Page) FirstWords() {
	p.Wrap(p.Out, "slipcase keeps your time slips, corrects them for the air and forecasts the next run.")
	fmt.Fprintf(p.Out, `  see it work     slipcase demo
  start a log     slipcase init
                  slipcase init --units metric   (C, hPa, kg, km/h)
  just a formula  slipcase forecast --weight %s --power %s
  all commands    slipcase --help
`, p.typed(units.Weight, 3450), p.typed(units.Power, 312))
}

// Greeting tells what there is, and what to type next.
func (p *Page) Greeting(dir string, slips []crew.Slip, due []crew.Worn) {
	fmt.Fprintf(p.Out, "logbook        %s, %d %s\n", dir, len(slips), Plural(len(slips), "slip", "slips"))
	if len(slips) > 0 {
		last := slips[len(slips)-1]
		fmt.Fprintf(p.Out, "last slip      %s at %s, %s\n",
			table.Clean(last.Vehicle), table.Clean(last.Track), When(last.Time.Time))
	}
	if words := Due(due); words != "" {
		fmt.Fprintf(p.Out, "due            %s\n", words)
	}
	fmt.Fprint(p.Out, `type a slip    slipcase slip add
all runs       slipcase correct
all commands   slipcase --help
`)
}
