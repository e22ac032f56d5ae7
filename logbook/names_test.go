package logbook

import (
	"errors"
	"os"
	"strings"
	"testing"
)

func TestNamesAreUniqueWithoutRegardToCase(t *testing.T) {
	lb := start(t)
	err := lb.AddVehicle(&Vehicle{Entry: Entry{ID: "Heron"}, Kind: "car", Aspiration: "natural"})
	if !errors.Is(err, ErrExists) || !strings.Contains(err.Error(), `"heron"`) {
		t.Errorf("Heron beside heron: %v", err)
	}
	if err := lb.AddTrack(&Track{Entry: Entry{ID: "SALTGRASS"}}); !errors.Is(err, ErrExists) {
		t.Errorf("SALTGRASS beside saltgrass: %v", err)
	}
	must(t, lb.AddVehicle(&Vehicle{Entry: Entry{ID: "Kestrel"}, Kind: "car", Aspiration: "natural"}))
	for _, ref := range []string{"heron", "HERON", "Her", "hERo"} {
		if v, err := lb.Vehicle(ref); err != nil || v.ID != "heron" {
			t.Errorf("%s finds %q, %v", ref, v.ID, err)
		}
	}
	if v, err := lb.Vehicle("kestrel"); err != nil || v.ID != "Kestrel" {
		t.Errorf("kestrel finds %q, %v", v.ID, err)
	}
}

func TestNamesThatReadAsNumbers(t *testing.T) {
	lb := start(t)
	for _, name := range []string{"1970", "0812", "1e5", "12", "Inf", "nan", "2026-05-02", "5-2"} {
		if err := lb.AddVehicle(&Vehicle{Entry: Entry{ID: name}, Kind: "car", Aspiration: "natural"}); !errors.Is(
			err,
			ErrNumber,
		) {
			t.Errorf("vehicle %s: %v", name, err)
		}
		if err := lb.AddTrack(&Track{Entry: Entry{ID: name}}); !errors.Is(err, ErrNumber) {
			t.Errorf("track %s: %v", name, err)
		}
	}
	for _, name := range []string{"car-1970", "1970s", "e5", "heron-2"} {
		must(t, lb.AddVehicle(&Vehicle{Entry: Entry{ID: name}, Kind: "car", Aspiration: "natural"}))
	}
	// An older logbook has one: it works, is amended, and is warned of.
	data, err := os.ReadFile(lb.path(vehicles.file))
	must(t, err)
	must(
		t,
		os.WriteFile(lb.path(vehicles.file), append(data, "1970,1,fact,2026-05-02T14:00:00Z,,,car,natural,,,,\n"...), 0o600),
	)
	v, err := lb.Vehicle("1970")
	must(t, err)
	_, err = lb.AmendVehicle(v.ID, func(v *Vehicle) error { v.Body = "sedan"; return nil })
	must(t, err)
	if n := kinds(t, lb)[BadName]; n != 1 {
		t.Errorf("a check warns of %d names", n)
	}
	noneGrave(t, lb)
}
