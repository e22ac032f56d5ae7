package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// whatCounts are ways to ask the commands that reckon, each a whole command line.
var whatCounts = []string{
	"forecast --weight 3450 --power 312",
	"forecast --weight 3450 --power 312 --power-at clutch",
	"forecast --weight 3450 --power 312 --temp 90F --rh 50 --station 28.92inHg",
	"forecast --weight 3450 --power 312 --temp 90F --rh 50 --altimeter 29.92inHg --elevation 1200ft",
	"forecast --weight 3450 --power 312 --aspiration turbocharged --temp 90F --rh 50 --station 28.92inHg",
	"forecast --weight 3450 --et 13.2",
	"forecast --weight 3450 --mph 105.8",
	"forecast --weight 3450 --et 13.2 --temp 90F --rh 50 --station 28.92inHg",
	"forecast --vehicle heron --track saltgrass",
	"forecast --vehicle heron --track saltgrass --temp 90F --rh 50 --station 28.92inHg",
	"forecast --vehicle heron --track saltgrass --temp 90F --rh 50 --station 28.92inHg --wind 5mph --wind-from 40",
	"dial --vehicle heron --track saltgrass --temp 90F --rh 50 --station 28.92inHg",
	"air calc --temp 90F --rh 50 --station 28.92inHg",
	"forecast --vehicle heron --track saltgrass --gain 90hp",
	"forecast --vehicle heron --track saltgrass --gain 12%",
	"forecast --vehicle heron --track saltgrass --lose 40lb",
	"forecast --vehicle heron --track saltgrass --grip 5%",
	"forecast --vehicle heron --track saltgrass --before stock --after carb",
	"forecast --vehicle heron --track saltgrass --rear 4.3",
	"forecast --vehicle heron --track saltgrass --target 11.99",
	"gearing --rpm 6500 --tire 28in --rear 4.10",
	"gearing --rpm 6500 --mph 105 --tire 28in --rear 4.10",
	"gearing --vehicle heron --track saltgrass --rpm 6300 --tire 28in",
	"boost 6psi --blower roots",
	"boost 6psi --blower turbo",
	"boost 8psi --blower turbo --boost-now 4psi",
	"boost --boost-now 6psi --pulley 1.1 --blower roots",
	"boost 6psi --blower roots --temp 90F --rh 50 --station 28.92inHg",
	"correct",
	"correct --vehicle heron",
}

// sampleValues are values of flags that are no default, in words that each flag takes.
var sampleValues = map[string][]string{
	"vehicle": {"heron"}, "track": {"hilltop"}, "at": {"2026-06-01 09:30", "2026-05-03 06:30"}, "lane": {"left"}, "why": {"true"},
	"weight": {"3300lb"}, "power": {"290hp"}, "power-at": {"clutch", "wheels"}, "standard": {"din", "none"},
	"loss": {"22"}, "kind": {"motorcycle"}, "aspiration": {"turbocharged", "supercharged"}, "drive": {"all"},
	"et": {"13.4"}, "mph": {"104.2"}, "elevation": {"2500ft"},
	"temp": {"70F"}, "rh": {"20"}, "dew-point": {"40F"}, "wet-bulb": {"60F"}, "station": {"28.1inHg"},
	"altimeter": {"29.5inHg"}, "sea-level": {"29.6inHg"}, "da": {"3000ft"}, "wind": {"12mph"}, "wind-from": {"30"},
	"metar": {"KXXX 021853Z 24012KT 10SM CLR 31/18 A2995"},
	"gain":  {"40hp"}, "lose": {"60lb"}, "grip": {"8%"}, "before": {"stock"}, "after": {"carb"}, "target": {"12.1"},
	"before-is": {"din"}, "after-is": {"din"}, "shift": {"4200-5900"}, "tire-rating": {"81mph"},
	"rpm": {"6000"}, "tire": {"26in"}, "rear": {"3.9"}, "top": {"0.8"}, "slip": {"4"},
	"boost": {"7psi"}, "blower": {"screw"}, "boost-now": {"3psi"}, "pulley": {"1.2"}, "efficiency": {"64"},
	"intercooler": {"60"}, "held": {"absolute"}, "claim": {"55%"},
	"stall": {"4400"}, "shift-at": {"5600"},
	"plot": {"true"}, "distance": {"660"}, "hold": {".03"}, "index": {"12.9"}, "risk": {"10"}, "stop": {"1.32"},
	"opponent": {"dial 12.40 reaction .042 sd .020 et 12.43 sd .03"}, "reaction": {".050 sd .010"},
	"perfect-reaction": {"0.5"}, "class": {"heads-up"}, "both-red": {"worst"},
}

