package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"unspool/design"
	"unspool/proof"
)

// gangway is a card with two-dimensional codes: a QR Code in resin, a Data Matrix
// mixed from dyes, a PDF417, and bars beside them.
const gangway = `unspool: 1
name: Gangway cards
printer: {dpi: 300}
ribbon: {panels: YMCKO, resin: carbon}
black: none
faces:
  front:
    - {name: quay, code: qr, text: "S{number} Sundhaven", box: [4, 4, 24, 24], backing: true, send: resin}
    - {name: stores, code: datamatrix, text: "{number}", box: [32, 4, 20, 20], backing: true}
    - {name: ticket, code: pdf417, text: "{number} Sundhaven", box: [4, 32, 40, 18], backing: true, send: resin}
    - {name: bars, code: code39, text: "{number}", box: [46, 36, 38, 10], backing: true, send: resin}
readers:
  - {name: camera, kind: camera, light: 660, accepts: [qr, datamatrix, pdf417, code39], min-x: 0.15}
  - {name: gate, kind: camera, light: 940, accepts: [qr, datamatrix, pdf417, code39], min-x: 0.15}
roster: {file: crew.csv, key: number}
`

// crewman is a row of a roster.
type crewman map[string]string

func (c crewman) Field(name string) string { return c[name] }

// proveGangway proves one card of it.
func proveGangway(t *testing.T) (*proof.Summary, proof.Card) {
	t.Helper()
	p, err := design.Parse("programme.yaml", []byte(gangway))
	if err != nil {
		t.Fatal(err)
	}
	pf, err := proof.New(p, nil, proof.Options{})
	if err != nil {
		t.Fatal(err)
	}
	row := proof.Row{Key: "004217", Person: p.Person(crewman{"number": "004217"})}
	card, err := pf.Worker().Card(0, row)
	if err != nil {
		t.Fatal(err)
	}
	tally := pf.Tally()
	tally.Add(card)
	return tally.Summary(), card
}

// Of a two-dimensional code proof.json has modules and a grading by ISO/IEC 15415
// in place of a scan, and fits the published schema, which takes no reading with
// both.
func TestJSONOfTwoDimensionalCodes(t *testing.T) {
	s, card := proveGangway(t)
	data := writeJSON(t, s, []proof.Card{card})
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if err := proofSchema(t).Validate(v); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Cards []struct {
			Readings []struct {
				Code, Reader, Verdict string
				Worst                 *json.RawMessage `json:"worst_scan"`
				Quality               *struct {
					Edition, Deciding string
					Decoded           bool
					Figures           []struct {
						Parameter, Words string
						Grade            float64
					}
					Segments []struct{ Name string }
				}
			}
			Drawn []struct {
				Code    string
				Modules *struct {
					Across, Down int
					X, Y         float64
					Symbol       string
				}
			}
		}
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	for _, r := range doc.Cards[0].Readings {
		if square := r.Code == "quay" || r.Code == "stores"; (r.Quality != nil) != (r.Code != "bars") || (r.Worst != nil) != (r.Code == "bars") || r.Quality != nil && r.Quality.Decoded && (len(r.Quality.Segments) > 0) != square {
			t.Errorf("%s at %s: %+v", r.Code, r.Reader, r.Quality)
		}
		if q := r.Quality; q != nil && (q.Edition != "ISO/IEC 15415:2011" || len(q.Figures) < 3 || q.Figures[0].Parameter != "decode") {
			t.Errorf("%s at %s: %+v", r.Code, r.Reader, q)
		}
		if want := r.Code != "stores" || r.Reader == "camera"; want != (r.Verdict == "reads") {
			t.Errorf("%s at %s: %s", r.Code, r.Reader, r.Verdict)
		}
	}
	// Version 2 of QR Code has 25 modules a side (ISO/IEC 18004 Table 1).
	if m := doc.Cards[0].Drawn[0].Modules; m == nil || m.Across != 25 || m.Down != 25 || !strings.HasPrefix(m.Symbol, "version 2-M") || m.X != m.Y {
		t.Errorf("modules of the QR Code: %+v", m)
	}
	if m := doc.Cards[0].Drawn[2].Modules; m == nil || m.Y < 3*m.X-1e-3 { // ISO/IEC 15438 5.8.2
		t.Errorf("modules of the PDF417: %+v", m)
	}
	both := strings.Replace(string(data), `"quality":`, `"worst_scan":null,"quality":`, 1)
	if v, err = jsonschema.UnmarshalJSON(strings.NewReader(both)); err != nil {
		t.Fatal(err)
	}
	if proofSchema(t).Validate(v) == nil {
		t.Error("a reading with a scan and a grading fits the schema")
	}
}

// cards.csv has no figure of a scan for what is not scanned.
func TestCSVOfTwoDimensionalCodes(t *testing.T) {
	s, card := proveGangway(t)
	var b bytes.Buffer
	c := NewCSV(&b, s.Codes, s.Readers)
	if err := c.Add(card); err != nil {
		t.Fatal(err)
	}
	if err := c.Close(); err != nil {
		t.Fatal(err)
	}
	rec, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(column string) string { return rec[1][slices.Index(rec[0], column)] }
	for _, code := range []string{"quay", "ticket"} {
		for _, no := range []string{"ECmin", "MOD", "defects", "decodability", "quiet zone left X", "quiet zone right X"} {
			if v := at(code + " at gate, " + no); v != "" {
				t.Errorf("%s: %s is %q", code, no, v)
			}
		}
		for _, yes := range []string{"grade", "Rmin", "Rmax", "SC"} {
			if at(code+" at gate, "+yes) == "" {
				t.Errorf("%s: no %s", code, yes)
			}
		}
		if g := at(code + " at gate, grades by parameter"); !strings.HasPrefix(g, "decode 4 (1); ") || !strings.Contains(g, "unused error correction 4 (1)") {
			t.Errorf("%s: %q", code, g)
		}
	}
	if g := at("bars at gate, grades by parameter"); !strings.Contains(g, "quiet zone 4") {
		t.Errorf("bars: %q", g)
	}
}

// The report shows the figures of a two-dimensional code and of what modules it
// is made.
func TestPageOfTwoDimensionalCodes(t *testing.T) {
	s, _ := proveGangway(t)
	table := newCodeTable(s)
	if !strings.HasPrefix(table.Sizes[0], "25 × 25 modules of ") || !strings.Contains(table.Sizes[0], "version 2-M") {
		t.Errorf("%q", table.Sizes[0])
	}
	for i, code := range s.Codes {
		for _, r := range table.Readers {
			cell := r.Cells[i]
			if (len(cell.Figures) > 0) != (code.Name != "bars") {
				t.Errorf("%s at %s: %v", code.Name, r.Name, cell.Figures)
			}
		}
	}
	if f := table.Readers[0].Cells[0].Figures[0]; f != (figureRow{"it decodes", "4"}) {
		t.Errorf("%+v", f)
	}
	page, err := HTML(input(t, coarse, s))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"ISO/IEC 15415:2011, predicted:", "<b>4</b> symbol contrast"} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the report does not say %q", want)
		}
	}
}
