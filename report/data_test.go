package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"unspool/proof"
	"unspool/schema"
)

func writeJSON(t testing.TB, s *proof.Summary, cards []proof.Card) []byte {
	t.Helper()
	var b bytes.Buffer
	j := NewJSON(&b, s.Codes, s.Readers)
	for _, c := range cards {
		if err := j.Add(c); err != nil {
			t.Fatal(err)
		}
	}
	if err := j.Close(s); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// proofSchema is the published schema, itself checked against its own draft by
// the library that compiles it.
func proofSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Proof))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("proof.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("proof.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What is written fits the published schema (JSON Schema 2020-12, by
// github.com/santhosh-tekuri/jsonschema).
func TestJSONFitsSchema(t *testing.T) {
	s := proofSchema(t)
	var summary bytes.Buffer
	if err := SummaryJSON(&summary, littleResin()); err != nil {
		t.Fatal(err)
	}
	unknown := right()
	unknown.Programme.Ribbon.Yield, unknown.Programme.Ribbon.Pitch, unknown.Need.Rolls, unknown.Need.Cost = 0, 0, 0, 0
	for name, doc := range map[string][]byte{
		"right": writeJSON(t, right(), cards()[:1]), "too much": writeJSON(t, muchResin(), nil), "too little": writeJSON(t, littleResin(), cards()),
		"yield unknown": writeJSON(t, unknown, nil), "summary": summary.Bytes(),
	} {
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(doc))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := s.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if bytes.Contains(summary.Bytes(), []byte("00417")) {
		t.Error("a summary names a card by its key")
	}
}

// The schema refuses what is not so: one change each.
func TestSchemaRefuses(t *testing.T) {
	s := proofSchema(t)
	good := string(writeJSON(t, littleResin(), cards()))
	for _, c := range []struct{ old, new string }{
		{`"verdict":"does not read"`, `"verdict":"fails"`},
		{`"level":"stop"`, `"level":"error"`},
		{`"row":1,`, `"row":0,`},
		{`"unspool": 1`, `"unspool": 2`},
		{`"id":"no-carbon",`, `"id":"no-carbon","extra":1,`},
		{`"key":"00417",`, ``},
		{`"text":"3.6/05/940"`, `"text":"A"`},
		{`"cost":"18.60"`, `"cost":18.6`},
	} {
		if !strings.Contains(good, c.old) {
			t.Fatalf("%s is not written", c.old)
		}
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(strings.Replace(good, c.old, c.new, 1)))
		if err != nil {
			t.Fatal(err)
		}
		if s.Validate(v) == nil {
			t.Errorf("%s for %s passes", c.new, c.old)
		}
	}
}

// Rows count from 1, keys and figures arrive whole, what is no number is null.
func TestJSONSaysIt(t *testing.T) {
	var doc struct {
		Cards []struct {
			Row      int
			Key      string
			Readings []struct {
				Code, Reader, Verdict, Cause string
				Worst                        *struct {
					MOD    *float64
					Rmin   float64
					Grades map[string]float64
				} `json:"worst_scan"`
			}
			Findings []struct{ ID, Level, Source, Remedy string }
		}
		Summary struct{ Findings []struct{ Rows []int } }
	}
	if err := json.Unmarshal(writeJSON(t, littleResin(), cards()), &doc); err != nil {
		t.Fatal(err)
	}
	if len(doc.Cards) != 2 || doc.Cards[0].Row != 1 || doc.Cards[0].Key != "00417" || doc.Cards[1].Key != "=2+5" {
		t.Fatalf("cards: %+v", doc.Cards)
	}
	good, bad := doc.Cards[0].Readings[0], doc.Cards[1].Readings[0]
	if good.Code != "number" || good.Reader != "Quay clock" || good.Verdict != "reads" || good.Worst.Rmin != 0.041 || *good.Worst.MOD != 0.7308 ||
		good.Worst.Grades["decodability"] != 3.6 || len(good.Worst.Grades) != 8 {
		t.Errorf("good reading: %+v", good)
	}
	if bad.Verdict != "does not read" || bad.Cause != "no-carbon" || bad.Worst.MOD != nil {
		t.Errorf("bad reading: %+v", bad)
	}
	if f := doc.Cards[1].Findings[0]; f.ID != "no-carbon" || f.Level != "stop" || f.Source == "" || f.Remedy == "" {
		t.Errorf("finding: %+v", f)
	}
	if r := doc.Summary.Findings[0].Rows; len(r) != 12 || r[0] != 1 {
		t.Errorf("rows of the first finding: %v", r)
	}
}

// broken is a writer that takes only so many bytes.
type brokenWriter struct{ left int }

var errFull = errors.New("disk full")

func (b *brokenWriter) Write(p []byte) (int, error) {
	if len(p) > b.left {
		return 0, errFull
	}
	b.left -= len(p)
	return len(p), nil
}

// An error of the writer comes back.
func TestWritersReportErrors(t *testing.T) {
	s := littleResin()
	for _, left := range []int{0, 5000} {
		j, c := NewJSON(&brokenWriter{left}, s.Codes, s.Readers), NewCSV(&brokenWriter{left}, s.Codes, s.Readers)
		for range 20 {
			for _, card := range cards() {
				// The error may come only once a buffer is full; Close has the last word.
				_, _ = j.Add(card), c.Add(card)
			}
		}
		if err := j.Close(s); !errors.Is(err, errFull) {
			t.Errorf("JSON, %d bytes: %v", left, err)
		}
		if err := c.Close(); !errors.Is(err, errFull) {
			t.Errorf("CSV, %d bytes: %v", left, err)
		}
	}
}

func writeCSV(t testing.TB, cards []proof.Card) (raw string, records [][]string) {
	t.Helper()
	var b bytes.Buffer
	s := littleResin()
	c := NewCSV(&b, s.Codes, s.Readers)
	for _, card := range cards {
		if err := c.Add(card); err != nil {
			t.Fatal(err)
		}
	}
	if err := c.Close(); err != nil {
		t.Fatal(err)
	}
	raw = b.String()
	records, err := csv.NewReader(strings.NewReader(raw)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return raw, records
}

// A line a card, as long as the heading, ended by CR LF (RFC 4180 section 2).
func TestCSV(t *testing.T) {
	raw, rec := writeCSV(t, cards())
	if n := strings.Count(raw, "\r\n"); n != 3 || strings.Count(raw, "\n") != n {
		t.Errorf("%d lines end in CR LF, %d in LF", n, strings.Count(raw, "\n"))
	}
	at := func(row int, column string) string {
		i := slices.Index(rec[0], column)
		if i < 0 {
			t.Fatalf("no column %q in %q", column, rec[0])
		}
		return rec[row][i]
	}
	for _, c := range []struct {
		row          int
		column, want string
	}{
		{1, "row", "1"}, {1, "key", "00417"}, {2, "key", "'=2+5"},
		{1, "number at Quay clock", "reads"}, {2, "number at Quay clock", "does not read"}, {1, "stores at Quay clock", "not meant for it"},
		{1, "stop", ""}, {2, "stop", "no-carbon (number, Quay clock)"}, {2, "look", "text-in-dye (name); nothing-in-resin"},
		{2, "note", "margin (number, Quay clock); text-shrunk (name)"},
		{1, "number at Quay clock, grade", "3.6/05/940"}, {1, "number at Quay clock, Rmin", "0.041"}, {1, "number at Quay clock, MOD", "0.7308"},
		{1, "number at Quay clock, decodability", "0.58"}, {1, "number at Quay clock, quiet zone right X", "11.2"},
		{1, "number at Quay clock, grades by parameter", "decode 4; minimum reflectance 4; minimum edge contrast 4; symbol contrast 4; modulation 4; defects 4; decodability 3.6; quiet zone 4"},
		{2, "number at Quay clock, cause", "no-carbon"}, {2, "number at Quay clock, MOD", ""},
	} {
		if got := at(c.row, c.column); got != c.want {
			t.Errorf("row %d, %s: %q, want %q", c.row, c.column, got, c.want)
		}
	}
}

// No cell begins as a formula does (OWASP, CSV injection), and taking one
// leading apostrophe off gives the text back.
func TestCSVIsHarmless(t *testing.T) {
	for _, key := range []string{"=1+1", "+49", "-3", "@x", "\tx", "\rx", "\nx", "'quoted", "＝1", "plain", "", "a=b", "two\r\nlines", `say "so", then`} {
		card := cards()[0]
		card.Key = key
		_, rec := writeCSV(t, []proof.Card{card})
		got := rec[1][1]
		// The reader of encoding/csv turns CR LF within quotes into LF.
		want := strings.ReplaceAll(key, "\r\n", "\n")
		if strings.ContainsAny(got[:min(1, len(got))], "=+-@\t\r\n") {
			t.Errorf("%q comes out as %q", key, got)
		}
		if back := strings.TrimPrefix(got, "'"); back != want {
			t.Errorf("%q comes back as %q", key, back)
		}
	}
}

func TestDataSameBytes(t *testing.T) {
	if !bytes.Equal(writeJSON(t, littleResin(), cards()), writeJSON(t, littleResin(), cards())) {
		t.Error("proof.json differs from one time to the next")
	}
	a, _ := writeCSV(t, cards())
	if b, _ := writeCSV(t, cards()); a != b {
		t.Error("cards.csv differs from one time to the next")
	}
}

func BenchmarkJSONCard(b *testing.B) {
	s, c := littleResin(), cards()[1]
	j := NewJSON(io.Discard, s.Codes, s.Readers)
	for b.Loop() {
		if err := j.Add(c); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCSVCard(b *testing.B) {
	s, card := littleResin(), cards()[1]
	c := NewCSV(io.Discard, s.Codes, s.Readers)
	for b.Loop() {
		if err := c.Add(card); err != nil {
			b.Fatal(err)
		}
	}
}
