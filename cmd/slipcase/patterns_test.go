package main

import (
	"go/ast"
	"go/token"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestPatternsCompile: a pattern is compiled when it is first asked, which may be at the track;
// here every one that stands in the house is. Those put together while the program runs are
// compiled by the tests of what asks them.
func TestPatternsCompile(t *testing.T) {
	plain, others := 0, 0
	eachSource(t, func(path string, _ []byte) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		ast.Inspect(parsed(t, path), func(n ast.Node) bool {
			call, is := n.(*ast.CallExpr)
			if !is || len(call.Args) != 1 {
				return true
			}
			of, is := call.Fun.(*ast.SelectorExpr)
			if from, named := written(of, is); !named || from != "pattern.Of" {
				return true
			}
			text, ok := literal(call.Args[0])
			if !ok {
				others++
				return true
			}
			plain++
			if _, err := regexp.Compile(text); err != nil {
				t.Errorf("%s: %v", path, err)
			}
			return true
		})
	})
	if t.Logf("%d patterns, %d put together", plain, others); plain < 50 || others > 20 {
		t.Errorf("%d patterns, %d put together: want most of them as they stand", plain, others)
	}
}

// written is a selector as it is written, of a package's name.
func written(s *ast.SelectorExpr, is bool) (text string, named bool) {
	if !is {
		return "", false
	}
	from, named := s.X.(*ast.Ident)
	if !named {
		return "", false
	}
	return from.Name + "." + s.Sel.Name, true
}

// literal is the text of a string, or of several added up.
func literal(e ast.Expr) (text string, ok bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil
	case *ast.BinaryExpr:
		left, some := literal(e.X)
		right, all := literal(e.Y)
		return left + right, some && all && e.Op == token.ADD
	}
	return "", false
}
