package units

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestNumberCell(t *testing.T) {
	for _, c := range []struct {
		cell string
		want Number
		ok   bool
	}{
		{"", Number{}, true},
		{"  ", Number{}, true},
		{"0", Some(0), true},
		{" 13.212 ", Some(13.212), true},
		{"-.5", Some(-0.5), true},
		{"1e3", Some(1000), true},
		{"13,212", Number{}, false},
		{"13.2s", Number{}, false},
		{"NaN", Number{}, false},
		{"+Inf", Number{}, false},
		{"infinity", Number{}, false},
		{"0x1p3", Number{}, false},
		{"1_000", Number{}, false},
		{"1e400", Number{}, false},
		{"-", Number{}, false},
	} {
		got := Number{}
		err := got.UnmarshalCSV(c.cell)
		if (err == nil) != c.ok || !got.Equal(c.want) {
			t.Errorf("cell %q = %v, %v; want %v, ok %v", c.cell, got, err, c.want, c.ok)
		}
	}
}

func TestNumberIsKeptWhenACellIsRefused(t *testing.T) {
	n := Some(7)
	if err := n.UnmarshalCSV("x"); err == nil || !n.Equal(Some(7)) {
		t.Errorf("got %v, %v; want 7 and an error", n, err)
	}
	if err := json.Unmarshal([]byte(`"x"`), &n); err == nil || !n.Equal(Some(7)) {
		t.Errorf("got %v, %v; want 7 and an error", n, err)
	}
}

func TestNumberJSON(t *testing.T) {
	type row struct {
		A Number `json:"a"`
		B Number `json:"b,omitzero"`
	}
	for _, c := range []struct {
		row  row
		text string
	}{
		{row{Some(0), Some(1.5)}, `{"a":0,"b":1.5}`},
		{row{}, `{"a":null}`},
	} {
		got, err := json.Marshal(c.row)
		if err != nil || string(got) != c.text {
			t.Errorf("%+v = %s, %v; want %s", c.row, got, err, c.text)
		}
		var back row
		if err := json.Unmarshal(got, &back); err != nil || !cmp.Equal(back, c.row) {
			t.Errorf("%s reads %+v, %v", got, back, err)
		}
	}
	if b, err := json.Marshal(Some(math.NaN())); err == nil {
		t.Errorf("NaN marshals as %s, want an error", b)
	}
}

func TestNumberReadsBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Some(rapid.Float64().Draw(t, "value"))
		if math.IsInf(n.Value(), 0) || math.IsNaN(n.Value()) {
			t.Skip("no reading")
		}
		cell, err := n.MarshalCSV()
		var back Number
		if err2 := back.UnmarshalCSV(cell); err != nil || err2 != nil || !back.Equal(n) {
			t.Fatalf("%v as %q reads %v (%v, %v)", n, cell, back, err, err2)
		}
	})
}

// The zero Number, -0 and NaN are what the way of keeping them could get wrong.
func TestNumberAtTheEdges(t *testing.T) {
	if (Number{}).Known() || Some(0) == (Number{}) || !Some(0).Known() {
		t.Error("zero and absent are taken for each other")
	}
	if Some(math.Copysign(0, -1)) != Some(0) {
		t.Error("-0 is not 0")
	}
	for _, v := range []float64{
		math.NaN(), math.Inf(1), math.Inf(-1), math.SmallestNonzeroFloat64,
		-math.MaxFloat64, math.Inf(1) - math.Inf(1),
	} {
		if n := Some(v); !n.Known() || n.Value() != v && !math.IsNaN(v) || math.IsNaN(n.Value()) != math.IsNaN(v) {
			t.Errorf("%v is kept as %v, known %v", v, n.Value(), n.Known())
		}
	}
}

func TestNumberOr(t *testing.T) {
	if got := (Number{}).Or(3); got != 3 {
		t.Errorf("absent or 3 = %v", got)
	}
	if got := Some(0).Or(3); got != 0 {
		t.Errorf("0 or 3 = %v", got)
	}
}