// withoutEffect are flags that need not change an answer: force takes what looks wrong, and
// nothing of these does.
var withoutEffect = []string{"force", "help"}

// A flag changes the answer or is refused, whatever else is asked: each flag of each command
// that reckons is added to each way of asking. Nothing is known here of what a flag does.
func TestEveryFlagCounts(t *testing.T) {
	leftToFullRun(t)
	dir := filepath.Join(t.TempDir(), "log")
	words := func(line string) []string {
		w, err := splitWords(line)
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	sheet := func(name string, times float64) string {
		path := filepath.Join(t.TempDir(), name+".csv")
		rows := fmt.Sprintf("rpm,hp\n3000,%.1f\n4000,%.1f\n5000,%.1f\n6500,%.1f\n", 160*times, 220*times, 265*times, 300*times)
		if err := os.WriteFile(path, []byte(rows), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for _, line := range []string{
		"init",
		"vehicle add heron --kind car --drive rear",
		"track add saltgrass --elevation 812ft --length 660ft,1320ft --heading 40",
		"track add hilltop --elevation 3100ft --length 1320ft --heading 40",
		"setup add --vehicle heron --from 2026-04-01 --weight 3450lb --power 312hp --power-at wheels --standard sae",
		"air add --track saltgrass --at 2026-05-02T14:05 --temp 84F --rh 50 --station 28.90inHg",
		"slip add --vehicle heron --track saltgrass --at 2026-05-02T14:10 --60 1.95 --660 8.19@85.5 --1320 12.81@105.8 --lane right",
		"slip add --vehicle heron --track saltgrass --at 2026-05-02T14:40 --60 1.96 --660 8.20@85.4 --1320 12.83@105.6 --lane left",
		"vehicle add wren --kind car --drive front",
		"setup add --vehicle wren --from 2026-04-01 --weight 2500lb --power 150hp --power-at wheels --standard sae",
		"slip add --vehicle wren --track saltgrass --at 2026-05-02T14:20 --660 9.9@71 --1320 15.4@90",
		"power add stock --vehicle heron --power-at wheels --standard sae --sheet " + sheet("stock", 1),
		"power add carb --vehicle heron --power-at wheels --standard sae --sheet " + sheet("carb", 1.1),
		"setup add --vehicle heron --from 2026-05-03 --rear 4.1 --tire 28in --stall 4000 --shift-at 5800 --sheet stock",
	} {
		if status, out, said := runLine(t, append(words(line), "--logbook", dir)...); status != exitDone {
			t.Fatalf("%s: %d %s%s", line, status, out, said)
		}
	}
	a := &app{}
	root := a.command()
	for _, base := range whatCounts {
		args := words(base)
		c, _, err := root.Find(args)
		if err != nil {
			t.Fatal(err)
		}
		formats := []string{"json", "table"} // a plot is of a table alone
		var was [2]string
		ask := func(i int, more ...string) (int, string) {
			status, out, said := runLine(t, slices.Concat(args, more, []string{"--format", formats[i], "--logbook", dir})...)
			return status, out + said
		}
		for i := range formats {
			var status int
			if status, was[i] = ask(i); status != exitDone {
				t.Fatalf("%s: %d %s", base, status, was[i])
			}
		}
		eachOwnFlag(c, func(f *pflag.Flag) {
			if slices.Contains(withoutEffect, f.Name) || slices.Contains(args, "--"+f.Name) {
				return
			}
			values := sampleValues[f.Name]
			if values == nil {
				t.Errorf("--%s of %s: no value to try", f.Name, c.CommandPath())
			}
			same := true
			for _, v := range values {
				for i := range formats {
					status, is := ask(i, "--"+f.Name+"="+v)
					if status == exitCould {
						t.Errorf("%s --%s %s: %s", base, f.Name, v, is)
					}
					if same = same && status == exitDone && is == was[i]; !same {
						break
					}
				}
			}
			if same {
				t.Errorf("%s: --%s %s is taken and does nothing", base, f.Name, strings.Join(values, ", "))
			}
		})
	}
}

func eachOwnFlag(c *cobra.Command, do func(f *pflag.Flag)) { c.LocalNonPersistentFlags().VisitAll(do) }
