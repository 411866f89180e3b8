package result

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The kinds of figure are those of the pictures that the page draws, each and no other: read
// from its source, since a picture names its kind where it is drawn.
func TestFigureKindsAreThePages(t *testing.T) {
	files, err := filepath.Glob("../report/page/*.go")
	if err != nil {
		t.Fatal(err)
	}
	var drawn []string
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if kind, is := kindOfPicture(n); is {
				word, err := strconv.Unquote(kind)
				if err != nil {
					t.Errorf("%s: the kind %s of a picture is no plain text", name, kind)
				}
				drawn = append(drawn, word)
			}
			return true
		})
	}
	slices.Sort(drawn)
	if drawn = slices.Compact(drawn); !slices.Equal(drawn, figureKinds) {
		t.Errorf("the page draws\n%q, listed are\n%q", drawn, figureKinds)
	}
}

// kindOfPicture is the kind, as it is written, of a picture that n makes.
func kindOfPicture(n ast.Node) (kind string, is bool) {
	made, ok := n.(*ast.CompositeLit)
	if !ok {
		return "", false
	}
	if of, ok := made.Type.(*ast.Ident); !ok || of.Name != "picture" {
		return "", false
	}
	for _, e := range made.Elts {
		pair, ok := e.(*ast.KeyValueExpr)
		if !ok {
			continue
		}
		if key, ok := pair.Key.(*ast.Ident); ok && key.Name == "Kind" {
			if text, ok := pair.Value.(*ast.BasicLit); ok {
				return text.Value, true
			}
			return "", true
		}
	}
	return "", false
}

func TestFigureNames(t *testing.T) {
	for name, ours := range map[string]bool{
		"figures/verdict-lighter.narrow.svg": true, "figures/before.csv": true, "figures/two-further.2.talk.png": true, "figures/verdicts.png": true,
		"figures/pairing.png": false, "figures/energy_balance.png": false, "figures/said.jpg": false, "figures/mine.png": false, "figures/pair/x.png": false,
	} {
		if isOurs(name, nil) != ours {
			t.Errorf("%s: ours: %v", name, !ours)
		}
	}
}
