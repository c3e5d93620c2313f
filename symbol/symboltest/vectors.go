package symboltest

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"unspool/symbol"
)

// Vector is one row of symbol/testdata/vectors.csv: what a standard, an open
// source or arithmetic says of a symbol.
type Vector struct{ Kind, Input, Expected, What, Source, Mark string }

// Vectors reads the file and proves its form.
func Vectors(t testing.TB, path string) []Vector {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], ","); got != "symbology,input,expected,what,source,read_or_memory" {
		t.Fatalf("%s: columns %s", path, got)
	}
	var vectors []Vector
	for i, r := range rows[1:] {
		v := Vector{r[0], r[1], r[2], r[3], r[4], r[5]}
		if v.Source == "" || v.Mark != "read" && v.Mark != "computed" && v.Mark != "memory" {
			t.Fatalf("%s row %d: source %q, mark %q", path, i+2, v.Source, v.Mark)
		}
		vectors = append(vectors, v)
	}
	return vectors
}

// Check computes what the rows of some kinds expect, from the folder of a
// symbology.
func Check(t *testing.T, checks map[string]func(t *testing.T, v Vector) string) {
	t.Helper()
	rows := map[string]int{}
	for _, v := range Vectors(t, "../testdata/vectors.csv") {
		check, ok := checks[v.Kind]
		if !ok {
			continue
		}
		rows[v.Kind]++
		if got := check(t, v); got != v.Expected {
			t.Errorf("%s %q: got %s, want %s (%s)", v.Kind, v.Input, got, v.Expected, v.Source)
		}
	}
	if len(rows) != len(checks) {
		t.Errorf("rows of %d kinds, want %d", len(rows), len(checks))
	}
}

// Drawn is the check of a row that expects a module string and says in What how
// wide a wide element is.
func Drawn(encode func(text string) (symbol.Logical, error)) func(*testing.T, Vector) string {
	return func(t *testing.T, v Vector) string {
		n := 3
		if strings.Contains(v.What, "wide=2") {
			n = 2
		}
		text := strings.Replace(v.Input, " + check ", "", 1)
		return Modules(t, Must(t, text, encode), n, 1)
	}
}

// Added is the check of a row that expects the check character of its input.
func Added(encode func(text string) (symbol.Logical, error)) func(*testing.T, Vector) string {
	return func(t *testing.T, v Vector) string {
		return strings.TrimPrefix(Must(t, v.Input, encode).Text, v.Input)
	}
}

// Must encodes a text that can be.
func Must(t testing.TB, text string, encode func(text string) (symbol.Logical, error)) symbol.Logical {
	t.Helper()
	l, err := encode(text)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
