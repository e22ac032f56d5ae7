package page

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/predict"
	"slipcase/weather"
	"slipcase/weather/units"
)

// Every kind has words of its own: the kinds are read from the source of the package that has
// them, so that none can be left out here.
func TestEveryKindHasWords(t *testing.T) {
	const crewDir, predictDir, weatherDir = "../crew", "../../../../predict", "../../../../weather"
	p, us := &Page{Units: units.US}, units.US
	var figure crew.Outlier
	figure.Name, figure.Kind = "dial", units.Seconds
	named := map[string]bool{
		// Said by more than the kind, or asked and not said: tests of their own hold them.
		crewDir + " OfferKind": true, crewDir + " WearErrorKind": true, crewDir + " AlikeKind": true, crewDir + " RoundKind": true,
		predictDir + " BasisKind": true, predictDir + " PullKind": true, predictDir + " CubeRootKind": true,
	}
	for _, c := range []struct {
		dir, kinds string
		words      func(kind string) string
	}{
		{crewDir, "DoubtKind", func(k string) string { return p.Doubt(crew.Doubt{Kind: crew.DoubtKind(k), Outlier: figure}) }},
		{crewDir, "MeantKind", func(k string) string { return p.Meant(crew.Meant{Kind: crew.MeantKind(k)}) }},
		{crewDir, "ChangeNoteKind", func(k string) string { return strings.Join(p.changeNote(changeNote(k)), "") }},
		{crewDir, "DialNoteKind", func(k string) string { return dialNote(crew.DialNote{Kind: crew.DialNoteKind(k)}) }},
		{predictDir, "Equipment", func(k string) string { return equipment[predict.Equipment(k)] }},
		{predictDir, "NoteKind", func(k string) string { return Note(predict.Note{Kind: predict.NoteKind(k)}, us) }},
		{predictDir, "WhyKind", func(k string) string { return whyWords[predict.WhyKind(k)] + " " }}, // wind is "wind"
		{predictDir, "HandWay", func(k string) string { return handWays[predict.HandWay(k)] }},
		{predictDir, "GapKind", func(k string) string { return Gap(predict.Gap{Kind: predict.GapKind(k)}) }},
		{predictDir, "DecisionKind", func(k string) string { return Decision(predict.Decision{Kind: predict.DecisionKind(k)}) }},
		{predictDir, "RoundNoteKind", func(k string) string {
			return strings.Join(RoundNotes([]predict.RoundNote{{Kind: predict.RoundNoteKind(k)}}), "")
		}},
		{weatherDir, "NoteKind", func(k string) string { return AirNote(weather.Note{Kind: weather.NoteKind(k)}, us) }},
		{weatherDir, "HowKind", func(k string) string { return AirHow(weather.How{Kind: weather.HowKind(k)}) }},
	} {
		named[c.dir+" "+c.kinds] = true
		said := map[string]string{}
		for _, kind := range kindsIn(t, c.dir, c.kinds) {
			text := c.words(kind)
			if strings.TrimSpace(text) == "" || text == kind {
				t.Errorf("%s %q has no words", c.kinds, kind)
			}
			if twin := said[text]; twin != "" {
				t.Errorf("%s: %q and %q both say %q", c.kinds, kind, twin, text)
			}
			said[text] = kind
		}
	}
	for _, dir := range []string{crewDir, predictDir, weatherDir} {
		for _, of := range typesOfKinds(t, dir) {
			if !named[dir+" "+of] {
				t.Errorf("%s has kinds of %s, whose words nobody looks at: want a line here", dir, of)
			}
		}
	}
}

// changeNote is one with enough in it to be said.
func changeNote(kind string) crew.ChangeNote {
	return crew.ChangeNote{
		Kind: crew.ChangeNoteKind(kind), Names: []string{"a", "b"}, Err: errors.New("no"),
		Pulled: &crew.Pulled{Rows: make([]crew.DynoRow, 1)},
	}
}

// typesOfKinds are the types of a package that are named for kinds.
func typesOfKinds(t *testing.T, dir string) (names []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?m)^type ([A-Z]\w+Kind) `).FindAllSubmatch(src, -1) {
			names = append(names, string(m[1]))
		}
	}
	return names
}

// kindsIn are the values of the constants of a type, by the files of its package.
func kindsIn(t *testing.T, dir, typeName string) (kinds []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, src, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, is := n.(*ast.ValueSpec)
			if !is {
				return true
			}
			if of, named := spec.Type.(*ast.Ident); named && of.Name == typeName {
				for _, v := range spec.Values {
					if text, is := v.(*ast.BasicLit); is {
						kind, err := strconv.Unquote(text.Value)
						if err != nil {
							t.Fatal(err)
						}
						kinds = append(kinds, kind)
					}
				}
			}
			return true
		})
	}
	if slices.Sort(kinds); len(kinds) < 2 {
		t.Fatalf("%s has %d constants of %s", dir, len(kinds), typeName)
	}
	return kinds
}
