package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// forecastVehicle forecasts a vehicle's next run from its setup, its own runs and
// the air.
func (a *app) forecastVehicle(c *cobra.Command, _ []string, lb *crew.Session) error {
	next, history, err := a.nextRun(c, lb)
	if err != nil {
		return err
	}
	f, err := predict.Expect(history, crew.PassOf(next))
	if err != nil {
		return fmt.Errorf("%s: %w", next.Vehicle.ID, err)
	}
	far := farthest(next.Track, f)
	cautions := page.Cautions(predict.Cautions(crew.MachineOf(next.Vehicle, next.Setup), upTo(f.Quick(), far)), a.units)
	out := a.forecastJSON(f, far)
	out["vehicle"], out["setup"], out["track"] = next.Vehicle.ID, next.Setup.Name, next.Track.ID
	out["time"], out["air_how"], out["density_altitude_ft"] = next.Slip.Time, page.AirHow(next.Air.How), roundedNumber(densityAltitude(next), page.ToFt)
	warnings := slices.Concat(page.Notes(f.Notes, a.units), page.AirNotes(next.Air.Notes, a.units), next.Missing)
	out["warnings"] = slices.Concat([]string{}, warnings, cautions)
	t := a.bandTable(f, far)
	a.aside(slices.Concat(warnings, cautions))
	return a.answer(out, t, func(w io.Writer) {
		b := f.ETs[far]
		fmt.Fprintf(w, "%s at %s, %s\n", next.Vehicle.Name(), orDash(next.Track.Name()), when(next.Slip.Time.Time))
		fmt.Fprintf(w, "%s at %g ft, 8 runs in 10 from %.3f to %.3f\n\n", a.runText(f.Centre(), far), far.Ft(), b.Low80, b.High80)
		t.Render(w, table.Text, a.width())
		fmt.Fprintln(w)
		a.say(w, "setup", orDash(next.Setup.Name))
		a.say(w, "air", page.Air(next.Air, a.units))
		a.say(w, "forecast from", page.Basis(f.Basis))
		for _, r := range warnings {
			a.say(w, "note", r)
		}
		const shown = 4
		for _, l := range f.LeftOut[:min(shown, len(f.LeftOut))] {
			a.say(w, "left out", "run "+l.ID+": "+page.LeftOut(l, a.units))
		}
		if more := len(f.LeftOut) - shown; more > 0 {
			a.say(w, "left out", fmt.Sprintf("and %d more: --format json names them", more))
		}
		for _, r := range cautions {
			a.say(w, "caution", r)
		}
	})
}

// nextRun is the run to come of the command's vehicle: the setup in force at its
// time and the air of the flags, or that of the log as it can be known now; and
// the passes made so far.
func (a *app) nextRun(c *cobra.Command, lb *crew.Session) (next logbook.Run, history []predict.Pass, err error) {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return next, nil, err
	}
	return a.nextRunOf(c, lb, v)
}

// nextRunOf is nextRun of any vehicle, at the command's track and time.
func (a *app) nextRunOf(c *cobra.Command, lb *crew.Session, v logbook.Vehicle) (next logbook.Run, history []predict.Pass, err error) {
	track, err := a.theTrack(c, lb)
	if err != nil {
		return next, nil, err
	}
	at, err := a.at(c, "at", a.zone(track))
	if err != nil {
		return next, nil, err
	}
	j, err := lb.Joiner(v.ID)
	if err != nil {
		return next, nil, err
	}
	slips, err := lb.Slips(v.ID)
	if err != nil {
		return next, nil, err
	}
	for _, s := range slips {
		history = append(history, crew.PassOf(j.Run(s)))
	}
	next = j.Run(logbook.Slip{Vehicle: v.ID, Track: track.ID, Time: logbook.Time{Time: at}})
	next.Missing = nil
	if !next.SetupKnown() {
		next.Missing = append(next.Missing, "no setup in force: slipcase setup add")
	}
	next.Air, err = a.airToCome(c, j, next)
	return next, history, err
}

