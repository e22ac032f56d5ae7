package notebook

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"reflect"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/logbook"
	"slipcase/weather/units"
)

// Own is what a row of our own export says beside its slip: all that the run was joined with.
type Own struct {
	Vehicle crew.Vehicle
	Track   crew.Track
	Setup   crew.Setup    // its time is zero where none was in force
	Sheet   logbook.Sheet // of the setup's power, without a name where that is from none
}

// ownHeads are headings that together only our own export has.
var ownHeads = []string{"logbook", "id", "time", "vehicle", "et_60_s", "utc_offset_h", "read_id", "setup_from", "round_result"}

// ownColumns are the headings of our own export, by their place; nil where a sheet is another.
func (g *Grid) ownColumns() map[string]int {
	if len(g.Rows) == 0 {
		return nil
	}
	at := map[string]int{}
	for i, f := range g.Rows[0] {
		at[f.Text] = i
	}
	for _, h := range ownHeads {
		if _, there := at[h]; !there {
			return nil
		}
	}
	return at
}

// readOwn reads our own export: nothing is guessed.
func (n *Notebook) readOwn(g *Grid, at map[string]int) {
	n.Own = true
	for r, row := range g.Rows[1:] {
		d := Draft{Sheet: g.Name, Row: strconv.Itoa(r + 2), Own: &Own{}}
		east := ""
		if i := at["utc_offset_h"]; i < len(row) {
			east = row[i].Text
		}
		read := func(record any, prefix string) {
			each(reflect.ValueOf(record).Elem(), func(column string, into reflect.Value) {
				i, there := at[prefix+column]
				if !there || i >= len(row) || row[i].Blank() {
					return
				}
				if err := set(into, row[i], east); err != nil {
					d.Faults = append(d.Faults, Fault{columnName(i), prefix + column, row[i].Text, err, Note})
				}
			})
		}
		read(&d.Slip, "")
		read(&d.Air, "read_")
		read(&d.Own.Setup, "setup_")
		read(&d.Own.Sheet, "sheet_")
		read(&d.Own.Vehicle, "vehicle_")
		read(&d.Own.Track, "track_")
		if d.Slip == (crew.Slip{}) && len(d.Faults) == 0 {
			continue // a blank row
		}
		d.Vehicle, d.Track, d.Hash = d.Slip.Vehicle, d.Slip.Track, d.Slip.ID
		d.Air.Track = d.Slip.Track
		d.Own.Vehicle.ID, d.Own.Track.ID, d.Own.Setup.ID = d.Slip.Vehicle, d.Slip.Track, d.Slip.Setup
		d.Own.Setup.Vehicle, d.Own.Sheet.ID = d.Slip.Vehicle, d.Own.Setup.Power
		if d.Hash == "" || d.Slip.Time.IsZero() {
			d.Faults = append(d.Faults, Fault{Head: "id", Want: errors.New("want the id and the time of an exported run")})
		}
		n.Rows = append(n.Rows, d)
	}
}

// each calls f with the fields of a record, by their columns.
func each(v reflect.Value, f func(column string, into reflect.Value)) {
	for i := range v.NumField() {
		switch field := v.Type().Field(i); {
		case field.Anonymous:
			each(v.Field(i), f)
		case field.Tag.Get("csv") != "":
			f(field.Tag.Get("csv"), v.Field(i))
		}
	}
}

// set reads a cell as a field has it.
func set(into reflect.Value, f Field, east string) error {
	text := Fused(f.Text)
	switch at := into.Addr().Interface().(type) {
	case *crew.Time:
		t, err := time.Parse(time.RFC3339, text)
		if !f.When.IsZero() { // a workbook's times have no zone
			hours, wrong := strconv.ParseFloat(east, 64)
			w := f.When
			zone := time.FixedZone("", int(hours*3600))
			t, err = time.Date(w.Year(), w.Month(), w.Day(), w.Hour(), w.Minute(), w.Second(), 0, zone), wrong
		}
		at.Time = t
		return err
	case *units.Number:
		if f.Number.Known() {
			*at = f.Number
			return nil
		}
		return at.UnmarshalCSV(text)
	case interface{ UnmarshalCSV(string) error }:
		return at.UnmarshalCSV(text)
	case *int:
		_, err := strconv.Atoi(text)
		return err
	}
	if into.Kind() == reflect.String {
		into.SetString(text)
	}
	return nil
}

// Key is what two rows with one setup have in common.
func (o *Own) Key() string {
	var words []string
	each(reflect.ValueOf(&o.Setup).Elem(), func(column string, v reflect.Value) {
		if column != "id" {
			words = append(words, strings.TrimSpace(asText(v)))
		}
	})
	h := sha256.Sum256([]byte(strings.Join(words, "\x1f")))
	return hex.EncodeToString(h[:8])
}

func asText(v reflect.Value) string {
	switch at := v.Interface().(type) {
	case crew.Time:
		return at.UTC().Format(time.RFC3339)
	case units.Number:
		return at.String()
	}
	return v.String()
}
