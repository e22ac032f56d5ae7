//go:build linux

package main

import ("slipcase/logbook";"testing";"strings";"fmt";"time")

func TestZZBatch(t *testing.T) {
	dir := crowded(t, 400)
	var lines strings.Builder
	at := time.Date(2024, 6, 10, 9, 0, 0, 0, time.UTC)
	for i := range 200 {
		off := float64(i%37) / 1000
		fmt.Fprintf(&lines, "%s .0%02d %.3f %.3f %.3f@83.77 %.3f %.3f@105.%02d\n",
			at.Add(time.Duration(i)*20*time.Minute).Format("2006-01-02 15:04"), 30+i%31, 1.912+off/7, 5.437+off/3, 8.412+off/2, 10.980+off, 13.212+off, 70+i%29)
	}
	var o, e strings.Builder
	a := &app{in: strings.NewReader(lines.String()), out: &o, errOut: &e, now: time.Now, newID: logbook.NewID}
	began := time.Now()
	status := a.run(t.Context(), []string{"slip", "add", "--vehicle", "heron", "--track", "saltgrass", "-", "--logbook", dir})
	t.Log(time.Since(began), status, e.String())
}
