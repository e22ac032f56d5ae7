package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/table"
	"slipcase/logbook"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// forecastVehicle forecasts a vehicle's next run from its setup, its own runs and
// the air.
func (a *app) forecastVehicle(c *cobra.Command, _ []string, lb *logbook.Logbook) error {
	next, history, err := a.nextRun(c, lb)
	if err != nil {
		return err
	}
	f, err := predict.Expect(history, passOf(next))
	if err != nil {
		return fmt.Errorf("%s: %w", next.Vehicle.ID, err)
	}
	far := farthest(next.Track, f)
	cautions := predict.Cautions(machineOf(next.Vehicle, next.Setup), upTo(f.Quick(), far))
	out := forecastJSON(f, far)
	out["vehicle"], out["setup"], out["track"] = next.Vehicle.ID, next.Setup.Name, next.Track.ID
	out["time"], out["air_how"], out["density_altitude_ft"] = next.Slip.Time, next.Air.How, roundedNumber(densityAltitude(next), toFt)
	warnings := slices.Concat(f.Warnings, next.Air.Remarks, missing(next))
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
		a.say(w, "air", a.airLine(next.Air))
		a.say(w, "forecast from", f.Basis)
		for _, r := range warnings {
			a.say(w, "note", r)
		}
		const shown = 4
		for _, l := range f.LeftOut[:min(shown, len(f.LeftOut))] {
			a.say(w, "left out", "run "+l.ID+": "+l.Why)
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
func (a *app) nextRun(c *cobra.Command, lb *logbook.Logbook) (next logbook.Run, history []predict.Pass, err error) {
	v, err := a.theVehicle(c, lb)
	if err != nil {
		return next, nil, err
	}
	return a.nextRunOf(c, lb, v)
}

// nextRunOf is nextRun of any vehicle, at the command's track and time.
func (a *app) nextRunOf(c *cobra.Command, lb *logbook.Logbook, v logbook.Vehicle) (next logbook.Run, history []predict.Pass, err error) {
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
		history = append(history, passOf(j.Run(s)))
	}
	next = j.Run(logbook.Slip{Vehicle: v.ID, Track: track.ID, Time: logbook.Time{Time: at}})
	next.Missing = slices.DeleteFunc(next.Missing, func(m logbook.Missing) bool { return m.Of != "setup" })
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
		air, remarks, err := r.Air(next.Track.ElevationFt)
		if err != nil {
			return weather.Estimate{}, usage(err)
		}
		doubts, err := doubted(c, r.Doubts(next.Track.ElevationFt))
		if err != nil {
			return weather.Estimate{}, err
		}
		remarks = slices.Concat(remarks, unread(report), doubts)
		return weather.Estimate{Air: air, Known: true, How: "given here", WindMPH: r.WindMPH, WindFromDeg: r.WindFromDeg, Remarks: remarks}, nil
	case next.Track.ID == "":
		return weather.Estimate{How: "no track named: --track"}, nil
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
func forecastJSON(f predict.Forecast, far predict.Mark) map[string]any {
	out := map[string]any{"runs_used": f.RunsUsed, "basis": f.Basis, "warnings": append([]string{}, f.Warnings...)}
	left := []map[string]string{}
	for _, l := range f.LeftOut {
		left = append(left, map[string]string{"id": l.ID, "why": l.Why})
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
		put(fmt.Sprintf("et_%g", m.Ft()), "_s", f.ETs[m], toS)
		put(fmt.Sprintf("mph_%g", m.Ft()), "", f.MPHs[m], toMPH)
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

// airLine says what the air is, and where that is known from.
func (a *app) airLine(air weather.Estimate) string {
	if air.Assumed {
		return fmt.Sprintf("%s, taken as %s", air.How, a.show(units.Length, units.Some(air.Air.DensityAltitudeFt())))
	}
	if !air.Known {
		return "not known: " + strings.TrimPrefix(air.How, "no air: ")
	}
	line := fmt.Sprintf("density altitude %s, %s", a.show(units.Length, units.Some(air.Air.DensityAltitudeFt())), air.How)
	if rise := air.RiseFtPerHour; rise.Known() && (rise.Value() > 50 || rise.Value() < -50) {
		word := "rising"
		if rise.Value() < 0 {
			word, rise = "falling", units.Some(-rise.Value())
		}
		line += fmt.Sprintf(", %s %s an hour", word, a.show(units.Length, rise))
	}
	return line
}