// airToCome is the air of the flags or, without any, that of the log as it can be
// known now.
func (a *app) airToCome(c *cobra.Command, j *logbook.Joiner, next logbook.Run) (weather.Estimate, error) {
	r, report, given, err := reading(c)
	switch {
	case err != nil:
		return weather.Estimate{}, err
	case given:
		air, notes, err := r.Air(next.Track.ElevationFt)
		if err != nil {
			return weather.Estimate{}, usage(err)
		}
		doubts, err := a.doubted(c, r.Doubts(next.Track.ElevationFt))
		if err != nil {
			return weather.Estimate{}, err
		}
		return weather.Estimate{
			Air: air, Known: true, How: weather.How{Kind: weather.Given},
			WindMPH: r.WindMPH, WindFromDeg: r.WindFromDeg, Notes: slices.Concat(notes, report.Notes(), doubts),
		}, nil
	case next.Track.ID == "":
		return weather.Estimate{How: weather.How{Kind: weather.NoTrack}}, nil
	}
	return j.AirAhead(next.Track.ID, a.now(), next.Slip.Time.Time), nil
}

// farthest is the longest distance timed at a track, else the one usually raced.
func farthest(track logbook.Track, f predict.Forecast) predict.Mark {
	far := f.Finish
	if len(track.LengthsFt) == 0 {
		return far
	}
	longest := slices.Max(track.LengthsFt)
	for m := range predict.Marks {
		if m.Ft() <= longest {
			far = m
		}
	}
	return far
}

// upTo leaves out the marks beyond one.
func upTo(s predict.Splits, far predict.Mark) predict.Splits {
	for m := far + 1; m < predict.Marks; m++ {
		s.ETs[m], s.MPHs[m] = units.Number{}, units.Number{}
	}
	return s
}

// forecastJSON is a forecast as other programs read it: each figure with its 50,
// 80 and 95 % intervals, et_1320_s, et_1320_low50_s and so on.
func (a *app) forecastJSON(f predict.Forecast, far predict.Mark) map[string]any {
	out := map[string]any{"runs_used": f.RunsUsed, "basis": page.Basis(f.Basis), "warnings": page.Notes(f.Notes, a.units)}
	left := []map[string]string{}
	for _, l := range f.LeftOut {
		left = append(left, map[string]string{"id": l.ID, "why": page.LeftOut(l, a.units)})
	}
	out["runs_left_out"] = left
	put := func(name, unit string, b predict.Band, decimals int) {
		if b.Centre <= 0 {
			return
		}
		for end, v := range map[string]float64{
			"": b.Centre, "_low50": b.Low50, "_high50": b.High50, "_low80": b.Low80, "_high80": b.High80, "_low95": b.Low95, "_high95": b.High95,
		} {
			out[name+end+unit] = rounded(v, decimals)
		}
	}
	for m := predict.At60; m <= far; m++ {
		put(fmt.Sprintf("et_%g", m.Ft()), "_s", f.ETs[m], page.ToS)
		put(fmt.Sprintf("mph_%g", m.Ft()), "", f.MPHs[m], page.ToMPH)
	}
	return out
}

func (a *app) bandTable(f predict.Forecast, far predict.Mark) table.Table {
	mph := a.suffix(units.Speed)
	t := table.Table{Columns: []table.Column{
		{Head: "ft", Key: "distance_ft", Right: true},
		{Head: "ET", Key: "et_s", Right: true},
		{Head: "8 in 10 from", Key: "et_low80_s", Right: true},
		{Head: "to", Key: "et_high80_s", Right: true},
		{Head: units.Speed.Symbol(a.units), Key: "speed_" + mph, Right: true},
		{Head: "from", Key: "speed_low80_" + mph, Right: true, Drop: 1},
		{Head: "to", Key: "speed_high80_" + mph, Right: true, Drop: 1},
	}}
	for m := predict.At60; m <= far; m++ {
		b, s := f.ETs[m], f.MPHs[m]
		row := []string{fmt.Sprintf("%g", m.Ft()), seconds(units.Some(b.Centre)), seconds(units.Some(b.Low80)), seconds(units.Some(b.High80)), "", "", ""}
		if s.Centre > 0 {
			row[4], row[5], row[6] = a.speed(units.Some(s.Centre)), a.speed(units.Some(s.Low80)), a.speed(units.Some(s.High80))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
