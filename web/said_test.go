package web

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"unspool/proof"
	"unspool/say"
	"unspool/site"
	"unspool/symbol/codabar"
	"unspool/symbol/itf"
	"unspool/unit"
)

// entry is a line of a table of what is said: English to another language, both
// as JSON strings.
var entry = regexp.MustCompile(`^  ("(?:[^"\\]|\\.)*"): ("(?:[^"\\]|\\.)*"),$`)

// german is the German of every text, by its English format.
func german(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, name := range []string{"catalogue.de.js", "said.de.js", "symbols.de.js", "modules.de.js"} {
		src, err := os.ReadFile("assets/" + name)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(src)) {
			m := entry.FindStringSubmatch(strings.TrimRight(line, "\n"))
			if m == nil {
				if strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "  //") {
					t.Errorf("%s: no entry: %s", name, line)
				}
				continue
			}
			var from, to string
			if json.Unmarshal([]byte(m[1]), &from) != nil || json.Unmarshal([]byte(m[2]), &to) != nil {
				t.Errorf("%s: no JSON: %s", name, line)
			}
			if _, twice := all[from]; twice {
				t.Errorf("%s: twice: %s", name, line)
			}
			all[from] = to
		}
	}
	return all
}

// Everything that a proof says has a German form that has the same places for the
// same kinds of arguments, and nothing is translated that is said nowhere.
func TestGermanIsWhole(t *testing.T) {
	all, said := german(t), everythingSaid(t)
	for text, by := range said {
		de, ok := all[text]
		switch {
		case !ok && by.proof && !neutral(text):
			t.Errorf("%s: no German for %q; write it into assets/said.de.js or one beside it", by.where, text)
		case ok && !slices.Equal(holesOf(de), holesOf(text)):
			t.Errorf("%s: %q has the places %v, its German %q has %v", by.where, text, holesOf(text), de, holesOf(de))
		}
	}
	for text := range all {
		if _, ok := said[text]; !ok {
			t.Errorf("the German of %q is for nothing that is said", text)
		}
	}
}

// hole is a verb with the number of its argument where that is written.
var hole = regexp.MustCompile(`%([-+#0]*[0-9]*(?:\.[0-9]+)?)(?:\[(\d+)\])?([a-zA-Z%])`)

// holesOf gives the arguments of a format with their verbs, in the order of the
// arguments. Words that are no format have none.
func holesOf(format string) (out []string) {
	n := 0
	for _, m := range hole.FindAllStringSubmatch(format, -1) {
		if m[3] == "%" {
			continue
		}
		n++
		if m[2] != "" {
			n, _ = strconv.Atoi(m[2])
		}
		out = append(out, fmt.Sprintf("%d %%%s%s", n, m[1], m[3]))
	}
	slices.Sort(out)
	return out
}

// neutral says whether a text is the same in every language: it has no word.
func neutral(format string) bool {
	return !regexp.MustCompile(`[a-z]{2}`).MatchString(hole.ReplaceAllString(format, ""))
}

// speaker is where something is said, and whether a proof can say it.
type speaker struct {
	where string
	proof bool
}

// everythingSaid is every format and every word that stands in the source.
func everythingSaid(t *testing.T) map[string]speaker {
	t.Helper()
	said := map[string]speaker{}
	for _, e := range proof.Catalogue {
		for _, text := range []string{e.Title, e.Source, e.Remedy} {
			said[text] = speaker{"the catalogue, " + e.ID, true}
		}
	}
	words := []fmt.Stringer{site.Front, site.Back, site.Left, site.Right, site.Top, site.Bottom,
		site.Stripe, site.Chip, site.Punch, site.Signature, site.Bump,
		codabar.Mod16, codabar.Luhn, itf.NoCheck, itf.Mod10, itf.Luhn}
	for _, quantity := range []fmt.Stringer{unit.Millimetre, unit.FirstNM} {
		words = append(words, say.Word(say.F("%s", quantity).Holes()[0].Text.Format))
	}
	for _, w := range words {
		said[w.String()] = speaker{fmt.Sprintf("%T", w), true}
	}
	rooms := map[string]bool{}
	roomsOf(t, "proof", rooms)
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || filepath.Dir(path) == filepath.Join("..", "say") {
			return err
		}
		room, _ := filepath.Rel("..", filepath.Dir(path))
		files := token.NewFileSet()
		f, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				saidBy(t, files, call, rooms[filepath.ToSlash(room)], said)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return said
}

// roomsOf gathers a package of the module and all those it imports.
func roomsOf(t *testing.T, room string, rooms map[string]bool) {
	t.Helper()
	if rooms[room] {
		return
	}
	rooms[room] = true
	names, err := filepath.Glob(filepath.Join("..", room, "*.go"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no source of %s: %v", room, err)
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			if next, ours := strings.CutPrefix(strings.Trim(i.Path.Value, `"`), "unspool/"); ours {
				roomsOf(t, next, rooms)
			}
		}
	}
}

// sayers are the calls that say something, with the argument that says it.
var sayers = map[string]int{"say.F": 0, "say.Words": 0, "say.Errorf": 0, "say.Word": 0, "symbol.CannotCarry": 3}

// passedOn are arguments that were counted where they come from.
var passedOn = []string{"do", "About(f.ID).Remedy"}

func saidBy(t *testing.T, files *token.FileSet, call *ast.CallExpr, proof bool, said map[string]speaker) {
	name, ok := call.Fun.(*ast.SelectorExpr)
	if !ok {
		return
	}
	at, ok := sayers[source(name)]
	if !ok || len(call.Args) <= at {
		return
	}
	where := files.Position(call.Pos()).String()
	text, ok := literal(call.Args[at])
	switch {
	case ok:
		said[text] = speaker{where, proof || said[text].proof}
	case proof && !slices.Contains(passedOn, source(call.Args[at])):
		t.Errorf("%s: what is said must stand there as it is said", where)
	}
}

// literal is the text of a string that stands in the source.
func literal(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

// source writes an expression of names and calls as it stands in the source.
func source(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return source(e.X) + "." + e.Sel.Name
	case *ast.CallExpr:
		args := make([]string, len(e.Args))
		for i, a := range e.Args {
			args[i] = source(a)
		}
		return source(e.Fun) + "(" + strings.Join(args, ", ") + ")"
	}
	return ""
}

// What goes to the page fills its format anew to the very English it stands for.
func TestSaidIsTakenApartWhole(t *testing.T) {
	text := say.F("%s on the %s: %d dots, %q", say.F("%.2f pixels", 0.5), site.Back, 41306, "a \"b\"")
	data, err := json.Marshal(sayOf(text))
	if err != nil {
		t.Fatal(err)
	}
	want := `{"say":"%s on the %s: %d dots, %q","args":[{"say":"%.2f pixels","args":[{"n":"0.50"}]},{"say":"back"},{"n":"41306"},"a \"b\""]}`
	if string(data) != want {
		t.Errorf("%s\nwant %s", data, want)
	}
	if sayOf(say.Words("100 %")) != nil {
		t.Error("words are taken apart")
	}
}
