package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipcase/logbook"
)

// notBought is what a caution calls for that is no change of a plan: papers, and what the
// change itself loads.
var notBought = strings.Fields(`competition-licence chassis-certificate rider-gear tyre-rating
	driveline-with-driveshaft driveline-without-driveshaft driveline-with-chain`)

// TestSafetyOfPlans: each piece of equipment that a caution calls for can be a change of a
// plan, or is known not to be.
func TestSafetyOfPlans(t *testing.T) {
	field, _ := reflect.TypeFor[logbook.Planned]().FieldByName("Safety")
	can := strings.Fields(field.Tag.Get("oneof"))
	file, err := parser.ParseFile(token.NewFileSet(), "../../predict/caution.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	called := 0
	ast.Inspect(file, func(n ast.Node) bool {
		spec, is := n.(*ast.ValueSpec)
		if !is || spec.Type == nil || len(spec.Values) != 1 {
			return true
		}
		kind, isName := spec.Type.(*ast.Ident)
		value, isText := spec.Values[0].(*ast.BasicLit)
		if !isName || !isText || kind.Name != "Equipment" {
			return true
		}
		called++
		what, err := strconv.Unquote(value.Value)
		if err != nil {
			t.Fatal(err)
		}
		if slices.Contains(can, what) == slices.Contains(notBought, what) {
			t.Errorf("%s: want it among the words of logbook.Planned.Safety, or among what is not bought", what)
		}
		return true
	})
	if called < 20 || len(can) < 10 {
		t.Errorf("%d pieces of equipment, %d words", called, len(can))
	}
}
